import type { Measure } from "./evidence.ts";
import { tallyPasses } from "./pass-tallies.ts";

/**
 * Passes in which a tag that was not presented was read. Only passes whose log recorded strays enter: silence about
 * strays is not their absence.
 */
export const strayPassRate: Measure = {
  unit: "passes",
  gather: (selection) => {
    const all = tallyPasses(selection);
    const passes = all.filter((tally) => selection.log.passes[tally.pass]!.straysRecorded);
    const withStrays = passes.filter((tally) => tally.strays > 0);
    const silent = all.length - passes.length;
    return {
      kind: "passes",
      passes: passes.length,
      k: withStrays.length,
      n: passes.length,
      remarks: silent > 0 ? [{ code: "strays-not-recorded", passes: silent }] : [],
    };
  },
};
