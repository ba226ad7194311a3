import { counted, countText } from "../model/number-words.ts";
import { Role } from "../model/pass-log.ts";
import type { RoundMeasure } from "./measure.ts";
import { collectPresentations } from "./presentations.ts";
import { percent } from "./scales.ts";
import { worstPass } from "./worst-pass.ts";

/**
 * Reads of tags placed where they must not be read (a neighbouring lane, say). n counts bystander presentations: the
 * rows of an itemised log, or of a manifest, whose `presented` says no.
 */
export const bystanderReadRate: RoundMeasure = {
  id: "bystander-read-rate",
  title: "Bystanders read",
  unit: { one: "bystander presentation", many: "bystander presentations" },
  scale: percent,
  usualSense: "at-most",
  criterion: worstPass,
  log: { roles: [Role.notPresented] },
  collect: (selection, criterion) => collectPresentations(selection, Role.notPresented, criterion),
  words: {
    count: (k, n) => `${countText(k)} of ${counted(n, "bystander", "bystanders")} read`,
    fault: "a read",
    nothing: "No bystander was placed.",
  },
  everyRound: {
    key: "bystanderReadRate",
    id: "bystanders",
    title: "Bystanders read",
    faultless: "In the last round walked, no bystander was read.",
    nothing: "no bystander placed",
    never: "No bystander was placed in any round.",
  },
  plan: {
    trials: "tags",
    countsPresented: false,
    expected: ({ readRate }) => 1 - readRate,
    phrase: (rate) => `${rate} of the bystanders are read`,
  },
  method: { counts: "bystanders that were read, although they must not be", of: "bystander presentations" },
};
