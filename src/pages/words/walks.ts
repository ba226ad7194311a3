import type { Condition } from "../../model/facility.ts";
import { counted, countedInWords, countText, countWord, sentenceStart } from "../../model/number-words.ts";
import type { CellOfPlan, CellState, PlanCell } from "../../model/result/plan.ts";
import { columnLabel, valueText } from "./labels.ts";

/** How far a planned combination has come, worst first. */
export const cellStates: CellState[] = ["out-of-reach", "missing", "short", "done", "not-asked"];

/** `missing`, `not required`. */
export function cellWord(state: CellState): string {
  return state === "not-asked" ? "not required" : state.replaceAll("-", " ");
}

/** `Speed 1 m/s, Load full`; `all passes alike` where the plan varies nothing. */
export function cellText(cell: PlanCell, conditions: Condition[]): string {
  const parts = Object.entries(cell).map(([column, value]) => {
    const condition = conditions.find((entry) => entry.column === column);
    return `${columnLabel(column, conditions)} ${valueText(value, condition)}`;
  });
  return parts.length === 0 ? "all passes alike" : parts.join(", ");
}

/** Whether any passes are planned: not if nothing counts, or if no number of passes is enough. */
export function anyPlanned(cells: CellOfPlan[]): boolean {
  return cells.some(({ state }) => state !== "not-asked" && state !== "out-of-reach");
}

/** `72 passes are planned at two read points.`; empty where none is. */
export function plannedSentence(routes: { cells: CellOfPlan[] }[]): string {
  const walked = routes.filter(({ cells }) => anyPlanned(cells));
  const passes = plannedPasses(walked.flatMap(({ cells }) => cells));
  if (passes === 0) return "";
  const at = countedInWords(walked.length, "read point", "read points");
  return `${counted(passes, "pass is", "passes are")} planned at ${at}.`;
}

/** Planned against done: `29 of 36 planned passes are walked; two of four combinations need more.` */
export function walkedSentence(cells: CellOfPlan[]): string {
  const required = cells.filter(({ state }) => state !== "not-asked");
  if (required.length === 0) return "No planned pass counts for a criterion.";
  const count = (...states: CellState[]) => required.filter(({ state }) => states.includes(state)).length;
  const beyond = count("out-of-reach");
  if (beyond === required.length)
    return "No number of passes is likely to turn all findings into “met”, so no walk is planned.";
  const planned = plannedPasses(required);
  const open = count("missing", "short");
  const rest =
    beyond === 0
      ? ""
      : ` For ${countedInWords(beyond, "combination", "combinations")} no number of passes is likely to be enough.`;
  if (open === 0) return `All ${counted(planned, "planned pass is", "planned passes are")} walked.${rest}`;
  if (walkedPasses(required) === 0)
    return `None of the ${counted(planned, "planned pass", "planned passes")} is walked.${rest}`;
  const walked = `${countText(walkedPasses(required))} of ${counted(planned, "planned pass", "planned passes")} are walked`;
  const where =
    required.length === 1
      ? "the combination needs more"
      : `${countWord(open)} of ${countWord(required.length)} combinations ${open === 1 ? "needs" : "need"} more`;
  return `${walked}; ${where}.${rest}`;
}

/** `So far 39 of 56 passes are walked.`; empty where none is, or where nothing is planned. */
export function soFarSentence(cells: CellOfPlan[]): string {
  const walked = walkedPasses(cells);
  return walked === 0
    ? ""
    : `So far ${countText(walked)} of ${counted(plannedPasses(cells), "pass", "passes")} are walked.`;
}

/** Planned passes that were walked; extra passes of one combination do not make up for another. */
export function walkedPasses(cells: CellOfPlan[]): number {
  return cells.reduce((sum, { done, planned }) => sum + Math.min(done, planned ?? 0), 0);
}

export function plannedPasses(cells: CellOfPlan[]): number {
  return cells.reduce((sum, { planned }) => sum + (planned ?? 0), 0);
}

/** Combinations that are still to be walked, worst first. */
export function openCells(cells: CellOfPlan[]): CellOfPlan[] {
  return cells
    .filter(({ state }) => state === "missing" || state === "short" || state === "out-of-reach")
    .toSorted((a, b) => cellStates.indexOf(a.state) - cellStates.indexOf(b.state));
}

const mostNamed = 4;

/** What is still to be walked, by name: `Missing: Speed 2 m/s, Load half. Short: ...`; empty if nothing is, or if all are alike. */
export function openSentence(cells: CellOfPlan[], conditions: Condition[]): string {
  const required = cells.filter(({ state }) => state !== "not-asked");
  // If all are in the same state, the sentence before says so.
  if (new Set(required.map(({ state }) => state)).size === 1) return "";
  return cellStates
    .flatMap((state) => {
      const open = openCells(cells).filter((cell) => cell.state === state);
      if (open.length === 0) return [];
      const named = open.slice(0, mostNamed).map((cell) => cellText(cell.conditions, conditions));
      const more = open.length - named.length;
      const rest = more > 0 ? `; and ${countWord(more)} more` : "";
      return [`${sentenceStart(cellWord(state))}: ${named.join("; ")}${rest}.`];
    })
    .join(" ");
}

/** Why what would settle a finding and what is planned are different numbers of passes. */
export const settlingAndPlan =
  "The passes that would settle a finding are the least that could do, without a further fault. The passes planned cover all combinations, and leave a good chance of \u201cmet\u201d though faults come up.";
