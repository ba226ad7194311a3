import { z } from "zod";
import type { Criterion, Judged } from "../facility.ts";
import type { Problem } from "../problem.ts";
import type { InputFile } from "../record/input-file.ts";

/** One chain of read points over facilities, as its YAML file describes it: checked, defaults filled in. */
export interface Journey extends Judged {
  /** The name of its file, without .yaml. */
  id: string;
  title: string;
  /** In the order in which an item is expected there. */
  legs: Leg[];
  carrier: CarrierRule | null;
  criteria: JourneyCriterion[];
  plan: JourneyPlan | null;
}

/** What a journey asks: a criterion of no read point, whose passes are runs. */
export type JourneyCriterion = Criterion;

/** How the next runs are meant to be made, and what they are believed to show. */
export interface JourneyPlan {
  /** How many items travel together. */
  tagsPerRun: number;
  /** Whether the same items travel on every run. */
  sameTags: boolean;
  /** The share of items that a leg that works is believed to see; strictly between 0 and 1. */
  expectedRate: number;
  /** The share of items that are believed to be seen in order; strictly between 0 and 1, null where it is not stated. */
  expectedOrderRate: number | null;
}

export const placeSchema = z.object({
  facility: z.string().describe("Its id."),
  readPoint: z.string().describe("Its id."),
});
/** A read point of a facility. */
export type Place = z.infer<typeof placeSchema>;

export const legSchema = placeSchema.extend({
  id: z.string(),
  withinS: z
    .number()
    .nullable()
    .describe("Seconds from the latest earlier leg seen, or from the start; null where any time will do."),
  optional: z.boolean().describe("Whether a journey is whole without it."),
});
export type Leg = z.infer<typeof legSchema>;

export const carrierRuleSchema = z
  .object({
    column: z.string().describe("The column of runs.csv that holds the carrier's tag."),
    at: z.array(z.string()).describe("The legs on which the carrier is to be heard, by id."),
    withinS: z.number().describe("Seconds between the item's first sighting and a sighting of its carrier."),
  })
  .describe("The tag of the person or vehicle that carries the item.");
type CarrierRule = z.infer<typeof carrierRuleSchema>;

/** What was really sent: one item on one run, a row of runs.csv. Times are microseconds since 1970. */
export interface RunRow {
  /** Index into the rounds. */
  round: number;
  run: string;
  /** Index into `tags`. */
  tag: number;
  /** Index into `tags`; -1 where the row names no carrier. */
  carrier: number;
  fromUs: number;
  toUs: number;
  /** Why the row does not count; null for one that does. */
  voidReason: string | null;
  note: string | null;
}

/**
 * Sightings in columns, by tag, time and place: the same tag, place and microsecond is there once. Only tags of the runs, and only
 * while a run of theirs was under way.
 */
export interface Sightings {
  length: number;
  /** Index into `tags`. */
  tag: Int32Array;
  /** Microseconds since 1970. */
  timeUs: Float64Array;
  /** Index into `places`. */
  place: Int32Array;
  /** Microseconds since 1970; NaN where that is not told. */
  knownUs: Float64Array;
  /** Index into `sources`. */
  source: Int32Array;
  places: Place[];
  /** Files, relative to the data folder. */
  sources: string[];
}

/** What became of everything that tells of sightings. */
export interface SightingCounts {
  /** Rows, events and reads that tell of a sighting of any tag. */
  told: number;
  /** Sightings of items and carriers while a run of theirs was under way, each counted once. */
  used: number;
  /** Those that tell of the same tag, place and microsecond again. */
  repeated: number;
  /** Those of tags of the runs at a time when no run of theirs was under way. */
  outsideRuns: number;
  /** Those of tags that no run has. */
  otherTags: number;
}

/** What a journey needs to know of a facility. */
export interface JourneyFacility {
  id: string;
  name: string;
  timeZone: string | null;
  readPoints: { id: string; name: string; kind: string | null }[];
  pseudonyms: boolean;
  /** Its facility.yaml; the path is relative to the data folder. */
  source: InputFile;
}

/** Everything that was read of one journey: what its analysis starts from. */
export interface JourneyInput {
  journey: Journey;
  /** By round, start, run (natural order) and tag: never the order of the file. */
  rows: RunRow[];
  /** Codes of items and carriers as runs.csv writes them. */
  tags: string[];
  sightings: Sightings;
  counts: SightingCounts;
  /** What EPCIS documents call read points, in the order of the file. */
  readPointUris: (Place & { uri: string })[];
  /** The facilities that the YAML or the sightings name, by code point. */
  facilities: JourneyFacility[];
  inputs: InputFile[];
  /** Warnings only: an error forbids a verdict. */
  problems: Problem[];
}
