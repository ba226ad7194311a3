import { counted, countText } from "../model/number-words.ts";
import { Role } from "../model/pass-log.ts";
import { tallyPasses } from "./evidence/pass-tallies.ts";
import { passesEvidence } from "./evidence/rates.ts";
import type { RoundMeasure } from "./measure.ts";
import { differentTags } from "./presentations.ts";
import { percent } from "./scales.ts";

/**
 * Passes in which a tag that was not presented was read. Only passes whose log recorded strays enter: a log that does
 * not mention strays does not rule them out.
 */
export const strayPassRate: RoundMeasure = {
  id: "stray-pass-rate",
  title: "Passes with a stray",
  unit: { one: "pass", many: "passes" },
  scale: percent,
  usualSense: "at-most",
  log: { roles: [Role.presented, Role.nothing], enters: ({ straysRecorded }) => straysRecorded },
  collect: (selection) => {
    const all = tallyPasses(selection);
    const passes = all.filter((tally) => selection.log.passes[tally.pass]!.straysRecorded);
    const withStray = new Map(passes.map(({ pass, strays }) => [pass, strays > 0]));
    const silent = all.length - passes.length;
    return passesEvidence(withStray, {
      remarks: silent > 0 ? [{ code: "strays-not-recorded", passes: silent }] : [],
      tags: () => differentTags(selection, (pass) => withStray.has(pass)),
    });
  },
  words: {
    count: (k, n) => `${countText(k)} of ${counted(n, "pass", "passes")} with a stray`,
    fault: "a stray",
    nothing: "Strays were not recorded.",
  },
  everyRound: {
    key: "strayPassRate",
    id: "strays",
    title: "Passes with a stray",
    faultless: "In the last round walked, no stray was read at any read point that records strays.",
    nothing: "strays not recorded",
    never: "No log of any round records strays.",
  },
  plan: {
    trials: "passes",
    countsPresented: false,
    expected: ({ readRate }) => 1 - readRate,
    phrase: (rate) => `${rate} of the passes have a stray`,
  },
  proposal: {
    title: "at most one pass in twenty reads a tag that is not in it",
    limit: 0.05,
    minimumPasses: 20,
  },
  method: {
    counts: "passes in which a tag was read that was not presented",
    of: "passes whose log records strays; the other passes are left out, and a remark counts them",
  },
};
