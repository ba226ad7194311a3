import { fewestPairs, type PlannedWalk, plannedState } from "./planned-walk.ts";

/** Nobody walks more; past this a plan is called out of reach. */
export const mostPasses = 10_000;

/**
 * The fewest passes that can end in met with so many faults in all; null where no number up to 10 000 can.
 *
 * The faults (0 or more) are spread over the passes as evenly as they can be, which is the kindest way; more passes are
 * never less convincing, so halving finds the number.
 * Example: one tag a pass, at least 0.95, exact, 90 % two-sided: 59 without a miss, 93 with one.
 */
export function fewestPasses(walk: PlannedWalk, faults: number): number | null {
  const enough = (passes: number) =>
    passes * walk.trialsPerPass >= faults &&
    plannedState(walk, passes, faults, fewestPairs(passes, faults)) === "met";
  if (!enough(mostPasses)) return null;
  let low = 0;
  let high = mostPasses;
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (enough(middle)) high = middle;
    else low = middle;
  }
  return high;
}
