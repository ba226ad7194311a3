import type { Facility } from "./facility.ts";
import type { Problem } from "./problem.ts";
import type { PowerSteps } from "./radio/power-steps.ts";
import type { InputFile, JourneyRuns } from "./record/input-file.ts";
import type { EarlierRevision } from "./record/record.ts";

/**
 * All passes of one facility and the rows they are made of, in columns: a million rows are a few typed arrays, not
 * a million objects. Every text is kept once and referred to by its index.
 */
export interface PassLog {
  /** In the order of round, read point, start and pass id: never the order of the files. */
  passes: Pass[];
  rows: Rows;
  /** Tag codes as written; `rows.tag` refers to them. */
  tags: string[];
  /** What the readers' own logs hold; null where the facility has none. */
  heard: Heard | null;
  /** What power logs hold, by round and read point in the order of facility.yaml; empty where there are none. */
  power: PowerSteps[];
}

/** What the readers heard of each tag in each timed pass, and between the passes. */
export interface Heard {
  /** One entry a pass, tag and antenna, in that order. */
  length: number;
  /** Index into `passes`. */
  pass: Int32Array;
  /** Index into `tags`. */
  tag: Int32Array;
  /** Index into `antennas`; -1 where the log names none. */
  antenna: Int16Array;
  antennas: string[];
  reads: Float64Array;
  /** Strongest; `noRssi` where none was recorded. */
  rssiDbm: Float64Array;
  /** Milliseconds after the window of the pass opens. */
  firstMs: Float64Array;
  /** The clock minute of the first read: an index into `minutes`. */
  minute: Int32Array;
  /** In UTC: 2026-05-21T08:09Z. */
  minutes: string[];
  /** By read point and round. */
  idle: IdleTime[];
  /** The weakest level of any read at a read point, in passes and between them; a point without levels is missing. */
  weakest: { readPoint: string; dbm: number }[];
  /** In the order of the files. */
  settings: LoggedSettings[];
}

/** What a reader's log states of the reader's settings, for a round that it covers at a read point. */
export interface LoggedSettings {
  /** Relative to the facility's folder. */
  file: string;
  readPoint: string;
  round: string;
  /** As written. */
  values: { name: string; value: string }[];
}

/** The time between the first and the last timed pass of a round at a read point in which no pass was under way. */
export interface IdleTime {
  readPoint: string;
  round: string;
  /** How long it was, in minutes. */
  minutes: number;
  /** Clock minutes in which something was heard, in order. */
  heard: { minute: string; reads: number; tags: number }[];
  /** How many clock minutes the time touches. */
  clockMinutes: number;
  /** How long tags stayed; a stay is one tag, from the first to the last clock minute in which it was heard. */
  stays: IdleStays;
  /** Who was heard, by code point. */
  tags: IdleTag[];
}

/** A tag that was heard between the passes. */
export interface IdleTag {
  /** As the loads write it, where one names it. */
  tag: string;
  reads: number;
  /** Strongest; `noRssi` where none was recorded. */
  rssiDbm: number;
  /** In natural order. */
  antennas: string[];
}

export interface IdleStays {
  /** Different tags. */
  tags: number;
  /** The sum over tags of the squared number of clock minutes in which the tag was heard. */
  squares: number;
  /** Clock minutes of the longest stay, without those that passes take whole. */
  longestMinutes: number;
}

export interface Pass {
  round: string;
  readPoint: string;
  id: string;
  /** The form of its log: the id of one of `src/intake/pass-log/forms`. */
  form: string;
  /** Whether the log names tags, or only counts them. */
  namesTags: boolean;
  /** Whether the log itself says which tags were read, or the reader's own log. */
  readsFrom: "pass-log" | "reader-log";
  /** Instants, ISO 8601 in UTC with a Z; null where the log states none. */
  startedAt: string | null;
  endedAt: string | null;
  /** The same as the clock on the facility's wall shows it, YYYY-MM-DD HH:MM:SS. */
  startedAtLocal: string | null;
  endedAtLocal: string | null;
  /** Why the pass does not count; null for a valid pass. */
  voidReason: string | null;
  /** Distinct texts, by code point. */
  walkedBy: string[];
  notes: string[];
  /** Undeclared columns that were filled: distinct values by code point, columns in the order of the log's header. */
  extras: { column: string; values: string[] }[];
  /** Whether the pass's log recorded strays at all (a `presented` column, or a filled `stray_tags`). */
  straysRecorded: boolean;
  /** How many strays a tally counted; null in the other forms, where they are rows. */
  tallyStrays: number | null;
  /** Whether the log of this pass has a column for RSSI. */
  rssiRecorded: boolean;
  /** The name of the manifest that was walked; null where the log itself names its tags, or only counts them. */
  manifest: string | null;
  /** The log that holds it, relative to the facility's folder. */
  file: string;
}

/** What a row stands for. */
export const Role = {
  /** A tag that was presented; or, in a tally, all of them at once. */
  presented: 0,
  /** A tag that was recorded as not presented: placed near by on purpose, or heard uninvited. */
  notPresented: 1,
  /** A code named in a listed log's `stray_tags` and not in its manifest. */
  stray: 2,
  /** A pass that presented nothing; the row says only how it was made. */
  nothing: 3,
} as const;

export interface Rows {
  /** How many rows the arrays hold. */
  length: number;
  /** Index into `passes`. */
  pass: Int32Array;
  /** Index into `tags`; -1 in a tally and where the row presents nothing. */
  tag: Int32Array;
  role: Uint8Array;
  /** How many tags the row stands for (1; a tally's `tags_presented`; 0 where it presents nothing). */
  presentations: Int32Array;
  /** How many of them were read. */
  tagsRead: Int32Array;
  /** How often they were read; 0 where that is not known. */
  readCounts: Int32Array;
  /** Strongest RSSI; `noRssi` where none was recorded. */
  rssiDbm: Float64Array;
  /** Index into `antennas`; -1 where none was recorded. */
  antenna: Int16Array;
  antennas: string[];
  /** The columns that conditions and criteria name, by name. */
  columns: Map<string, TextColumn>;
}

/** No RSSI was recorded: weaker than any that could be. */
export const noRssi = Number.NEGATIVE_INFINITY;

export interface TextColumn {
  /** Distinct texts as written (decimal commas already made points where the log uses them). */
  values: string[];
  /** By row: index into `values`, -1 for a blank. */
  index: Int32Array;
}

/** What every pass of a plan carries. */
export interface PlannedLoad {
  /** Codes that it presents, by code point. */
  tags: string[];
  /** By condition column that its manifest states: what it says of each of the tags; null for a blank. */
  columns: Record<string, (string | null)[]>;
}

/** Everything that was read of one facility: what the analysis starts from. */
export interface FacilityInput {
  facility: Facility;
  log: PassLog;
  inputs: InputFile[];
  /** The journeys that its readers' logs were read with, by id. */
  journeys: JourneyRuns[];
  /** What earlier revisions judged, as far as their results are kept. */
  earlier: EarlierRevision[];
  /** The tags that the plan's load presents, by code point; null where the plan names no load. */
  plannedLoad: PlannedLoad | null;
  /** Warnings only: an error forbids a verdict. */
  problems: Problem[];
}
