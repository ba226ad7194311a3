import { type Cell, csvText, forSpreadsheets, markedText } from "./csv-text.ts";

/** A column of a table as a file. */
export interface CsvColumn<Row> {
  /** Says the unit where there is one. */
  header: string;
  value(row: Row): Cell;
}

/** The name of a table as a file, and its description. */
export interface TableFile {
  /** In the facility's folder of tables, without extension. */
  name: string;
  /** What the rows are, in words, for the list of downloads. */
  holds: string;
  /** The id of the read point it belongs to; left out where it belongs to the facility. */
  readPoint?: string;
}

/** A table as a file of the site. */
export interface CsvTable extends TableFile {
  rows: number;
  text(): string;
}

/** Makes the names of the tables of one read point. */
export type TableFiles = (name: string, holds: string) => TableFile;

/** Rows and their columns bound together; the text is only made when it is written. */
export function csvTable<Row>(file: TableFile, columns: CsvColumn<Row>[], rows: Row[]): CsvTable {
  return { ...file, rows: rows.length, text: () => tableText(columns, rows) };
}

/** A table as text, with a header. */
export function tableText<Row>(columns: CsvColumn<Row>[], rows: Row[], style = forSpreadsheets): string {
  const records = rows.map((row) => columns.map((column) => column.value(row)));
  return markedText(csvText([headersOf(columns), ...records], style));
}

/** Columns named by the client's own files may repeat one of ours: the later one gets a number. */
function headersOf<Row>(columns: CsvColumn<Row>[]): string[] {
  const taken = new Set<string>();
  return columns.map(({ header }) => {
    let name = header;
    for (let i = 2; taken.has(name); i += 1) name = `${header} (${i})`;
    taken.add(name);
    return name;
  });
}
