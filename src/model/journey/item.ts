import { z } from "zod";
import { count, text, uri } from "../scalars.ts";
import { placeSchema } from "./journey.ts";

const instant = z.string().describe("ISO 8601 in UTC with a Z.");
const wallClock = text.describe(
  "The same as the clock on the wall there, YYYY-MM-DD HH:MM:SS; null where the facility states no time zone.",
);

const sightingAt = placeSchema.extend({ at: instant, atLocal: wallClock });

const legOfItem = z.object({
  leg: z.string().describe("Its id."),
  state: z
    .enum(["seen", "out-of-order", "late", "not-seen"])
    .describe(
      "seen: in time; out-of-order: in time, but before an earlier leg; late: only after the leg's time was over, which is not seen; not-seen: never while the run was under way.",
    ),
  at: instant
    .nullable()
    .describe("The first sighting there while the run was under way; null where not seen."),
  atLocal: wallClock,
  afterS: z
    .number()
    .nullable()
    .describe("Seconds from the latest earlier leg seen, or from the start: below 0 if before that leg."),
  carrier: z
    .object({
      heard: z.boolean(),
      at: instant
        .nullable()
        .describe(
          "The sighting of the carrier there that is nearest in time, however far; null without one.",
        ),
      apartS: z.number().nullable().describe("Seconds from the item's first sighting to it."),
    })
    .nullable()
    .describe("Null where it is not asked for: another leg, an item not seen, a row without a carrier."),
});
export type LegOfItem = z.infer<typeof legOfItem>;

const visit = placeSchema
  .extend({
    leg: text.describe("The first leg at the read point; null in a wrong place."),
    first: instant,
    firstLocal: wallClock,
    last: instant,
    lastLocal: wallClock,
    sightings: count,
  })
  .describe("Sightings of one item at one read point with none elsewhere between them.");
export type Visit = z.infer<typeof visit>;

export const itemSchema = z
  .object({
    round: z.string(),
    run: z.string(),
    tag: z.string(),
    uri,
    carrier: text,
    startedAt: instant,
    endedAt: instant,
    voidReason: text.describe("Why the row does not count; null for one that does."),
    note: text,
    whole: z.boolean().describe("Seen on every leg that is not optional."),
    inOrder: z.boolean().nullable().describe("Null where it was seen on fewer than two legs."),
    legs: z.array(legOfItem).describe("In the order of the legs."),
    sightings: count.describe("While the run was under way, at any read point."),
    visits: z
      .array(visit)
      .nullable()
      .describe(
        "In the order of time; null for an item that was seen in order on every leg and nowhere else.",
      ),
    visitsLeftOut: count.describe("How many more visits there were than are listed."),
  })
  .describe("One item on one run: a row of runs.csv.");
export type ItemResult = z.infer<typeof itemSchema>;

export const lostItemSchema = z
  .object({
    item: count.describe("Index into `items`."),
    missing: z
      .array(z.string())
      .describe("The legs, by id, that it was not seen on and that are not optional."),
    lastSeen: sightingAt
      .extend({ leg: text.describe("The first leg at the read point; null in a wrong place.") })
      .nullable()
      .describe("Null where it was never seen while the run was under way."),
  })
  .describe("An item without any sighting on the last leg that is not optional, or on one behind it.");
export type LostItem = z.infer<typeof lostItemSchema>;

export const wrongPlaceSchema = placeSchema
  .extend({
    item: count.describe("Index into `items`."),
    first: instant,
    firstLocal: wallClock,
    last: instant,
    lastLocal: wallClock,
    sightings: count,
  })
  .describe("An item that a read point of no leg saw while its run was under way.");
export type WrongPlace = z.infer<typeof wrongPlaceSchema>;
