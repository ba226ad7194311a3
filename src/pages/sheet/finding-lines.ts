import { counted } from "../../model/number-words.ts";
import type { Finding, Result } from "../../model/result.ts";
import { byState } from "../../model/state.ts";
import { worstFirst } from "../finding-rows.ts";
import { planLetter } from "../paths.ts";
import { shownConcession } from "../shown-concession.ts";
import { type StateMark, stateMark } from "../state-mark.ts";
import { limitOf, printedFigures, settleNote, shortCount } from "../words/findings.ts";
import { groupText } from "../words/labels.ts";

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
  unit: string;
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
  /** Of every read point its worst finding, and every other that stands in the way; read points worst first. */
  main: SheetLine[];
  /** All other findings, by criterion. */
  schedule: ScheduleGroup[];
}

/** Rows enough to leave two pages for a usual facility; what stands in the way beyond them opens the schedule. */
const mostMain = 12;

export function sheetFindings(result: Result): SheetFindings {
  const order = result.readPoints
    .map((point, index) => ({ point, index }))
    .sort((a, b) => byState(a.point.state, b.point.state) || a.index - b.index);
  const worst: SheetLine[][] = [];
  const others: { finding: Finding; index: number }[] = [];
  for (const { point, index } of order) {
    const findings = worstFirst(result.findings.filter((finding) => finding.readPoint === point.id));
    const [first] = findings;
    worst.push(first ? [line(result, first, index)] : [unjudged(point.name, index)]);
    for (const finding of findings.slice(1)) others.push({ finding, index });
  }
  const room = Math.max(0, mostMain - worst.length);
  const open = worstFirst(others.map(({ finding }) => finding).filter((finding) => finding.state !== "met"));
  const raised = new Set(open.slice(0, room));
  const main = order.flatMap(({ index }, place) => [
    ...(worst[place] as SheetLine[]),
    ...others
      .filter((entry) => entry.index === index && raised.has(entry.finding))
      .map((entry) => line(result, entry.finding, index)),
  ]);
  const rest = others.filter((entry) => !raised.has(entry.finding));
  const schedule = result.criteria.flatMap((criterion) => {
    const lines = rest
      .filter((entry) => entry.finding.criterion === criterion.id)
      .map((entry) => line(result, entry.finding, entry.index));
    return lines.length === 0 ? [] : [{ criterion: criterion.title, lines }];
  });
  return { main, schedule };
}

function line(result: Result, finding: Finding, index: number): SheetLine {
  const { estimate } = finding;
  const figures = printedFigures(finding, estimate);
  const title = result.criteria.find((entry) => entry.id === finding.criterion)?.title ?? finding.criterion;
  return {
    letter: planLetter(index),
    readPoint: result.readPoints[index]?.name ?? finding.readPoint,
    mark: sheetMark(finding),
    criterion: title,
    group: groupText(finding.group, result.conditions),
    passes: finding.passes === 0 ? "" : counted(finding.passes, "pass", "passes"),
    count: shortCount(finding),
    lower: figures.lower,
    value: figures.value,
    upper: figures.upper,
    unit: figures.unit,
    limit: limitOf(finding),
    settle: settleNote(finding),
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

function unjudged(name: string, index: number): SheetLine {
  return {
    letter: planLetter(index),
    readPoint: name,
    mark: stateMark("untested"),
    criterion: "No criterion covers this read point",
    group: "",
    passes: "",
    count: "none",
    lower: "none",
    value: "none",
    upper: "none",
    unit: "",
    limit: "none",
    settle: "",
    hasFigure: false,
  };
}
