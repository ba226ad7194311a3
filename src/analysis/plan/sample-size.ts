import type { PassesForChance } from "../../model/result/plan.ts";
import { firstThatHolds } from "../../statistics/numerics/first.ts";
import { AcceptanceRegion } from "./acceptance-region.ts";
import { FaultDistribution } from "./fault-distribution.ts";
import { metChance } from "./operating-characteristic.ts";
import { faultsOfOnePass, fewestPairs, type PlannedWalk, plannedState } from "./planned-walk.ts";

/** Nobody walks more; past this a plan is called out of reach. */
export const mostPasses = 10_000;

/**
 * The fewest passes that can end in met with so many faults in all; null where no number up to 10 000 can.
 *
 * The faults (0 or more) are spread over the passes as evenly as they can be, which favours met most; more passes are
 * never less convincing.
 * Example: one tag a pass, at least 0.95, exact, 90 % two-sided: 59 without a miss, 93 with one.
 */
export function fewestPasses(walk: PlannedWalk, faults: number): number | null {
  const canEndInMet = (passes: number) =>
    passes * walk.trialsPerPass >= faults &&
    plannedState(walk, { passes, faults, pairs: fewestPairs(passes, faults) }) === "met";
  return firstThatHolds(canEndInMet, { from: 1, most: mostPasses });
}

/**
 * For each of the chances asked (0..1, rising), the smallest number of passes that ends in met so often, if the long-run
 * share of faults is `faultRate` (0..1).
 *
 * The chance does not rise steadily: it falls a little with every pass until one more fault may be had, then jumps.
 * The smallest number that reaches it is the one given, so a somewhat larger number may fall just short of it again.
 * Where the expected rate is no better than the limit no number helps; up to 10 000 passes are looked at.
 * Example: one tag a pass, at least 0.95, exact, 90 % two-sided, one fault in a hundred: 93 passes for 0.75 (0.7616),
 * 124 for 0.85 (0.8716).
 */
export function passesForChance(walk: PlannedWalk, faultRate: number, asked: number[]): PassesForChance[] {
  const found: PassesForChance[] = [];
  const hopeless = walk.sense === "at-least" ? 1 - faultRate <= walk.limit : faultRate >= walk.limit;
  const least = hopeless ? null : fewestPasses(walk, 0);
  if (least !== null) {
    const distribution = new FaultDistribution(faultsOfOnePass(walk, faultRate), least);
    let region = new AcceptanceRegion(walk, least);
    while (found.length < asked.length && distribution.passes <= mostPasses) {
      // Judging every outcome is worth it only where those that can end in met are likely enough.
      if (distribution.chanceUpTo(region.rejectionNumber - 1) >= asked[found.length]!) {
        const { met: reached, layouts } = metChance(distribution, region);
        while (found.length < asked.length && reached >= asked[found.length]!)
          found.push({ chance: asked[found.length]!, passes: distribution.passes, reached, layouts });
      }
      distribution.addPass();
      region = new AcceptanceRegion(walk, distribution.passes, region);
    }
  }
  const rest = asked.slice(found.length);
  return [...found, ...rest.map((chance) => ({ chance, passes: null, reached: null, layouts: null }))];
}
