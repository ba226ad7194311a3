import { counted, countText } from "../model/number-words.ts";
import { Role } from "../model/pass-log.ts";
import type { RoundMeasure } from "./measure.ts";
import { collectPresentations } from "./presentations.ts";
import { percent } from "./scales.ts";
import { worstPass } from "./worst-pass.ts";

/** Tags read of tags presented. n counts presentations: one tag in one pass. */
export const tagReadRate: RoundMeasure = {
  id: "tag-read-rate",
  title: "Tag read rate",
  unit: { one: "presentation", many: "presentations" },
  scale: percent,
  usualSense: "at-least",
  criterion: worstPass,
  log: { roles: [Role.presented] },
  collect: (selection, criterion) => collectPresentations(selection, Role.presented, criterion),
  words: {
    count: (k, n) => `${countText(k)} of ${counted(n, "tag", "tags")} read`,
    fault: "a miss",
    nothing: "No tag was presented.",
  },
  everyRound: {
    key: "tagReadRate",
    id: "tags-read",
    title: "Tags read",
    faultless: "In the last round walked, no tag was missed at any read point.",
    nothing: "no tag presented",
    never: "No tag was presented in any round.",
    isAlwaysListed: true,
  },
  plan: {
    trials: "tags",
    countsPresented: true,
    expected: ({ readRate }) => readRate,
    phrase: (rate) => `${rate} of the tags are read`,
  },
  proposal: {
    title: "every read point reads at least 99 % of the tags presented",
    limit: 0.99,
    minimumPasses: 20,
  },
  method: {
    counts: "tags that were read",
    of: "tags presented, each once for every pass it was presented in",
  },
};
