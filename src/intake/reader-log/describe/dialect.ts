import { roleOfName } from "./column-words.ts";
import { fieldsOf } from "./field-split.ts";
import { timeStyleOf } from "./time-texts.ts";

/** How a text log is written, told from its beginning. */
export interface Dialect {
  delimiter: string | null;
  decimal: "." | ",";
  /** Whether decimal points and decimal commas both occur. */
  decimalMixed: boolean;
  header: "yes" | "no" | "commented";
  headerLine: number | null;
  names: (string | number)[];
  /** How many names the header holds: rows may have more fields, or fewer. */
  namesInHeader: number | null;
  /** How many fields a row has. */
  width: number;
  /** Lines before this one hold no data. */
  firstDataLine: number;
}

const commentMark = /^\s*(?:#+|\/\/+)\s*/;

/** Whether a line is a comment: `#` or `//` in front. */
export function isComment(line: string): boolean {
  return commentMark.test(line);
}

export function commentText(line: string): string {
  return line.replace(commentMark, "").trim();
}

/** Recognises the dialect of the first lines of a log. */
export function dialectOf(lines: readonly string[]): Dialect {
  const numbered = lines.map((line, i) => ({ line, number: i + 1 }));
  const rows = numbered.filter(({ line }) => line.trim() !== "" && !isComment(line));
  const delimiter = delimiterOf(rows.map(({ line }) => line));
  const parted = rows.map(({ line, number }) => ({ number, fields: fieldsOf(line, delimiter) ?? [] }));
  const width = commonest(parted.map(({ fields }) => fields.length)) ?? 1;
  const first = Math.max(
    0,
    parted.findIndex(({ fields }) => fields.length === width || isNames(fields)),
  );
  const start = parted[first];
  const body = parted.slice(first + 1).filter(({ fields }) => fields.length === width);
  const data = body.map(({ fields }) => fields);
  const headed = start !== undefined && isHeader(start.fields, data);
  const commented =
    headed || start === undefined ? null : commentedHeader(numbered, start.number, delimiter, width);
  const values = headed || start === undefined ? data : [start.fields, ...data];
  const names = commented?.names ?? (headed ? start.fields : null);
  return {
    delimiter: width > 1 ? delimiter : null,
    ...decimalOf(values, delimiter),
    header: headed ? "yes" : commented === null ? "no" : "commented",
    headerLine: headed ? start.number : (commented?.number ?? null),
    names: names === null ? Array.from({ length: width }, (_, i) => i + 1) : filledUp(names, width),
    namesInHeader: names?.length ?? null,
    width,
    firstDataLine: start === undefined ? lines.length + 1 : headed ? start.number + 1 : start.number,
  };
}

/** The mark that parts the lines most evenly; of equals, the one that makes more fields. */
function delimiterOf(lines: readonly string[]): string | null {
  let best: { mark: string; even: number; width: number } | null = null;
  for (const mark of ["\t", ";", "|", ",", " "]) {
    const widths = lines.map((line) => fieldsOf(line, mark)?.length ?? 0);
    const width = commonest(widths) ?? 1;
    if (width < 2 || (mark === " " && best !== null)) continue;
    // The header must part like the rows: decimal commas part rows too, but no header.
    const headFits = widths[0] === width ? 0 : 0.5;
    const even =
      Math.round((widths.filter((found) => found === width).length / widths.length) * 20) / 20 - headFits;
    if (mark === " " && (even < 0.9 || width < 3)) continue;
    if (best === null || even > best.even || (even === best.even && width > best.width)) {
      best = { mark, even, width };
    }
  }
  return best?.mark ?? null;
}

/** A first row of names: nothing in it looks like a value, and something in it is a known name or unlike what is below. */
function isHeader(fields: readonly string[], below: readonly (readonly string[])[]): boolean {
  if (fields.some((field) => field !== "" && looksLikeValue(field))) return false;
  if (fields.some((field) => roleOfName(field)?.by === "name" && !/^\d*$/.test(field))) return true;
  return below.slice(0, 20).some((row) => row.some((field) => looksLikeValue(field)));
}

/** Several known names and nothing else: a header, even where the rows have more fields or fewer. */
function isNames(fields: readonly string[]): boolean {
  return (
    fields.filter((field) => roleOfName(field)?.by === "name").length >= 2 &&
    !fields.some((field) => looksLikeValue(field))
  );
}

/** As many names as fields; those without one are empty. */
function filledUp(names: readonly string[], width: number): string[] {
  return Array.from({ length: width }, (_, i) => names[i] ?? "");
}

function looksLikeValue(field: string): boolean {
  if (/^[-+]?[\d.,]+$/.test(field)) return true;
  if (/^(?:0x)?[0-9A-Fa-f]{16,}$/.test(field) || /^b'.*'$/.test(field)) return true;
  return field.length > 7 && timeStyleOf([field], ".").kind !== "none";
}

/** The comment right before the data whose words part into as many names as the rows have fields. */
function commentedHeader(
  lines: readonly { line: string; number: number }[],
  before: number,
  delimiter: string | null,
  width: number,
): { names: string[]; number: number } | null {
  for (let i = before - 2; i >= 0; i -= 1) {
    const { line, number } = lines[i]!;
    if (!isComment(line)) continue;
    const names = fieldsOf(commentText(line), delimiter);
    if (names === null || names.length !== width || names.some((name) => looksLikeValue(name))) continue;
    if (width > 1 || roleOfName(names[0]!) !== null) return { names, number };
  }
  return null;
}

function decimalOf(rows: readonly (readonly string[])[], delimiter: string | null) {
  let points = 0;
  let commas = 0;
  for (const row of rows) {
    for (const field of row) {
      if (/^[-+]?\d+\.\d+$/.test(field)) points += 1;
      else if (/^[-+]?\d+,\d+$/.test(field)) commas += 1;
    }
  }
  const decimal: "." | "," = commas > points ? "," : ".";
  return { decimal, decimalMixed: points > 0 && commas > 0 && delimiter !== null };
}

/** The value that occurs most; of equals, the larger. */
function commonest(values: readonly number[]): number | null {
  const counts = new Map<number, number>();
  for (const value of values) counts.set(value, (counts.get(value) ?? 0) + 1);
  let best: number | null = null;
  for (const [value, count] of counts) {
    const most = best === null ? 0 : counts.get(best)!;
    if (count > most || (count === most && value > best!)) best = value;
  }
  return best;
}
