import { type Column, csvText } from "./csv.ts";

/** One downloadable table: the rows behind a figure, and what a reader is told of them. */
export interface Table {
  /** File name inside the facility's tables folder. */
  file: string;
  /** What the rows are, in words, for the list of downloads. */
  holds: string;
  rows: number;
  text(): string;
}

/** Rows and their columns bound together; the text is only made when it is written. */
export function table<Row>(file: string, holds: string, columns: Column<Row>[], rows: Row[]): Table {
  return { file, holds, rows: rows.length, text: () => csvText(columns, rows) };
}
