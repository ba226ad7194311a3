import { z } from "zod";
import { levelEvidence } from "../../src/measures/evidence/levels.ts";
import { tallyPasses } from "../../src/measures/evidence/pass-tallies.ts";
import { passEvidence } from "../../src/measures/evidence/rates.ts";
import type { Measure } from "../../src/measures/measure.ts";
import { rounded } from "../../src/measures/rounding.ts";
import { percent, type Scale } from "../../src/measures/scales.ts";
import { Role } from "../../src/model/pass-log.ts";

/** A measure that the tool does not have: the share of passes that read more than so many tags, on the usual scale. */
export const fullPassRate: Measure = {
  id: "full-pass-rate",
  title: "Passes with many tags",
  unit: { one: "pass", many: "passes" },
  scale: percent,
  usualSense: "at-least",
  criterion: {
    parameters: {
      more_than: {
        schema: z.int().nullish().meta({ description: "For full-pass-rate: more tags than this." }),
      },
    },
    faults: ({ more_than }) =>
      typeof more_than === "number"
        ? []
        : [{ key: null, lacks: "more_than", expected: "a number of tags", advice: "Add more_than: 10." }],
  },
  log: { roles: [Role.presented] },
  collect: (selection, { more_than }) => {
    const passes = tallyPasses(selection);
    const k = passes.filter(({ read }) => read > Number(more_than)).length;
    return passEvidence(k, passes.length);
  },
  words: {
    count: (k, n) => `${k} of ${n} passes with many tags`,
    fault: "a thin pass",
  },
  plan: {
    trials: "passes",
    countsPresented: false,
    expected: ({ readRate }) => readRate,
    phrase: (rate) => `${rate} of the passes read many tags`,
  },
  method: { counts: "passes that read more tags than a number", of: "all passes" },
};

/** Durations, in seconds with one decimal. */
const seconds: Scale = {
  unit: "s",
  hasWordUnit: false,
  csvUnit: "seconds",
  quantity: "durations",
  axis: "level",
  panels: {
    "at-least": { key: "long", heading: "What must last" },
    "at-most": { key: "short", heading: "What must be short" },
  },
  lowest: null,
  highest: null,
  limit: {
    "at-least": { words: "seconds", example: 10 },
    "at-most": { words: "seconds", example: 60 },
  },
  digits: () => 1,
  text: (value, digits, sense) => rounded(value, digits, sense === "at-least" ? "down" : "up"),
  stated: (limit) => `${limit} s`,
  shortfall: (value, limit, sense) => (sense === "at-least" ? limit - value : value - limit),
  limitFault: (limit) => (limit > 0 ? null : { expected: "more than 0 seconds", advice: "Write seconds." }),
};

/** A measure on a scale of its own: the median of how long the passes take. */
export const passDuration: Measure = {
  id: "pass-duration",
  title: "Duration of a pass",
  unit: { one: "pass", many: "passes" },
  scale: seconds,
  usualSense: "at-most",
  log: { roles: [] },
  collect: (selection) => {
    const passes = tallyPasses(selection).map(({ pass }) => selection.log.passes[pass]!);
    const values = passes.flatMap(({ startedAt, endedAt }) =>
      startedAt === null || endedAt === null ? [] : [secondOfDay(endedAt) - secondOfDay(startedAt)],
    );
    return levelEvidence({
      passes: values.length,
      levels: { censored: 0, values: values.sort((a, b) => a - b) },
      quantile: 0.5,
      remarks: [],
    });
  },
  words: {
    count: (k, n) => `${k} of ${n} passes timed`,
    fault: "a slow pass",
  },
  plan: null,
  method: { counts: "how long a pass takes, and of these the median", of: "passes with both times" },
};

function secondOfDay(moment: string): number {
  const [hours, minutes, rest] = moment.slice(11).replace("Z", "").split(":").map(Number);
  return hours! * 3600 + minutes! * 60 + rest!;
}
