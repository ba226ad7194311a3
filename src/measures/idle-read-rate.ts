import { counted, countedInWords, countText, decimalText, thinSpace } from "../model/number-words.ts";
import { eventEvidence } from "./evidence/events.ts";
import type { RoundMeasure } from "./measure.ts";
import { tagsAMinute } from "./scales.ts";

/**
 * Tags read a minute between the passes, with nothing presented: each tag counts once in every clock minute in which it
 * was read. Only timed passes say when nothing was under way.
 */
export const idleReadRate: RoundMeasure = {
  id: "idle-read-rate",
  title: "Idle reads",
  unit: { one: "idle minute", many: "idle minutes" },
  scale: tagsAMinute,
  usualSense: "at-most",
  besidePasses: {
    what: "what happens between the passes",
    passes: { one: "pass", many: "passes" },
    none: "no pass walked",
    settling: (further) =>
      further === null
        ? {
            sentence:
              "more than ten million further idle minutes without a read would be needed to settle it",
            note: "over ten million more without a read",
          }
        : {
            sentence: `${countedInWords(further, "further idle minute", "further idle minutes")} without a read would settle it`,
            note: counted(further, "more silent minute", "more silent minutes"),
          },
    settlingUnit: "idle minutes without a fault",
  },
  criterion: {
    excluded: {
      sense: "at-least",
      advice: "Idle reads can only be too many: write at_most.",
    },
  },
  log: { roles: [] },
  collect: ({ log, readPoint, round, withVoids }) => {
    const idle = log.heard?.idle.find((one) => one.readPoint === readPoint && one.round === round);
    const passes = log.passes.filter(
      (pass) =>
        pass.readsFrom === "reader-log" &&
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
        stays: { squares: idle?.stays.squares ?? 0, longest: idle?.stays.longestMinutes ?? 0 },
      },
      remarks: [],
    });
  },
  words: {
    // Time is measured, not counted, so it is rarely whole.
    count: (k, n) => `${counted(k, "tag", "tags")} read in ${decimalText(n, 1)} idle minutes`,
    shortCount: (k, n) => `${countText(k)} in ${decimalText(n, 1)}${thinSpace}min`,
    fault: "a read",
    nothing: "There was no idle time.",
    nothingCounted: (passes) =>
      passes === 0 ? "No timed pass was walked, so the idle time is not known" : "There was no idle time",
    howToRead: "each tag counts once in every minute in which it was read",
  },
  plan: null,
  method: {
    counts: "tags read while no pass was under way, each once in every minute in which it was read",
    of: "minutes between the timed passes of the round; other passes do not say when they took place",
  },
};
