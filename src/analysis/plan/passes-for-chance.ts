import { approximateLayouts, exactLayouts, type FaultLayouts } from "./fault-layouts.ts";
import { mostPasses } from "./fewest-passes.ts";
import { fewestPairs, type PlannedWalk, plannedState } from "./planned-walk.ts";
import { chancesOf, mostWork, onePassChances, type StateChances } from "./state-chances.ts";

/** A number of passes, and how likely it is to end in met; null where no number up to the most is likely enough. */
export interface PassesForChance {
  chance: number;
  passes: number | null;
  /** What the chance of met is with just that many passes. */
  reached: number | null;
  layouts: StateChances["layouts"];
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
  const onePass = onePassChances(walk, faultRate);
  let kind: StateChances["layouts"] = "exact";
  let layouts = exactLayouts(onePass);
  let allowed = -1;
  const hopeless = walk.sense === "at-least" ? 1 - faultRate <= walk.limit : faultRate >= walk.limit;
  for (let passes = 1; passes <= mostPasses && !hopeless && found.length < asked.length; passes += 1) {
    layouts.addPass();
    if (kind === "exact" && layouts.work > mostWork) {
      kind = "approximate";
      layouts = approximateLayouts(onePass, passes);
    }
    allowed = mostFaults(walk, passes, allowed);
    // Judging every layout is worth it only where the kindest ones are likely enough.
    if (chanceOfAtMost(layouts, allowed) < asked[found.length]!) continue;
    const { met } = chancesOf(walk, layouts);
    while (found.length < asked.length && met >= asked[found.length]!) {
      found.push({ chance: asked[found.length]!, passes, reached: met, layouts: kind });
    }
  }
  const rest = asked.slice(found.length);
  return [...found, ...rest.map((chance) => ({ chance, passes: null, reached: null, layouts: kind }))];
}

/** The most faults that can still end in met, spread as evenly as they can be; -1 where not even none does. */
function mostFaults(walk: PlannedWalk, passes: number, start: number): number {
  const met = (faults: number) =>
    faults <= passes * walk.trialsPerPass &&
    plannedState(walk, passes, faults, fewestPairs(passes, faults)) === "met";
  let faults = start;
  while (faults >= 0 && !met(faults)) faults -= 1;
  while (met(faults + 1)) faults += 1;
  return faults;
}

function chanceOfAtMost(layouts: FaultLayouts, faults: number): number {
  let total = 0;
  for (const row of layouts.rows()) {
    if (row.faults > faults) break;
    for (const chance of row.chances) total += chance;
  }
  return total;
}
