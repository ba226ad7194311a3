import type { ReaderLogSpec } from "../../model/facility.ts";

/** How a log's rows are kept. */
export type LogKind = "delimited" | "json-lines" | "parquet";

/** A file that an entry of `reader_logs` names. */
export interface LogSource {
  /** Place in the order of reading; the file's number in the database. */
  index: number;
  /** Relative to the facility's folder, with `/`. */
  path: string;
  /** Where it is on this machine. */
  place: string;
  bytes: number;
  kind: LogKind;
  zipped: boolean;
  delimiter: string;
  spec: ReaderLogSpec;
}

/** Where a source keeps what is asked of a row. */
export interface LogLayout {
  /** Columns in all. */
  width: number;
  /** Lines as they stand in the file that hold no row wherever they stand: the header, and what is above it. */
  noRows: string[];
  /** Lines from the top to the first line of data. */
  skip: number;
  /** The expressions' names for what is asked: a column's number from 1, or a key, or a column's name. */
  columns: Record<Asked, number | string | null>;
  /** Columns that nothing is asked of; they still tell two rows apart. */
  rest: (number | string)[];
  /** Types of the columns, where the file states them. */
  types: Map<string, string>;
}

export type Asked = "time" | "epc" | "antenna" | "rssi" | "count" | "reader";

/** What an entry of `reader_logs` asks of each row. */
export function askedColumns(spec: ReaderLogSpec): Record<Asked, string | number | null> {
  return {
    ...spec.columns,
    reader: spec.readPoint.kind === "column" ? spec.readPoint.column : null,
  };
}
