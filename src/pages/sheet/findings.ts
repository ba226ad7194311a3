import { counted } from "../../model/number-words.ts";
import { stableBy } from "../../model/order.ts";
import type { Finding, ReadPointResult } from "../../model/result.ts";
import { byState } from "../../model/state.ts";
import { worstFirst } from "../parts/finding-figures.ts";
import type { FacilityContext } from "../parts/page.ts";
import { planLetter } from "../parts/paths.ts";
import { type StateMark, shownConcession, stateMark } from "../parts/state-mark.ts";
import { limitOf, printedFigures, settleNote, shortCount } from "../words/findings.ts";
import { stricterNote } from "../words/promises.ts";

/** A finding as one row of the sheet. */
interface SheetLine {
  letter: string;
  readPoint: string;
  mark: StateMark;
  criterion: string;
  group: string;
  passes: string;
  count: string;
  lower: string;
  value: string;
  upper: string;
  limit: string;
  settle: string;
  /** Whether anything was counted: else the figures are words. */
  hasFigure: boolean;
}

/** What the schedule says of one criterion: its title once, then a line for each read point and group. */
interface ScheduleGroup {
  criterion: string;
  lines: SheetLine[];
}

export interface SheetFindings {
  /** The worst finding of every read point, and the other open ones; read points worst first. */
  main: SheetLine[];
  /** All other findings, by criterion. */
  schedule: ScheduleGroup[];
}

/** As many rows as leave a usual facility on two pages; further open findings begin the schedule. */
const mostMain = 12;

export function sheetFindings(facility: FacilityContext): SheetFindings {
  const { result } = facility;
  const own = result.readPoints
    .map((readPoint, index) => {
      const findings = worstFirst(result.findings.filter((finding) => finding.readPoint === readPoint.id));
      return { readPoint, letter: planLetter(index), worst: findings[0] ?? null, others: findings.slice(1) };
    })
    .sort(stableBy((a, b) => byState(a.readPoint.state, b.readPoint.state)));
  const open = worstFirst(own.flatMap(({ others }) => others).filter(({ state }) => state !== "met"));
  const raised = new Set(open.slice(0, Math.max(0, mostMain - own.length)));
  return {
    main: own.flatMap(({ readPoint, letter, worst, others }) => [
      worst === null ? unjudged(readPoint, letter) : line(facility, worst, letter),
      ...others.filter((finding) => raised.has(finding)).map((finding) => line(facility, finding, letter)),
    ]),
    schedule: result.criteria.flatMap(({ id, title }) => {
      const lines = own.flatMap(({ letter, others }) =>
        others
          .filter((finding) => finding.criterion === id && !raised.has(finding))
          .map((finding) => line(facility, finding, letter)),
      );
      return lines.length === 0 ? [] : [{ criterion: title, lines }];
    }),
  };
}

function line({ names }: FacilityContext, finding: Finding, letter: string): SheetLine {
  const { passes, tags, estimate } = finding;
  const { lower, value, upper } = printedFigures(finding, estimate);
  return {
    letter,
    readPoint: names.readPoint(finding.readPoint),
    mark: sheetMark(finding),
    criterion: names.criterion(finding.criterion),
    group: names.group(finding.group),
    passes: [
      passes === 0 ? "" : counted(passes, "pass", "passes"),
      tags === null ? "" : counted(tags, "tag", "tags"),
    ]
      .filter((part) => part !== "")
      .join(", "),
    count: shortCount(finding),
    lower,
    value,
    upper,
    limit: limitOf(finding),
    settle: [settleNote(finding), stricterNote(finding)].filter((part) => part !== "").join("; "),
    hasFigure: estimate.n > 0,
  };
}

/** The sheet lists concessions in full, so that beside a finding one word is enough. */
function sheetMark(finding: Finding): StateMark {
  const concession = shownConcession(finding);
  const mark = stateMark(finding.state, concession);
  if (concession === null) return mark;
  return { ...mark, note: concession.expired ? "concession expired" : "conceded" };
}

function unjudged({ name }: ReadPointResult, letter: string): SheetLine {
  return {
    letter,
    readPoint: name,
    mark: stateMark("untested"),
    criterion: "No criterion covers this read point",
    group: "",
    passes: "",
    count: "none",
    lower: "none",
    value: "none",
    upper: "none",
    limit: "none",
    settle: "",
    hasFigure: false,
  };
}
