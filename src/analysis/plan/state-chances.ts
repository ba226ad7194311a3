import type { State } from "../result.ts";
import { approximateLayouts, exactLayouts, type FaultLayouts, type FaultRow } from "./fault-layouts.ts";
import { missChances } from "./miss-chances.ts";
import { type PlannedWalk, plannedState } from "./planned-walk.ts";

/** Totals of faults less likely than this are not judged: together they come to less than a millionth. */
const unlikely = 1e-10;

/** How a walk may end; the three sum to 1. */
export interface StateChances {
  met: number;
  undecided: number;
  notMet: number;
  /** Whether every layout of the faults was counted, or the pairs among them taken to follow the bell curve. */
  layouts: "exact" | "approximate";
}

/** Laying out a walk in full is given up past so many multiplications: about a second. */
export const mostWork = 2e8;

/**
 * How likely a walk of `passes` passes is to end in met, in undecided and in not met, if the long-run share of faults is
 * `faultRate` (0..1) and faults of one pass are correlated as the walk's basis assumes.
 *
 * Every way in which the faults may lie is judged by the rule that judges a walked log and weighed with its chance. Fewer
 * passes than the criterion's minimum: undecided is certain, for nothing can be said. Past `work` multiplications the
 * layouts are approximated: at 355 passes of 40 tags, 0.993 against 0.99, that moves the chance of met by 0.0005.
 * Example: 59 passes of one tag, at least 0.95, exact, 90 % two-sided, one fault in a hundred: met with 0.99^59 = 0.5527.
 */
export function stateChances(
  walk: PlannedWalk,
  passes: number,
  faultRate: number,
  work = mostWork,
): StateChances {
  const onePass = onePassChances(walk, faultRate);
  let kind: StateChances["layouts"] = "exact";
  let layouts = exactLayouts(onePass);
  while (layouts.passes < passes) {
    layouts.addPass();
    if (kind === "exact" && layouts.work > work) {
      kind = "approximate";
      layouts = approximateLayouts(onePass, passes);
    }
  }
  return { ...chancesOf(walk, layouts), layouts: kind };
}

/** The chance of each number of faults in one pass. */
export function onePassChances({ trialsPerPass, unit, basis }: PlannedWalk, faultRate: number): Float64Array {
  return missChances(trialsPerPass, faultRate, unit === "passes" ? 0 : basis.missCorrelation);
}

/** Judges every layout and sums up the chances of each state. */
export function chancesOf(walk: PlannedWalk, layouts: FaultLayouts): Omit<StateChances, "layouts"> {
  let met = 0;
  let notMet = 0;
  for (const row of layouts.rows()) {
    if (sum(row.chances, 0, row.chances.length) < unlikely) continue;
    const chances = rowChances(walk, layouts.passes, row);
    met += chances.met;
    notMet += chances["not-met"];
  }
  return { met, undecided: Math.max(0, 1 - met - notMet), notMet };
}

/**
 * Faults that pile up in few passes say less than the same number spread out: along a row a verdict can only turn into
 * undecided. So one halving finds where it does.
 */
function rowChances(walk: PlannedWalk, passes: number, row: FaultRow): Record<State, number> {
  const sums = { met: 0, "not-met": 0, undecided: 0, untested: 0 };
  const stateAt = (i: number) => plannedState(walk, passes, row.faults, row.fromPairs + i);
  const first = stateAt(0);
  const last = row.chances.length - 1;
  let turn = row.chances.length;
  if (last > 0 && stateAt(last) !== first) {
    let low = 0;
    turn = last;
    while (turn - low > 1) {
      const middle = Math.floor((low + turn) / 2);
      if (stateAt(middle) === first) low = middle;
      else turn = middle;
    }
    sums[stateAt(last)] += sum(row.chances, turn, row.chances.length);
  }
  sums[first] += sum(row.chances, 0, turn);
  return sums;
}

function sum(chances: Float64Array, from: number, to: number): number {
  let total = 0;
  for (let i = from; i < to; i += 1) total += chances[i]!;
  return total;
}
