import type { RiskCurve, RiskPoint, StateChances } from "../../model/result/plan.ts";
import { AcceptanceRegion } from "./acceptance-region.ts";
import { FaultDistribution, type FaultRow, mostExactFaults } from "./fault-distribution.ts";
import { faultsOfOnePass, type PlannedWalk } from "./planned-walk.ts";

/** Totals of faults less likely than this are not judged: together they come to less than a millionth. */
const unlikely = 1e-10;

interface AtRate {
  /** The long-run share of faults, 0..1. */
  faultRate: number;
  /** Of the same walk and passes; may be shared between rates. */
  region?: AcceptanceRegion;
  /** Of `FaultDistribution`; its own where left out. */
  exactUpTo?: number;
}

/**
 * How likely a walk of `passes` passes is to end in met, in undecided and in not met, if faults of one
 * pass are correlated as the walk's basis assumes.
 *
 * Every way in which the faults may lie is judged by the rule that judges a walked log and weighed with its chance. Fewer
 * passes than the criterion's minimum: undecided is certain, for nothing can be said.
 * Example: 59 passes of one tag, at least 0.95, exact, 90 % two-sided, one fault in a hundred: met with 0.99^59 = 0.5527.
 */
export function stateChances(
  walk: PlannedWalk,
  passes: number,
  { faultRate, region = new AcceptanceRegion(walk, passes), exactUpTo = mostExactFaults }: AtRate,
): StateChances {
  // How the faults of an undecided total lie is not asked.
  const exact = region.mostDecided(exactUpTo);
  const distribution = new FaultDistribution(faultsOfOnePass(walk, faultRate), passes, exact);
  const { met, notMet, layouts } = judged(distribution.rows(), region);
  return { met, undecided: Math.max(0, 1 - met - notMet), notMet, layouts };
}

/** The chance of met alone. */
export function metChance(
  distribution: FaultDistribution,
  region: AcceptanceRegion,
): Pick<StateChances, "met" | "layouts"> {
  const { met, layouts } = judged(distribution.rows(region.rejectionNumber), region);
  return { met, layouts };
}

/** The chances of the outcomes that lie in the acceptance region, and in the one of not met. */
function judged(rows: Iterable<FaultRow>, region: AcceptanceRegion): Omit<StateChances, "undecided"> {
  const sums = { met: 0, "not-met": 0 };
  let layouts: StateChances["layouts"] = "exact";
  for (const row of rows) {
    const state = region.stateIfSpread(row.faults);
    if (row.chance < unlikely || state === "undecided") continue;
    const critical = region.criticalPairs(row.faults, { from: row.fewestPairs, to: row.mostPairs });
    if (critical > row.mostPairs) sums[state] += row.chance;
    else if (critical > row.fewestPairs) {
      sums[state] += row.chanceBelow(critical);
      if (!row.isExact) layouts = "approximate";
    }
  }
  return { met: sums.met, notMet: sums["not-met"], layouts };
}

/** Faults at these multiples of what the limit allows: close together where the states change over. */
const multiples = [
  0, 0.01, 0.02, 0.035, 0.05, 0.1, 0.15, 0.2, 0.25, 0.3, 0.35, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1, 1.15, 1.3,
  1.5, 1.75, 2, 2.5, 3, 3.5, 4, 5, 6,
];

/** A point that is only drawn need not be exact to the last digit. */
const drawnExactUpTo = 6;

/** Read points worse than one that is refused so surely have nothing more to show. */
const allButCertain = 0.9999;

/**
 * The operating characteristic of a walk of `passes` passes: the chance of each state against the true rate, from faultless
 * to where not met is all but certain (at most to six times the faults that the limit allows, or half-way beyond the
 * limit). Where the share of faults is known that is expected of the read point, the curve has a point there, as exact as the
 * one at the limit.
 *
 * The consumer's risk (`wrongSignOff`) is the chance of met at the limit itself: of a read point that is only just not good
 * enough. It is what the confidence promises to hold at (1 - confidence)/2 where trials are independent. The producer's
 * risk (`wrongRefusal`) is the chance of not met there.
 *
 * Source: NIST/SEMATECH e-Handbook 6.2.3.2.
 * Example: 59 passes of one tag, at least 0.95, exact, 90 % two-sided: at 0.95 met with 0.95^59 = 0.0485.
 */
export function operatingCharacteristic(
  walk: PlannedWalk,
  passes: number,
  expectedFaultRate: number | null = null,
): RiskCurve {
  const atLeast = walk.sense === "at-least";
  const allowed = atLeast ? 1 - walk.limit : walk.limit;
  const worst = allowed + (1 - allowed) / 2;
  const region = new AcceptanceRegion(walk, passes);
  const points: RiskPoint[] = [];
  for (const faultRate of faultRates(allowed, expectedFaultRate)) {
    if (faultRate > worst || (points.at(-1)?.notMet ?? 0) > allButCertain) break;
    const isTold = faultRate === allowed || faultRate === expectedFaultRate;
    points.push({
      rate: faultRate === allowed ? walk.limit : atLeast ? 1 - faultRate : faultRate,
      ...stateChances(walk, passes, {
        faultRate,
        region,
        exactUpTo: isTold ? mostExactFaults : drawnExactUpTo,
      }),
    });
  }
  const atLimit = points.find((point) => point.rate === walk.limit)!;
  return {
    passes,
    points: atLeast ? points.reverse() : points,
    wrongSignOff: { rate: walk.limit, chance: atLimit.met },
    wrongRefusal: { rate: walk.limit, chance: atLimit.notMet },
  };
}

/** Rising; the expected one takes the place of one that is the same but for the last digits. */
function faultRates(allowed: number, expected: number | null): number[] {
  const drawn = multiples.map((multiple) => allowed * multiple);
  const isAlike = (rate: number) => expected !== null && Math.abs(rate - expected) <= allowed * 1e-6;
  if (expected === null || isAlike(allowed)) return drawn;
  const others = drawn.filter((rate) => !isAlike(rate));
  return [...others, expected].sort((a, b) => a - b);
}
