/** One cell of a table: a number is never altered, a text is guarded, nothing is an empty cell. */
export type Cell = string | number | null;

/** A column of a table as a file. */
export interface CsvColumn<Row> {
  /** Says the unit where there is one. */
  header: string;
  value(row: Row): Cell;
}

/** What a table is called as a file, and what a reader is told of it. */
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

/** How the tables of one read point are called. */
export type TableFiles = (name: string, holds: string) => TableFile;

/** Rows and their columns bound together; the text is only made when it is written. */
export function csvTable<Row>(file: TableFile, columns: CsvColumn<Row>[], rows: Row[]): CsvTable {
  return { ...file, rows: rows.length, text: () => csvText(columns, rows) };
}

/**
 * A table as CSV after RFC 4180: commas, CRLF after every line, quotes where a cell needs them.
 *
 * A byte order mark stands in front only where the table holds something beyond ASCII: spreadsheets take UTF-8 for
 * another encoding without it, and in a plain table it would only stick to the first header of other tools.
 */
export function csvText<Row>(columns: CsvColumn<Row>[], rows: Row[]): string {
  const lines = [headersOf(columns).map(cellText).join(",")];
  for (const row of rows) lines.push(columns.map((column) => cellText(column.value(row))).join(","));
  const text = `${lines.join("\r\n")}\r\n`;
  return beyondAscii.test(text) ? `\uFEFF${text}` : text;
}

const beyondAscii = /[\u0080-\uFFFF]/;
const needsQuotes = /[",\r\n]|^\s|\s$/;
const startsAFormula = /^[=+\-@\t\r]/;

function cellText(cell: Cell): string {
  if (cell === null) return "";
  if (typeof cell === "number") return String(cell);
  const text = guarded(cell);
  return needsQuotes.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

/** A spreadsheet would run a text that starts like a formula; an apostrophe in front makes it plain text. */
function guarded(text: string): string {
  return startsAFormula.test(text) ? `'${text}` : text;
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
