import { z } from "zod";
import { concessionSchema, senseSchema } from "../facility.ts";
import { count, groupOf } from "../scalars.ts";
import { statesWorstFirst } from "../state.ts";
import { estimateSchema } from "./figures.ts";
import { remarkSchema } from "./remark.ts";

export const stateSchema = z.enum(statesWorstFirst).meta({ id: "State" });

export const concessionResultSchema = concessionSchema.extend({
  expired: z.boolean().describe("Whether `until` lies before the report's issue date."),
});
export type ConcessionResult = z.infer<typeof concessionResultSchema>;

const toSettle = z
  .union([
    z.object({
      unit: z.string().describe("Of n, in the plural."),
      furtherWithoutMiss: count
        .nullable()
        .describe(
          "The smallest number of further ones without a fault (of a power margin: read in the same shares) for which the longer walk is met; null beyond ten million, and where none would do.",
        ),
      chance: z
        .number()
        .nullable()
        .describe(
          "How likely a walk laid out like this one shows as many faults or more at a true figure equal to the limit; null where the value is on its good side.",
        ),
      retune: z.boolean().describe("The chance is below 0.1: look for the cause first."),
    }),
    z.object({ furtherPasses: count }),
    z.object({ furtherMinutes: count.describe("Of idle time, in the same session.") }),
    z.object({
      furtherPowers: count.describe("To measure at; 0 where only the power in use is not stated."),
    }),
  ])
  .describe("What would move a finding on: of an undecided one, and of an untested one (three kinds).");
export type ToSettle = z.infer<typeof toSettle>;

const kind = z.object({
  share: z.number().describe("Of all, 0 to 1."),
  oneIn: count.describe("The same as one in so many, rounded down."),
});

const unseen = z
  .object({
    passes: kind.describe("A kind of pass that is rarer than this may not have come up."),
    tags: kind.nullable().describe("The same of tags; null where the logs do not name every tag."),
  })
  .describe(
    "What may not have come up: with G passes, kinds that make up less than 1 - (alpha/2)^(1/G) of all; tags likewise.",
  );
export type Unseen = z.infer<typeof unseen>;

export const findingSchema = z
  .object({
    criterion: z.string(),
    readPoint: z.string(),
    round: z.string(),
    group: groupOf.describe("Column and value; null without for_each."),
    state: stateSchema,
    measure: z.string(),
    limit: z.number(),
    sense: senseSchema,
    passes: count.describe("Passes counted."),
    voidPasses: count.describe("Void passes that would have been counted."),
    tags: count
      .nullable()
      .describe("Different tags counted; null where a log does not name them, or none are counted."),
    estimate: estimateSchema,
    withVoids: estimateSchema
      .nullable()
      .describe("With the void passes counted in; null where there are none."),
    toSettle: toSettle.nullable().describe("Null in a finding that is met or not met."),
    concession: concessionResultSchema.nullable(),
    remarks: z.array(remarkSchema),
    sensitivity: z
      .array(
        z.object({
          missCorrelation: z.number(),
          lower: z.number().nullable(),
          upper: z.number().nullable(),
          effectiveN: z.number().nullable(),
          state: stateSchema,
        }),
      )
      .describe("What other assumed correlations would have given; empty where none is assumed."),
    stricter: z
      .object({ interval: z.string(), state: stateSchema })
      .nullable()
      .describe(
        "What the stricter interval shows; null where the finding's own is as strict, or is no rate.",
      ),
    unseen: unseen
      .nullable()
      .describe("Null where no pass was counted, or the measure does not count passes."),
  })
  .describe("One criterion at one read point, in one group where it holds for each value on its own.");
export type Finding = z.infer<typeof findingSchema>;

export const otherwiseSchema = z
  .object({
    interval: z
      .object({ id: z.string(), findings: count })
      .nullable()
      .describe("By the stricter interval; null where the facility's own is as strict."),
    correlations: z
      .array(z.object({ missCorrelation: z.number(), findings: count }))
      .describe("By each correlation in `sensitivity`."),
  })
  .describe("How many findings would have another state by a stricter interval, or another correlation.");
