import type { StateChances } from "../../model/plan.ts";
import { betaBinomialPmf } from "../../statistics/beta-binomial.ts";
import { type FaultLayouts, type FaultRow, faultLayouts } from "./fault-layouts.ts";
import { type LayoutVerdicts, layoutVerdicts } from "./layout-verdicts.ts";
import type { PlannedWalk } from "./planned-walk.ts";

/** Totals of faults less likely than this are not judged: together they come to less than a millionth. */
const unlikely = 1e-10;

/**
 * Walks with more faults than this are not laid out in full. Against layouts in full, for 40 tags a pass, 0.99 asked, that
 * moves the chance of met by at most 0.003 (120 passes at 0.995) and that of a wrong sign-off by at most 0.0003.
 */
export const laidOutTo = 24;

/**
 * How likely a walk of `passes` passes is to end in met, in undecided and in not met, if the long-run share of faults is
 * `faultRate` (0..1) and faults of one pass are correlated as the walk's basis assumes.
 *
 * Every way in which the faults may lie is judged by the rule that judges a walked log and weighed with its chance. Fewer
 * passes than the criterion's minimum: undecided is certain, for nothing can be said. `verdicts` of the same walk and
 * passes may be shared between rates.
 * Example: 59 passes of one tag, at least 0.95, exact, 90 % two-sided, one fault in a hundred: met with 0.99^59 = 0.5527.
 */
export function stateChances(
  walk: PlannedWalk,
  passes: number,
  faultRate: number,
  verdicts = layoutVerdicts(walk, passes),
  laidOut = laidOutTo,
): StateChances {
  return chancesOf(verdicts, faultLayouts(onePassChances(walk, faultRate), passes, laidOut));
}

/** The chance of each number of faults in one pass. */
export function onePassChances({ trialsPerPass, unit, basis }: PlannedWalk, faultRate: number): Float64Array {
  return betaBinomialPmf(trialsPerPass, faultRate, unit === "passes" ? 0 : basis.missCorrelation);
}

/** Judges every layout and sums up the chances of each state. */
function chancesOf(verdicts: LayoutVerdicts, layouts: FaultLayouts): StateChances {
  const sums = { met: 0, "not-met": 0, undecided: 0, untested: 0 };
  let exact = true;
  for (const row of layouts.rows()) {
    if (row.chance < unlikely) continue;
    const { share, hangs } = heldShare(row, verdicts);
    if (hangs && !row.laidOut) exact = false;
    sums[verdicts.kindest(row.faults)] += share;
  }
  const { met, "not-met": notMet } = sums;
  return {
    met,
    undecided: Math.max(0, 1 - met - notMet),
    notMet,
    layouts: exact ? "exact" : "approximate",
  };
}

/** The chance of met alone. */
export function metChance(
  verdicts: LayoutVerdicts,
  layouts: FaultLayouts,
): Pick<StateChances, "met" | "layouts"> {
  let met = 0;
  let exact = true;
  for (const row of layouts.rows()) {
    if (row.faults >= verdicts.metEnds) break;
    if (row.chance < unlikely) continue;
    const { share, hangs } = heldShare(row, verdicts);
    if (hangs && !row.laidOut) exact = false;
    met += share;
  }
  return { met, layouts: exact ? "exact" : "approximate" };
}

/** The chance of the layouts that keep the kindest verdict, and whether that hangs on how the pairs are spread. */
function heldShare(row: FaultRow, verdicts: LayoutVerdicts): { share: number; hangs: boolean } {
  const turn = verdicts.turn(row.faults, row.fewestPairs, row.mostPairs);
  if (turn > row.mostPairs) return { share: row.chance, hangs: false };
  if (turn <= row.fewestPairs) return { share: 0, hangs: false };
  return { share: row.chanceBelow(turn), hangs: true };
}
