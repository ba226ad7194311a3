import { z } from "zod";
import type { Estimate } from "../estimate.ts";
import { count } from "../scalars.ts";

const figure = {
  value: z.number().nullable().describe("Null where n is 0."),
  k: z.number(),
  n: z.number(),
  lower: z.number().nullable().describe("Null where n is 0."),
  upper: z.number().nullable(),
  confidence: z.number(),
  effectiveN: z
    .number()
    .nullable()
    .describe("How many independent presentations, passes or minutes the n are worth."),
  designEffect: z.number().nullable().describe("n / effectiveN."),
};

export const estimateSchema: z.ZodType<Estimate> = z
  .discriminatedUnion("kind", [
    z
      .object({ kind: z.literal("rate"), ...figure, method: z.string().describe("The id of the interval.") })
      .describe("k of n, as fractions."),
    z
      .object({
        kind: z.literal("level"),
        ...figure,
        method: z.literal("order-statistic"),
        onMiss: z
          .object({ value: z.boolean(), lower: z.boolean(), upper: z.boolean() })
          .exactOptional()
          .describe(
            "Which of the figures are null because they fall on a missed tag; left out where n is 0.",
          ),
      })
      .describe("A quantile of the signal strength in dBm, over n presentations of which k were read."),
    z
      .object({ kind: z.literal("events"), ...figure, method: z.literal("poisson") })
      .describe("k events in n minutes, as events a minute."),
    z
      .object({ kind: z.literal("margin"), ...figure, method: z.literal("fieller") })
      .describe(
        "Transmit power in use less the power that a share needs, in dB; k read of n presented at all powers. Null without a curve, the bounds also where it has no limits.",
      ),
  ])
  .meta({ id: "Estimate", description: "A figure with its uncertainty, over valid passes only." });

export const spreadSchema = z
  .object({
    n: count,
    min: z.number(),
    q05: z.number(),
    median: z.number(),
    q95: z.number(),
    max: z.number(),
  })
  .meta({ id: "Spread", description: "Five figures of n values; quantiles of R's type 7." });
export type Spread = z.infer<typeof spreadSchema>;

export const differenceSchema = z
  .object({ value: z.number(), lower: z.number(), upper: z.number(), confidence: z.number() })
  .nullable();

export const basisSchema = z
  .object({
    confidence: z.number(),
    interval: z.string(),
    missCorrelation: z.number(),
    smallestChangeThatMatters: z
      .number()
      .describe("Tells, between rounds, no change that matters from no change shown."),
  })
  .describe("The settings that every interval was made with.");
