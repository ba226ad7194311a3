import { counted, countText, decimalText, thinSpace } from "../model/number-words.ts";
import { eventEvidence } from "./evidence/events.ts";
import type { Measure } from "./measure.ts";
import { tagsAMinute } from "./scales.ts";

/**
 * Tags heard a minute between the passes, with nothing presented: each tag counts once in every clock minute that heard
 * it. Only timed passes say when nothing was under way.
 */
export const idleReadRate: Measure = {
  id: "idle-read-rate",
  title: "Heard with nothing presented",
  unit: { one: "idle minute", many: "idle minutes" },
  scale: tagsAMinute,
  usualSense: "at-most",
  betweenPasses: true,
  criterion: {
    senseless: {
      sense: "at-least",
      advice: "Tags heard with nothing presented can only be too many: write at_most.",
    },
  },
  log: { roles: [] },
  collect: ({ log, readPoint, round, withVoids }) => {
    const idle = log.heard?.idle.find((one) => one.readPoint === readPoint && one.round === round);
    const passes = log.passes.filter(
      (pass) =>
        pass.form === "timed" &&
        pass.readPoint === readPoint &&
        pass.round === round &&
        (withVoids || pass.voidReason === null),
    ).length;
    const heard = idle?.heard.map((minute) => minute.tags) ?? [];
    const silent = new Array<number>(Math.max(0, (idle?.clockMinutes ?? 0) - heard.length)).fill(0);
    return eventEvidence({
      passes,
      counts: {
        events: heard.reduce((sum, tags) => sum + tags, 0),
        minutes: idle?.minutes ?? 0,
        byMinute: [...heard, ...silent],
      },
      remarks: [],
    });
  },
  words: {
    // Time is measured and not counted, so it is rarely whole.
    count: (k, n) =>
      `${counted(k, "tag", "tags")} heard in ${decimalText(n, 1)} minutes with nothing presented`,
    shortCount: (k, n) => `${countText(k)} in ${decimalText(n, 1)}${thinSpace}min`,
    fault: "a read",
    nothing: "A pass was under way all the time.",
    nothingCounted: (passes) =>
      passes === 0
        ? "No timed pass was walked, so it is not known when nothing was presented"
        : "A pass was under way all the time",
    howToRead: "each tag counted once in every minute that heard it",
  },
  plan: null,
  method: {
    counts: "tags heard while no pass was under way, each once in every minute that heard it",
    of: "minutes between the timed passes of the round; other passes do not say when nothing was under way",
  },
};
