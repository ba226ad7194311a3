import { counted, countText } from "../model/number-words.ts";
import { Role } from "../model/pass-log.ts";
import { betaBinomialPmf } from "../statistics/beta-binomial.ts";
import { tallyPasses } from "./evidence/pass-tallies.ts";
import { passesEvidence } from "./evidence/rates.ts";
import type { RoundMeasure } from "./measure.ts";
import { differentTags } from "./presentations.ts";
import { percent } from "./scales.ts";

/** Passes in which every presented tag was read. A pass that presented nothing is not among them. */
export const completePassRate: RoundMeasure = {
  id: "complete-pass-rate",
  title: "Complete passes",
  unit: { one: "pass", many: "passes" },
  scale: percent,
  usualSense: "at-least",
  log: { roles: [Role.presented] },
  collect: (selection) => {
    const passes = tallyPasses(selection).filter((tally) => tally.presented > 0);
    const complete = new Map(passes.map(({ pass, read, presented }) => [pass, read === presented]));
    return passesEvidence(complete, { tags: () => differentTags(selection, (pass) => complete.has(pass)) });
  },
  words: {
    count: (k, n) => `${countText(k)} of ${counted(n, "pass", "passes")} complete`,
    fault: "a miss",
    nothing: "No pass presented a tag.",
  },
  everyRound: {
    key: "completePassRate",
    id: "complete-passes",
    title: "Complete passes",
    faultless: "In the last round walked, every pass was complete at every read point.",
    nothing: "no tag presented",
    never: "No pass presented a tag in any round.",
  },
  plan: {
    trials: "passes",
    countsPresented: true,
    // A pass is complete where none of its tags is missed, so it also matters how alike their misses are. Example:
    // 40 tags a pass, 0.998 read, correlation 0.02: 94.3 % of the passes.
    expected: ({ readRate, tags, missCorrelation }) =>
      betaBinomialPmf(tags, 1 - readRate, missCorrelation)[0]!,
    phrase: (rate) => `${rate} of the passes are complete`,
  },
  method: { counts: "passes in which every presented tag was read", of: "passes that presented a tag" },
};
