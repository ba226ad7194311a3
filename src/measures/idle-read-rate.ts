import type { Measure } from "./evidence.ts";

/**
 * Tags heard a minute between the passes, with nothing presented: each tag counts once in every clock minute that heard
 * it. Only timed passes say when nothing was under way.
 */
export const idleReadRate: Measure = {
  unit: "idle minutes",
  gather: ({ log, readPoint, round, withVoids }) => {
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
    return {
      kind: "minutes",
      passes,
      counts: {
        tags: heard.reduce((sum, tags) => sum + tags, 0),
        minutes: idle?.minutes ?? 0,
        byMinute: [...heard, ...silent],
      },
      remarks: [],
    };
  },
};
