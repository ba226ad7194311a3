import { isUtf8 } from "node:buffer";
import { readFile } from "node:fs/promises";
import type { CsvPlace } from "../problem-list.ts";
import { styleOf } from "./csv-style.ts";

const quote = 0x22;
const lineFeed = 0x0a;
const carriageReturn = 0x0d;

interface LineAndColumn {
  line: number;
  column: number;
}

export type PlaceFinder = (place: CsvPlace) => LineAndColumn | null;

/**
 * Finds lines and columns again for the few records that someone has to look at. The parser could count them along the
 * way, at three times the cost of reading; so the file is gone through a second time, and only where there is something to say.
 */
export async function csvPlaces(path: string, places: readonly CsvPlace[]): Promise<PlaceFinder> {
  const bytes = await readFile(path);
  const wanted = new Set(places.map((place) => place.record));
  const last = places.reduce((most, place) => Math.max(most, place.record), 0);
  const { style } = styleOf(bytes.subarray(0, 1 << 20));
  const marks: Marks = {
    delimiter: style?.delimiter === ";" ? 0x3b : 0x2c,
    lineEnd: style?.lineEnds[0] === "\r" ? carriageReturn : lineFeed,
  };
  const starts = recordStarts(bytes, marks.lineEnd, wanted, last);
  return ({ record, field }) => {
    const start = starts.get(record);
    if (start === undefined) return null;
    const { offset, line } = start;
    return field === null ? { line, column: 1 } : fieldPlace(bytes, marks, offset, line, field);
  };
}

interface Marks {
  delimiter: number;
  lineEnd: number;
}

interface Start {
  offset: number;
  line: number;
}

function recordStarts(
  bytes: Buffer,
  lineEnd: number,
  wanted: ReadonlySet<number>,
  last: number,
): Map<number, Start> {
  const starts = new Map<number, Start>();
  let record = 0;
  let line = 1;
  let inQuotes = false;
  let start: Start = { offset: hasMark(bytes) ? 3 : 0, line: 1 };
  for (let i = start.offset; i < bytes.length && record <= last; i += 1) {
    const byte = bytes[i]!;
    if (byte === quote) inQuotes = !inQuotes;
    if (byte !== lineEnd) continue;
    line += 1;
    if (inQuotes) continue;
    if (wanted.has(record)) starts.set(record, start);
    record += 1;
    start = { offset: i + 1, line };
  }
  if (wanted.has(record) && !starts.has(record)) starts.set(record, start);
  return starts;
}

function fieldPlace(
  bytes: Buffer,
  { delimiter, lineEnd }: Marks,
  offset: number,
  line: number,
  field: number,
): LineAndColumn {
  let inQuotes = false;
  let at = offset;
  let lineStart = offset;
  let lineAt = line;
  for (let passed = 0; at < bytes.length && passed < field; at += 1) {
    const byte = bytes[at]!;
    if (byte === quote) inQuotes = !inQuotes;
    else if (byte === lineEnd) {
      // A record that ends early has no such field: its end is the place to look at.
      if (!inQuotes) break;
      lineAt += 1;
      lineStart = at + 1;
    } else if (byte === delimiter && !inQuotes) passed += 1;
  }
  return {
    line: lineAt,
    column: bytes.subarray(lineStart, at).toString("utf8").replace(/\r$/, "").length + 1,
  };
}

function hasMark(bytes: Buffer): boolean {
  return bytes.length >= 3 && bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf;
}

/** The first line that is not UTF-8, with the text as far as it can be read. */
export async function firstForeignLine(path: string): Promise<{ line: number; text: string } | null> {
  const bytes = await readFile(path);
  let start = 0;
  for (let line = 1; start <= bytes.length; line += 1) {
    const found = bytes.indexOf(lineFeed, start);
    const end = found < 0 ? bytes.length : found;
    const piece = bytes.subarray(start, end);
    if (!isUtf8(piece)) return { line, text: piece.toString("latin1").trim() };
    start = end + 1;
  }
  return null;
}
