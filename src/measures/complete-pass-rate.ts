import type { Measure } from "./evidence.ts";
import { tallyPasses } from "./pass-tallies.ts";

/** Passes in which every presented tag was read. A pass that presented nothing is not among them. */
export const completePassRate: Measure = {
  unit: "passes",
  gather: (selection) => {
    const passes = tallyPasses(selection).filter((tally) => tally.presented > 0);
    const complete = passes.filter((tally) => tally.read === tally.presented);
    return { kind: "passes", passes: passes.length, k: complete.length, n: passes.length, remarks: [] };
  },
};
