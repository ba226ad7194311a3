import { z } from "zod";
import { estimateSchema, spreadSchema } from "../result/figures.ts";
import { count, text } from "../scalars.ts";
import { legSchema } from "./journey.ts";

const legCounts = {
  k: count.describe("Rows whose item was seen."),
  n: count.describe("Rows that are not void."),
  late: count.describe("Of those not seen: seen later than the leg allows."),
  outOfOrder: count.describe("Of those seen: before an earlier leg."),
  sightingRate: estimateSchema.describe("k of n."),
  carrier: estimateSchema
    .nullable()
    .describe("Carriers heard with the item; null where the carrier is not asked for."),
  delay: spreadSchema
    .nullable()
    .describe(
      "Seconds from the latest earlier leg seen, or from the start, to the first sighting of those seen.",
    ),
  lag: spreadSchema.nullable().describe("Seconds from a sighting there until the site knew of it."),
};

const legOfRound = z.object({ id: z.string(), ...legCounts });

export const journeyRoundSchema = z
  .object({
    id: z.string(),
    runs: count.describe("Different runs with a row that is not void."),
    items: count.describe("Rows that are not void."),
    voidRuns: count.describe("Runs all of whose rows are void."),
    voidItems: count.describe("Rows that are void."),
    completeRate: estimateSchema.describe("Items seen on every leg that is not optional."),
    orderRate: estimateSchema.describe(
      "Of items seen on two legs or more: those whose first sightings are in the order of the legs.",
    ),
    carrierRate: estimateSchema
      .nullable()
      .describe("Over every leg that asks for the carrier; null without a carrier."),
    withVoids: z
      .object({ items: count, completeRate: estimateSchema })
      .describe("With the void rows counted in; the same where there are none."),
    lag: spreadSchema.nullable(),
    legs: z.array(legOfRound),
  })
  .describe("What one round showed.");
export type JourneyRoundResult = z.infer<typeof journeyRoundSchema>;

export const legResultSchema = legSchema
  .extend({
    facilityName: z.string(),
    name: z.string().describe("Of the read point."),
    kind: text,
    ...legCounts,
    withVoids: estimateSchema
      .nullable()
      .describe("With the void rows counted in; null where there are none."),
    lost: count.describe("Lost items that were last seen here."),
  })
  .describe("A leg, with what the sign-off round showed of it.");
export type LegResult = z.infer<typeof legResultSchema>;
