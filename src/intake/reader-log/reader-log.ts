import type { LoggedCode } from "../../codes/nearest-reading.ts";
import type { ColumnName, ReaderLogSpec } from "../../model/facility.ts";
import { noRssi } from "../../model/pass-log.ts";
import type { ReaderSightings } from "./database/travels.ts";

/** The stretch of time that belongs to one pass at one read point, both ends included. */
export interface PassWindow {
  /** Index into the passes. */
  pass: number;
  readPoint: string;
  /** Microseconds since 1970. */
  fromUs: number;
  toUs: number;
}

/** When a round was walked at a read point, both ends included: what is heard then outside the windows is idle. */
export interface WalkSession {
  readPoint: string;
  /** Index into the rounds. */
  round: number;
  /** Microseconds since 1970. */
  fromUs: number;
  toUs: number;
  /** How much of it lies in windows. */
  walkedUs: number;
}

/**
 * What the readers heard, as far as anything leaves the database: one entry a pass, tag and antenna. In the order of pass,
 * tag and antenna, so that neither the order of rows nor the number of threads can show.
 */
export interface HeardTags {
  length: number;
  pass: Int32Array;
  /** Index into `codes`. */
  code: Int32Array;
  /** Index into `antennas`; -1 where the log names none. */
  antenna: Int32Array;
  /** Reads, the count column summed. */
  reads: Float64Array;
  /** Strongest, in hundredths of a dBm; `noHundredths` where none was recorded. */
  rssi: Int32Array;
  /** Microseconds since 1970. */
  firstUs: Float64Array;
  lastUs: Float64Array;
  /** Canonical codes, by code point. */
  codes: string[];
  antennas: string[];
}

/** No RSSI was recorded. */
export const noHundredths = -2147483648;

/** A level in dBm; `noRssi` where none was recorded. */
export function rssiDbmOf(hundredths: number): number {
  return hundredths === noHundredths ? noRssi : hundredths / 100;
}

/** What was heard in a session outside every pass window, by minute. */
export interface IdleMinute {
  /** Index into the sessions. */
  session: number;
  /** Minutes since 1970. */
  minute: number;
  reads: number;
  /** Distinct tags. */
  tags: number;
}

/** Tags that were heard in a session outside every pass window, from one minute to another. */
export interface IdleStay {
  /** Index into the sessions. */
  session: number;
  /** Minutes since 1970. */
  first: number;
  last: number;
  /** Distinct tags. */
  tags: number;
  /** The sum over them of the squared number of minutes that heard the tag. */
  squares: number;
}

/** A tag that one antenna heard in a session outside every pass window. */
export interface IdleCode {
  /** Index into the sessions. */
  session: number;
  /** Canonical. */
  code: string;
  /** Null where the log names none. */
  antenna: string | null;
  reads: number;
  /** Strongest, in hundredths of a dBm; `noHundredths` where none was recorded. */
  rssi: number;
}

/** The time that a read point's logs cover. */
export interface LogSpan {
  readPoint: string;
  fromUs: number;
  toUs: number;
}

/** One reader log as the inputs page lists it. */
export interface ReaderLogFile {
  path: string;
  sha256: string;
  bytes: number;
  /** Lines of data, or items of lists; rows = used + repeated + elsewhere + other events + refused. */
  rows: number;
  /** Rows that fell into a pass window, or count as idle. */
  used: number;
  /** Exact repeats of another row, counted once. */
  repeated: number;
  /** Rows of readers that no read point claims. */
  elsewhere: number;
  /** Rows that are no reads; null where the entry takes every row for one. */
  otherEvents: number | null;
  /** Rows that could not be understood; each is a problem with its line. */
  refused: number;
}

/** A log that states settings above its data, and the time that it covers. */
export interface SettingsOfLog {
  path: string;
  readPoints: string[];
  fromUs: number;
  toUs: number;
  /** As written. */
  values: { name: string; value: string }[];
}

/** The codes of a read point where none of the loads' codes was read although others were. */
export interface ForeignCodes {
  readPoint: string;
  /** Each as it is written, with the form of its entry, by code point. */
  codes: LoggedCode[];
  /** What the other columns of its logs hold, in the order of files and columns. */
  otherColumns: ColumnTexts[];
}

/** A column of a log and its texts, each once. */
export interface ColumnTexts {
  /** As an entry names it. */
  column: ColumnName;
  texts: string[];
}

/** Reads at one read point in one second. */
export interface SecondCount {
  readPoint: string;
  /** Seconds since 1970. */
  second: number;
  reads: number;
}

/** A column of a last time that an entry does not name although rows last longer than a pass. */
export interface UnreadLastTime {
  /** Index of the entry. */
  entry: number;
  column: string;
  /** Rows that last longer than the shortest pass, and the longest of them. */
  rows: number;
  longestUs: number;
  passUs: number;
}

export interface ReaderLogs {
  heard: HeardTags;
  /** In the order of sessions and minutes. */
  idle: IdleMinute[];
  stays: IdleStay[];
  /** In the order of sessions, codes and antennas. */
  idleCodes: IdleCode[];
  /** The weakest level that was decoded at a read point at all, in hundredths of a dBm; a point without levels is missing. */
  weakest: { readPoint: string; rssi: number }[];
  /** In the order of the files. */
  settings: SettingsOfLog[];
  /** Only of read points where fewer than half of the reads fall inside windows. */
  doubtfulSeconds: SecondCount[];
  spans: LogSpan[];
  foreign: ForeignCodes[];
  /** Passes that lie within the first and last time of a row, with a code that no row has an instant of there. */
  unknown: { pass: number; code: string }[];
  /** In the order of entries. */
  unreadLastTimes: UnreadLastTime[];
  files: ReaderLogFile[];
  /** What was heard of tags on journeys; null where none were. */
  travelled: ReaderSightings | null;
}

/** The read points that an entry of `reader_logs` names. */
export function readPointsOf({ readPoint }: ReaderLogSpec): string[] {
  return readPoint.kind === "fixed" ? [readPoint.readPoint] : Object.values(readPoint.values);
}
