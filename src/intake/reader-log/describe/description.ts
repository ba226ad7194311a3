import type { ColumnName } from "../../../model/facility.ts";
import type { LineEnds } from "../forms/lines.ts";
import type { LogSums, NamedRows, TimeOrder } from "../statements.ts";
import type { RefusalReason } from "../values.ts";
import type { FormGuess, TagFacts } from "./codes.ts";
import type { DescribedColumn } from "./columns.ts";
import type { EventChoice } from "./events.ts";
import type { LogForm } from "./lists.ts";
import type { FileKind } from "./sample.ts";
import type { Table } from "./table.ts";
import type { TimeGuess } from "./times.ts";

/** What is known of one reader log: nothing in it is a judgement, and every guess says that it is one. */
export interface LogDescription {
  path: string;
  kind: FileKind;
  /** Of a log that is read item by item. */
  form: LogForm | null;
  gzipped: boolean;
  bytes: number;
  /** How its lines are divided; null of JSON and Parquet. */
  table: Table | null;
  /** Null of Parquet. */
  text: TextFacts | null;
  columns: DescribedColumn[];
  /** The columns of the code, of which the first that is filled holds it. */
  codes: ColumnName[];
  /** Which rows are reads. */
  only: EventChoice[];
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
  lineEnds: LineEnds;
  finalNewline: boolean;
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
  /** Rows that are other events than reads. */
  otherEvents: number;
  /** Rows that repeat others exactly. */
  repeated: number;
  sums: LogSums;
  order: TimeOrder;
  longestFallUs: number;
  tags: TagFacts;
  codeRemarks: string[];
  /** By the column that names the reader, in the order of the names; empty without one. */
  readers: NamedRows[];
  /** Columns that could name readers, and their values; empty where one is known to. */
  readerCandidates: { column: ColumnName; names: string[] }[];
  /** In natural order; empty where no column names the antenna. */
  antennas: NamedRows[];
  /** In the order of their first lines. */
  odd: OddLines[];
}
