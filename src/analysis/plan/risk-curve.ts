import type { RiskCurve, RiskPoint } from "../../model/plan.ts";
import { layoutVerdicts } from "./layout-verdicts.ts";
import type { PlannedWalk } from "./planned-walk.ts";
import { laidOutTo, stateChances } from "./state-chances.ts";

/** Faults at these multiples of what the limit allows: close together where the states change over. */
const multiples = [
  0, 0.01, 0.02, 0.035, 0.05, 0.1, 0.15, 0.2, 0.25, 0.3, 0.35, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1, 1.15, 1.3,
  1.5, 1.75, 2, 2.5, 3, 3.5, 4, 5, 6,
];

/** Worse read points than one that is refused so surely have nothing more to show. */
const allButCertain = 0.9999;

/** A point that is only drawn need not be told to the last digit. */
const drawnLaidOutTo = 6;

/**
 * What a walk of `passes` passes risks: the chance of each state against the true rate, from faultless to where
 * not met is all but certain (at most to six times the faults that the limit allows, or half-way beyond the limit).
 *
 * Where the share of faults is known that is expected of the read point, the curve has a point there, as exact as the one
 * at the limit.
 *
 * The chance of a wrong sign-off is the one at the limit itself: a read point that is only just not good enough. It is
 * what the confidence promises to hold at (1 - confidence)/2 where trials are independent.
 * The classic name of the curve of met is operating characteristic (NIST/SEMATECH e-Handbook 6.2.3.2).
 * Example: 59 passes of one tag, at least 0.95, exact, 90 % two-sided: at 0.95 met with 0.95^59 = 0.0485.
 */
export function riskCurve(
  walk: PlannedWalk,
  passes: number,
  expectedFaultRate: number | null = null,
): RiskCurve {
  const atLeast = walk.sense === "at-least";
  const allowed = atLeast ? 1 - walk.limit : walk.limit;
  const worst = allowed + (1 - allowed) / 2;
  const verdicts = layoutVerdicts(walk, passes);
  const points: RiskPoint[] = [];
  for (const faultRate of faultRates(allowed, expectedFaultRate)) {
    if (faultRate > worst || (points.at(-1)?.notMet ?? 0) > allButCertain) break;
    const isTold = faultRate === allowed || faultRate === expectedFaultRate;
    const laidOut = isTold ? laidOutTo : drawnLaidOutTo;
    points.push({
      rate: faultRate === allowed ? walk.limit : atLeast ? 1 - faultRate : faultRate,
      ...stateChances(walk, passes, faultRate, verdicts, laidOut),
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
