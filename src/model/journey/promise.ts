import { z } from "zod";
import { estimateSchema } from "../result/figures.ts";
import { share, text } from "../scalars.ts";
import { placeSchema } from "./journey.ts";

const bounds = z.object({ lower: share, upper: share });

export const promiseSchema = z
  .object({
    legs: z
      .array(
        placeSchema.extend({
          leg: z.string(),
          round: text.describe("The read point's sign-off round."),
          rate: estimateSchema.nullable().describe("Its tag read rate there; null where nobody walked it."),
        }),
      )
      .describe("The legs that are not optional."),
    missing: z.array(z.string()).describe("Legs, by id, of read points that were not walked."),
    product: z
      .object({ value: share, lower: share, upper: share })
      .nullable()
      .describe(
        "Of the rates, and of their lower and upper ends: if the legs miss independently. Null where one is missing.",
      ),
    bounds: bounds
      .nullable()
      .describe(
        "Fréchet's, of the rates: max(0, sum - (legs - 1)) and the smallest rate, however the misses depend on each other.",
      ),
    widest: bounds.nullable().describe("The same of the lower and of the upper ends."),
    share: estimateSchema.describe("Whole journeys in the sign-off round."),
    outside: z
      .enum(["below", "above"])
      .nullable()
      .describe("On which side of `bounds` the share lies; null inside, or where there are no bounds."),
    surely: z.boolean().describe("Whether its whole interval lies outside of `widest`."),
  })
  .describe("What the read points' own walks promise of the chain, beside the share of whole journeys.");
export type JourneyPromise = z.infer<typeof promiseSchema>;
