import type { PassesForChance } from "../../model/plan.ts";
import { faultLayouts } from "./fault-layouts.ts";
import { fewestPasses, mostPasses } from "./fewest-passes.ts";
import { layoutVerdicts } from "./layout-verdicts.ts";
import type { PlannedWalk } from "./planned-walk.ts";
import { laidOutTo, metChance, onePassChances } from "./state-chances.ts";

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
    const layouts = faultLayouts(onePassChances(walk, faultRate), least, laidOutTo);
    let verdicts = layoutVerdicts(walk, least);
    while (found.length < asked.length && layouts.passes <= mostPasses) {
      // Judging every layout is worth it only where the kindest ones are likely enough.
      if (layouts.chanceUpTo(verdicts.metEnds - 1) >= asked[found.length]!) {
        const { met, layouts: kind } = metChance(verdicts, layouts);
        while (found.length < asked.length && met >= asked[found.length]!)
          found.push({ chance: asked[found.length]!, passes: layouts.passes, reached: met, layouts: kind });
      }
      layouts.addPass();
      verdicts = layoutVerdicts(walk, layouts.passes, verdicts);
    }
  }
  const rest = asked.slice(found.length);
  return [...found, ...rest.map((chance) => ({ chance, passes: null, reached: null, layouts: null }))];
}
