/** One cell of a table: a number is never altered, a text is guarded, nothing is an empty cell. */
export type Cell = string | number | null;

export interface Column<Row> {
  /** Says the unit where there is one. */
  header: string;
  cell(row: Row): Cell;
}

/**
 * A table as CSV after RFC 4180: commas, CRLF after every line, quotes where a cell needs them.
 *
 * A byte order mark stands in front only where the table holds something beyond ASCII: spreadsheets take UTF-8 for
 * another encoding without it, and in a plain table it would only stick to the first header of other tools.
 */
export function csvText<Row>(columns: Column<Row>[], rows: Row[]): string {
  const lines = [headersOf(columns).map(cellText).join(",")];
  for (const row of rows) lines.push(columns.map((column) => cellText(column.cell(row))).join(","));
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
function headersOf<Row>(columns: Column<Row>[]): string[] {
  const taken = new Set<string>();
  return columns.map(({ header }) => {
    let name = header;
    for (let i = 2; taken.has(name); i += 1) name = `${header} (${i})`;
    taken.add(name);
    return name;
  });
}
