import type { ColumnName } from "../../../model/facility.ts";
import type { LogDatabase } from "../database/database.ts";
import { commentMark, isBlankOrComment } from "../forms/lines.ts";
import { splitLines } from "../layout.ts";
import { roleOfName } from "../source/column-words.ts";

/** How a delimited log is written, guessed from its first lines. */
export interface Table {
  delimiter: string;
  decimal: "." | ",";
  /** Whether decimal points and decimal commas both occur. */
  mixesDecimals: boolean;
  header: "yes" | "no" | "commented";
  /** From 1; null without a header. */
  headerLine: number | null;
  names: ColumnName[];
  /** How many names the header holds: rows may have more fields, or fewer. */
  namesInHeader: number | null;
  /** Rows with as many fields as most. */
  rows: string[][];
}

/** Of these marks the one that divides the lines most evenly is the delimiter. */
const delimiters = ["\t", ";", "|", ",", " "];
const linesCompared = 200;

export async function guessTable(database: LogDatabase, lines: readonly string[]): Promise<Table> {
  const numbers = lines.flatMap((text, line) => (isBlankOrComment(text) ? [] : [line]));
  const data = numbers.map((line) => lines[line]!);
  const delimiter = await guessDelimiter(database, data.slice(0, linesCompared));
  const split = await fieldsOf(database, data, delimiter);
  const width = commonest(split.map((fields) => fields.length));
  const start = Math.max(
    0,
    split.findIndex((fields) => fields.length === width || areNames(fields)),
  );
  const first = split[start] ?? [];
  const isRow = (fields: readonly string[]) => fields.length === width;
  const isHeader = looksLikeHeader(first, split.slice(start + 1).filter(isRow));
  const above = lines.slice(0, numbers[start] ?? lines.length);
  const header = isHeader
    ? { line: numbers[start]!, names: first }
    : await commentedHeader(database, above, { delimiter, width });
  // A log that was joined from parts has its header several times.
  const isAgain = (fields: readonly string[]) => isHeader && fields.join("\n") === first.join("\n");
  const rows = split.slice(start).filter((fields) => isRow(fields) && !isAgain(fields));
  // A delimiter at the end of every line makes no column.
  const isOpen =
    width > 1 && [header?.names ?? [], ...rows].every((fields) => (fields[width - 1] ?? "") === "");
  const columns = isOpen ? width - 1 : width;
  return {
    delimiter,
    ...decimalOf(rows),
    header: isHeader ? "yes" : header === null ? "no" : "commented",
    headerLine: header === null ? null : header.line + 1,
    names: Array.from({ length: columns }, (_, i) => (header === null ? i + 1 : (header.names[i] ?? ""))),
    namesInHeader: header === null ? null : Math.min(header.names.length, isOpen ? columns : Infinity),
    rows: rows.map((row) => row.slice(0, columns)),
  };
}

/** The fields of lines; none where quotes do not close. */
async function fieldsOf(
  database: LogDatabase,
  lines: readonly string[],
  delimiter: string,
): Promise<string[][]> {
  const split = await splitLines(database, lines, delimiter);
  return split.map((fields) => (fields ?? []).map((field) => field.trim()));
}

/** A comma where no mark divides lines: then there is one column. */
async function guessDelimiter(database: LogDatabase, lines: readonly string[]): Promise<string> {
  let best: { delimiter: string; evenness: number; width: number } | null = null;
  for (const delimiter of delimiters) {
    if (!lines.some((line) => line.includes(delimiter))) continue;
    const widths = (await fieldsOf(database, lines, delimiter)).map((fields) => fields.length);
    const width = commonest(widths);
    if (width < 2) continue;
    // The header must divide like the rows: decimal commas divide rows too, but no header.
    const headFault = widths[0] === width ? 0 : 0.5;
    const share = widths.filter((each) => each === width).length / widths.length;
    const evenness = Math.round(share * 20) / 20 - headFault;
    if (delimiter === " " && (best !== null || evenness < 0.9 || width < 3)) continue;
    if (best === null || evenness > best.evenness || (evenness === best.evenness && width > best.width))
      best = { delimiter, evenness, width };
  }
  return best?.delimiter ?? ",";
}

/** A first row of names: nothing in it looks like a value, and something in it is a known name or unlike what is below. */
function looksLikeHeader(fields: readonly string[], below: readonly (readonly string[])[]): boolean {
  if (fields.some(looksLikeValue)) return false;
  if (fields.some((field) => roleOfName(field)?.by === "name")) return true;
  return below.slice(0, 20).some((row) => row.some(looksLikeValue));
}

/** Several known names and nothing else: a header, even where the rows have more fields or fewer. */
function areNames(fields: readonly string[]): boolean {
  return (
    fields.filter((field) => roleOfName(field)?.by === "name").length >= 2 && !fields.some(looksLikeValue)
  );
}

function looksLikeValue(field: string): boolean {
  return (
    /^[-+]?[\d.,]+$/.test(field) ||
    /^(?:0x)?[0-9A-Fa-f]{16,}$/.test(field) ||
    /^b'.*'$/.test(field) ||
    // A date or a time of day.
    /\d[-/.:]\d{1,2}[-/.:]\d|\d:\d\d|\d{8}[T _-]?\d{6}/.test(field) ||
    /\d{1,2} [A-Za-z]{3,} \d{4} |[A-Za-z]{3,} \d{1,2},? \d{4} /.test(field)
  );
}

/** The comment right above the data that has as many names as the rows have fields. */
async function commentedHeader(
  database: LogDatabase,
  above: readonly string[],
  { delimiter, width }: { delimiter: string; width: number },
): Promise<{ line: number; names: string[] } | null> {
  const names = await fieldsOf(
    database,
    above.map((line) => line.replace(commentMark, "")),
    delimiter,
  );
  const line = above.findLastIndex((text, i) => {
    const fields = names[i]!;
    const isTelling = width > 1 || roleOfName(fields[0] ?? "") !== null;
    return commentMark.test(text) && fields.length === width && isTelling && !fields.some(looksLikeValue);
  });
  return line < 0 ? null : { line, names: names[line]! };
}

function decimalOf(rows: readonly (readonly string[])[]): Pick<Table, "decimal" | "mixesDecimals"> {
  const numbers = rows.flat();
  const points = numbers.filter((field) => /^[-+]?\d+\.\d+$/.test(field)).length;
  const commas = numbers.filter((field) => /^[-+]?\d+,\d+$/.test(field)).length;
  return { decimal: commas > points ? "," : ".", mixesDecimals: points > 0 && commas > 0 };
}

/** The value that occurs most; of equals, the larger; 1 of none. */
function commonest(values: readonly number[]): number {
  const counts = new Map<number, number>();
  for (const value of values) counts.set(value, (counts.get(value) ?? 0) + 1);
  const [most] = [...counts].sort(([a, rowsA], [b, rowsB]) => rowsB - rowsA || b - a);
  return most?.[0] ?? 1;
}
