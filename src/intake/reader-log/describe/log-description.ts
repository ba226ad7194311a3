/** What `describe` tells of one reader log: nothing here is a judgement, and every guess says that it is one. */
export interface LogDescription {
  path: string;
  kind: LogKind;
  gzipped: boolean;
  bytes: number;
  /** Null for parquet, which has none of this. */
  text: TextFacts | null;
  columns: DescribedColumn[];
  /** Rows of data that could be parted into columns; odd ones are in it where their columns could be told. */
  rows: number;
  /** The same, with the lines that could not. */
  lines: number;
  time: TimeFacts | null;
  tags: TagFacts | null;
  rssi: RssiFacts | null;
  count: CountFacts | null;
  /** Rows by reader, in the order of their names; empty where no column names one. */
  readers: ReaderFacts[];
  /** Columns that could name readers, and their values; empty where one is known to. */
  readerCandidates: { column: string | number; names: string[] }[];
  /** Rows by antenna, in natural order. */
  antennas: { name: string; rows: number }[];
  /** Rows that repeat an earlier one exactly, among the first `repeatsLookedAt`. */
  repeated: number;
  repeatsLookedAt: number;
  odd: OddLines[];
  /** What a person should know before using the log, in sentences. */
  remarks: string[];
  /** The `reader_logs` entry to paste into facility.yaml. */
  entry: string;
}

export type LogKind = "csv" | "tsv" | "jsonl" | "parquet";

export interface TextFacts {
  encoding: "ASCII" | "UTF-8" | "neither ASCII nor UTF-8";
  byteOrderMark: boolean;
  /** How many lines end in which way. */
  lineEnds: { lf: number; crlf: number; cr: number };
  finalNewline: boolean;
  /** Null for JSON lines and for a single column. */
  delimiter: string | null;
  decimal: "." | ",";
  header: "yes" | "no" | "commented";
  /** Counts from 1; null without a header. */
  headerLine: number | null;
  /** Lines of comment other than the header: settings, mostly. */
  comments: { line: number; text: string }[];
  commentCount: number;
  blankLines: number;
}

/** What a column is taken for. */
export type ColumnRole =
  | "time"
  | "last time"
  | "uptime"
  | "date alone"
  | "time of day alone"
  | "code"
  | "chip number"
  | "PC word"
  | "CRC"
  | "antenna"
  | "RSSI"
  | "count"
  | "reader"
  | "channel"
  | "frequency"
  | "phase"
  | "Doppler shift"
  | "power"
  | "reader's own settings"
  | "row number"
  | "unknown";

export interface DescribedColumn {
  /** The header's name, or the number from 1 where there is none. */
  name: string | number;
  samples: string[];
  role: ColumnRole;
  /** How that was told: `name` is as good as certain, the others are guesses. */
  by: "name" | "part of its name" | "values" | "nothing";
  /** Whether the entry names this column. */
  used: boolean;
}

export interface TimeFacts {
  column: string | number;
  unit: "iso" | "s" | "ms" | "us" | "ns";
  /** strftime pattern where the text is not ISO 8601. */
  format: string | null;
  /** Whether times state an offset from UTC: all, none or some of them. */
  offsets: "all" | "none" | "some" | "count since 1970";
  /** ISO 8601; null where no time could be read. With a Z where the instant is known, without where it is the log's own clock. */
  first: string | null;
  last: string | null;
  /** Rows earlier than the row before them, and the longest step back. */
  stepsBack: number;
  longestStepBackS: number;
  unreadable: number;
  /** Times outside 1990 to 2100, as clocks give that were never set. */
  outside: number;
  /** Whether every time is a whole second. */
  wholeSeconds: boolean;
}

export interface TagFacts {
  column: string | number;
  /** Distinct codes as they will be compared. */
  distinct: number;
  /** Distinct codes as they are written. */
  distinctWritten: number;
  form: "hex" | "pc-epc" | "pc-epc-crc" | "base64";
  /** How they are written, for instance `24 hexadecimal digits`: distinct codes of each way, most first. */
  shapes: { shape: string; codes: number }[];
}

export interface RssiFacts {
  column: string | number;
  min: number;
  /** The middle value, to about a hundredth of the range. */
  median: number;
  max: number;
  scale: "dBm" | "cdBm" | "tenths of a dBm" | "unsigned byte" | "positive" | "unclear";
  positive: number;
  zero: number;
  blank: number;
  unreadable: number;
}

export interface CountFacts {
  column: string | number;
  sum: number;
  max: number;
  /** Rows that stand for more than one read. */
  above1: number;
  unreadable: number;
}

export interface ReaderFacts {
  name: string;
  rows: number;
  first: string | null;
  last: string | null;
}

/** Lines that a reader of the log stumbles over, by reason. */
export interface OddLines {
  reason: string;
  count: number;
  /** The first few; line numbers count from 1. */
  first: { line: number; text: string }[];
}

/** The reason for lines that repeat the header. */
export const headerAgain = "the header once more, passed over";

/** The reason for lines in another encoding. */
export const noUtf8 = "bytes that are no UTF-8";

/** The reason for lines above the data that are no comments. */
export const lineBefore = "a line before the rows begin";

/** A file that cannot be described: the message is for the person who named it. */
export class UnreadableLog extends Error {}
