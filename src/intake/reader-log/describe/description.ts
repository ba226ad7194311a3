import type { RefusalReason } from "../values.ts";
import type { FormGuess, TagFacts } from "./codes.ts";
import type { ColumnName, DescribedColumn } from "./columns.ts";
import type { FileKind } from "./sample.ts";
import type { TimeGuess } from "./times.ts";

/** What is known of one reader log: nothing in it is a judgement, and every guess says that it is one. */
export interface LogDescription {
  path: string;
  kind: FileKind;
  gzipped: boolean;
  bytes: number;
  /** Null of Parquet. */
  text: TextFacts | null;
  columns: DescribedColumn[];
  /** Doubts about the columns, in sentences. */
  doubts: string[];
  guess: { time: TimeGuess; form: FormGuess };
  rssi: RssiFacts | null;
  /** What the reading with the entry shows; null where no entry can be written. */
  read: ReadFacts | null;
}

export interface TextFacts {
  encoding: "ASCII" | "UTF-8" | "neither ASCII nor UTF-8";
  byteOrderMark: boolean;
  /** How many lines end in which way. */
  lineEnds: { lf: number; crlf: number; cr: number };
  finalNewline: boolean;
  delimiter: string;
  decimal: "." | ",";
  /** Whether decimal points and decimal commas both occur. */
  mixesDecimals: boolean;
  header: "yes" | "no" | "commented";
  /** From 1; null without a header. */
  headerLine: number | null;
  /** How many names the header holds; null without one. */
  namesInHeader: number | null;
  /** Comments other than the header: settings, mostly. The first of them. */
  comments: { line: number; text: string }[];
  commentCount: number;
  blankLines: number;
  /** Lines that are passed over though they are not comments. */
  passedOver: OddLines[];
}

/** Lines that are refused or passed over, by reason. */
export interface OddLines {
  reason: RefusalReason | "header again" | "above the header";
  /** What is wrong with them. */
  words: string;
  count: number;
  /** The first few. */
  first: { line: number | null; text: string }[];
}

export interface RssiFacts {
  column: ColumnName;
  scale: RssiScale;
  /** As written. */
  min: number;
  median: number;
  max: number;
  /** Rows with a level of 0, with none, and with one that cannot be dBm. */
  zero: number;
  blank: number;
  outside: number;
}

export type RssiScale = "dBm" | "cdBm" | "tenths of a dBm" | "unsigned byte" | "positive" | "unclear";

/** Whether the entry can name the column: in a unit that facility.yaml knows, with no level that is refused. */
export function isUsable({ scale, outside }: Pick<RssiFacts, "scale" | "outside">): boolean {
  return (scale === "dBm" || scale === "cdBm") && outside === 0;
}

export interface ReadFacts {
  /** Rows of data, refused ones included. */
  rows: number;
  refused: number;
  /** Rows that repeat others exactly. */
  repeated: number;
  time: TimeFacts;
  tags: TagFacts;
  codeRemarks: string[];
  /** Null where the entry names no count. */
  count: { sum: number; max: number; above1: number } | null;
  /** Valid rows by reader, in the order of their names; empty where no column names one. */
  readers: { name: string; rows: number; first: string; last: string }[];
  /** Columns that could name readers, and their values; empty where one is known to. */
  readerCandidates: { column: ColumnName; names: string[] }[];
  /** Valid rows by antenna, in natural order; empty where no column names one. */
  antennas: { name: string; rows: number }[];
  /** In the order of their first lines. */
  odd: OddLines[];
}

export interface TimeFacts {
  /** Whether times state an offset from UTC, judged by the first of them. */
  offsets: "all" | "none" | "some" | "count since 1970";
  /** ISO 8601; null where no time could be read. With a Z where the instant is known, without where it is the log's own clock. */
  first: string | null;
  last: string | null;
  /** Rows earlier than the row before them, and the longest step back. */
  stepsBack: number;
  longestStepBackS: number;
  /** Whether every time is a whole second. */
  wholeSeconds: boolean;
}
