import { counted, nonEmpty } from "../../model/number-words.ts";
import { stableBy } from "../../model/order.ts";
import type { Finding } from "../../model/result/finding.ts";
import type { ReadPointResult } from "../../model/result/read-point.ts";
import { byState } from "../../model/state.ts";
import { worstFirst } from "../parts/finding-figures.ts";
import type { Names } from "../parts/names.ts";
import { type StateMark, shownConcession, stateMark } from "../parts/state-mark.ts";
import { printedFigures, settleNote, shortCount, shortLimit } from "../words/findings.ts";
import { stricterNote } from "../words/promises.ts";
import type { SheetScope } from "./scope.ts";

/** A finding as one row of the sheet. */
export interface SheetLine {
  letter: string;
  readPoint: string;
  mark: StateMark;
  criterion: string;
  group: string;
  /** Whether it is conceded, what was counted, and what would settle it. */
  notes: string;
  count: string;
  lower: string;
  value: string;
  upper: string;
  limit: string;
  /** Whether anything was counted: else the figures are words. */
  hasFigure: boolean;
}

/** Findings by one criterion, which several of them have as their common heading. */
export interface SheetGroup {
  /** Empty where a single line says it itself. */
  heading: string;
  lines: SheetLine[];
}

export interface SheetFindings {
  /** The worst finding of every read point, and the other open ones; read points worst first, each by criterion. */
  main: SheetGroup[];
  /** All other findings, by criterion. */
  schedule: SheetGroup[];
}

/** As many rows as leave a usual facility on two pages; further open findings begin the schedule. */
const mostMain = 12;

export function sheetFindings(scope: SheetScope): SheetFindings {
  const { result, names, letterOf } = scope;
  const own = result.readPoints
    .map((readPoint) => {
      const findings = worstFirst(result.findings.filter((finding) => finding.readPoint === readPoint.id));
      return { readPoint, worst: findings[0] ?? null, others: findings.slice(1) };
    })
    .sort(stableBy((a, b) => byState(a.readPoint.state, b.readPoint.state)));
  const open = worstFirst(own.flatMap(({ others }) => others).filter(({ state }) => state !== "met"));
  const raised = new Set(open.slice(0, Math.max(0, mostMain - own.length)));
  return {
    main: own.flatMap(({ readPoint, worst, others }) => {
      if (worst === null) return [{ heading: "", lines: [unjudged(readPoint, letterOf(readPoint.id))] }];
      const shown = [worst, ...others.filter((finding) => raised.has(finding))];
      return [...new Set(shown.map(({ criterion }) => criterion))].map((criterion) => {
        const findings = shown.filter((finding) => finding.criterion === criterion);
        return {
          heading: findings.length === 1 ? "" : `${readPoint.name}: ${names.criterion(criterion)}`,
          lines: findings.map((finding) => sheetLine(scope, finding, countNote(finding))),
        };
      });
    }),
    schedule: result.criteria.flatMap(({ id, title }) => {
      const rest = own.flatMap(({ others }) =>
        others.filter((finding) => finding.criterion === id && !raised.has(finding)),
      );
      if (rest.length === 0) return [];
      return [
        {
          heading: rest.length === 1 ? "" : title,
          lines: rest.map((finding) => sheetLine(scope, finding, "")),
        },
      ];
    }),
  };
}

/** What names the parts of a finding on a sheet. */
interface LineNames {
  names: Pick<Names, "readPoint" | "criterion" | "group">;
  letterOf(readPoint: string): string;
}

export function sheetLine({ names, letterOf }: LineNames, finding: Finding, counts: string): SheetLine {
  const { lower, value, upper } = printedFigures(finding, finding.estimate);
  return {
    letter: letterOf(finding.readPoint),
    readPoint: names.readPoint(finding.readPoint),
    mark: { ...stateMark(finding.state, shownConcession(finding)), note: "" },
    criterion: names.criterion(finding.criterion),
    group: names.group(finding.group),
    notes: nonEmpty([concessionNote(finding), counts, settleNote(finding), stricterNote(finding)]).join("; "),
    count: shortCount(finding),
    lower,
    value,
    upper,
    limit: shortLimit(finding),
    hasFigure: finding.estimate.n > 0,
  };
}

/** `35 passes, 100 tags`. */
function countNote({ passes, tags }: Finding): string {
  return nonEmpty([
    passes === 0 ? "" : counted(passes, "pass", "passes"),
    tags === null ? "" : counted(tags, "tag", "tags"),
  ]).join(", ");
}

/** The sheet lists concessions in full, so that beside a finding one word is enough. */
function concessionNote(finding: Finding): string {
  const concession = shownConcession(finding);
  if (concession === null) return "";
  return concession.expired ? "concession expired" : "conceded";
}

function unjudged({ name }: ReadPointResult, letter: string): SheetLine {
  return {
    letter,
    readPoint: name,
    mark: stateMark("untested"),
    criterion: "No criterion covers this read point",
    group: "",
    notes: "",
    count: "none",
    lower: "none",
    value: "none",
    upper: "none",
    limit: "none",
    hasFigure: false,
  };
}
