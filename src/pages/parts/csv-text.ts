/** One cell of a table: a number is never altered, a text may be guarded, null is an empty cell. */
export type Cell = string | number | null;

/** How a table is written. */
export interface CsvStyle {
  separator: "," | ";";
  lineEnd: "\r\n" | "\n";
  /** Which texts stand in quotes. */
  quoted: RegExp;
  /** A spreadsheet would run a text that starts like a formula: the same text, so that it does not. */
  guarded(text: string): string;
}

/** For people who open a table in a spreadsheet. */
export const forSpreadsheets: CsvStyle = {
  separator: ",",
  lineEnd: "\r\n",
  quoted: /[",\r\n]|^\s|\s$/,
  guarded: (text) => (/^[=+\-@\t\r]/.test(text) ? `'${text}` : text),
};

const numeric = /^-?(?:\d+\.?\d*|\.\d+)$/;

/**
 * For pass logs, which spreadsheets may open and the tool reads: it takes the blanks around a cell away, so that every
 * text comes back as it is. A semicolon stands in quotes, since a log may be separated by them.
 */
export const forPassLogs: CsvStyle = {
  separator: ",",
  lineEnd: "\r\n",
  quoted: /[",;\r\n]|^\s|\s$/,
  guarded: (text) => (/^[=+\-@]/.test(text) && !numeric.test(text) ? `\u00a0${text}` : text),
};

/** A table as CSV after RFC 4180. */
export function csvText(records: readonly (readonly Cell[])[], style: CsvStyle): string {
  let text = "";
  for (const record of records) {
    for (let i = 0; i < record.length; i += 1)
      text += i === 0 ? cellText(record[i]!, style) : style.separator + cellText(record[i]!, style);
    text += style.lineEnd;
  }
  return text;
}

/** Codes, ids, times and most words: no style guards them or puts them in quotes. */
const plain = /^\w(?:[\w .:/()-]*\w)?$/;

function cellText(cell: Cell, { quoted, guarded }: CsvStyle): string {
  if (cell === null) return "";
  if (typeof cell === "number" || plain.test(cell)) return String(cell);
  const text = guarded(cell);
  return quoted.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

/**
 * The same text, with a byte order mark in front where anything in it lies beyond ASCII: spreadsheets take UTF-8 for
 * another encoding without it, and in a plain table it would only stick to the first header of other tools.
 */
export function markedText(text: string): string {
  return /[\u0080-\uFFFF]/.test(text) ? `\uFEFF${text}` : text;
}
