import { isUtf8 } from "node:buffer";
import { createHash } from "node:crypto";
import { closeSync, openSync, readSync } from "node:fs";
import { readFile } from "node:fs/promises";
import type { CsvPlace } from "../problems/problem-list.ts";
import {
  type CsvFault,
  type CsvRecord,
  type CsvStyle,
  fieldStart,
  lineEndOf,
  lineFeed,
  mostRecordBytes,
  RecordSplitter,
} from "./records.ts";
import type { TableSource } from "./table-source.ts";

export const notUtf8 = "not UTF-8";
/** In UTF-8, and yet in no text: what a failing disk or a program that writes binary data leaves. */
export const nulByte = "a NUL byte";
/** Large enough to spare the costs of a stream, small enough that records die young. */
const chunkBytes = 1 << 18;

/** Reads a CSV file once, from end to end: its records, the hash of its bytes, and why it ended early if it did. */
export class CsvFile implements TableSource {
  readonly isCsv = true;
  readonly path: string;
  sha256 = "";
  bytes = 0;
  style: CsvStyle | null = null;
  fault: CsvFault | null = null;

  constructor(path: string) {
    this.path = path;
  }

  /** The records, some thousand at a time: one at a time would cost more than splitting them. */
  async *records(): AsyncGenerator<CsvRecord[]> {
    const hash = createHash("sha256");
    let splitter: RecordSplitter | null = null;
    let rest: Buffer = Buffer.alloc(0);
    try {
      for (const chunk of piecesOf(this.path)) {
        hash.update(chunk);
        this.bytes += chunk.length;
        // The hash is that of the whole file.
        if (this.fault !== null) continue;
        const isFirst = splitter === null;
        splitter ??= this.#splitterFor(chunk);
        if (splitter === null) continue;
        const bytes = isFirst ? chunk.subarray(splitter.at) : Buffer.concat([rest, chunk]);
        const end = 1 + bytes.lastIndexOf(lineEndOf(this.style!));
        rest = bytes.subarray(end);
        yield this.#split(splitter, bytes.subarray(0, end));
        this.fault ??= this.#overlong(splitter, rest.length);
      }
    } catch (error) {
      const { syscall, code } = error as NodeJS.ErrnoException;
      if (syscall === undefined) throw error;
      this.fault = { kind: "unreadable", reason: code ?? "" };
    }
    if (splitter !== null && this.fault === null) yield this.#split(splitter, rest);
    if (splitter !== null && this.fault === null) yield this.#split(splitter, null);
    this.sha256 = hash.digest("hex");
  }

  /** A line, or a record in quotes over many lines, that is too long before its end has come. */
  #overlong(splitter: RecordSplitter, restBytes: number): CsvFault | null {
    if (restBytes > mostRecordBytes) return { kind: "length", record: this.bytes - restBytes };
    const isOpen = this.bytes - restBytes - splitter.at > mostRecordBytes;
    return isOpen ? { kind: "length", record: splitter.at } : null;
  }

  #splitterFor(start: Buffer): RecordSplitter | null {
    const style = styleOf(start);
    if ("kind" in style) {
      this.fault = style;
      return null;
    }
    this.style = style;
    return new RecordSplitter(style, bytesOfMark(start));
  }

  #split(splitter: RecordSplitter, bytes: Buffer | null): CsvRecord[] {
    if (bytes !== null && !isUtf8(bytes)) {
      this.fault = { kind: "encoding", encoding: notUtf8 };
      return [];
    }
    if (bytes?.includes(0)) {
      this.fault = { kind: "encoding", encoding: nulByte };
      return [];
    }
    const { records, fault } = splitter.split(bytes);
    this.fault = fault;
    return records;
  }
}

/** A file piece by piece. A folder has dozens of small tables, each of which a stream costs more than its bytes do. */
function* piecesOf(path: string): Generator<Buffer> {
  const file = openSync(path, "r");
  let room = Buffer.alloc(0);
  try {
    for (;;) {
      if (room.length === 0) room = Buffer.allocUnsafe(chunkBytes);
      const bytes = readSync(file, room);
      if (bytes === 0) return;
      yield room.subarray(0, bytes);
      room = room.subarray(bytes);
    }
  } finally {
    closeSync(file);
  }
}

/** Recognises the style from the first piece of a file, which holds the whole first line. */
function styleOf(start: Buffer): CsvStyle | CsvFault {
  const encoding = otherEncoding(start);
  if (encoding !== null) return { kind: "encoding", encoding };
  const text = start.toString("utf8").replace(/^\ufeff/, "");
  const lineEnds = text.includes("\r") && !text.includes("\n") ? ["\r"] : ["\r\n", "\n"];
  // One more, since the first is blank where the file starts with an end of line.
  const lines = text
    .slice(0, longestTitle)
    .split(/[\r\n]+/, mostLinesAbove + 1)
    .filter((line) => line !== "");
  const first = lines[0] ?? "";
  // A title is all in one cell, whatever marks it has, and tells nothing of the table below it.
  const below = lines.slice(1, mostLinesAbove).find((line) => isRowOfSemicolons(line));
  const isOneCell = first.split(";").filter((cell) => cell.trim() !== "").length === 1;
  const isTitle = below !== undefined && isOneCell && separatorsIn(first).join() !== "commas";
  const separators = separatorsIn(isTitle ? below : first);
  if (separators.length > 1 || separators[0] === "tabs") return { kind: "separator", separators };
  const semicolons = separators[0] === "semicolons";
  return { delimiter: semicolons ? ";" : ",", lineEnds, decimalComma: semicolons };
}

const marks = { commas: ",", semicolons: ";", tabs: "\t" };
const longestTitle = 65_536;
const mostLinesAbove = 10;
const fewestSemicolons = 2;

/** The names of the separators in a line, outside of quotes. */
function separatorsIn(line: string): string[] {
  const unquoted = withoutQuoted(line);
  return Object.entries(marks)
    .filter(([, mark]) => unquoted.includes(mark))
    .map(([name]) => name);
}

function withoutQuoted(line: string): string {
  return line
    .split('"')
    .filter((_, i) => i % 2 === 0)
    .join("");
}

/** Whether a line has several cells that hold something, and semicolons alone between them. */
function isRowOfSemicolons(line: string): boolean {
  const cells = withoutQuoted(line).split(";");
  const filled = cells.filter((cell) => cell.trim() !== "").length;
  return cells.length > fewestSemicolons && filled > 1 && separatorsIn(line).join() === "semicolons";
}

function otherEncoding(start: Buffer): string | null {
  const mark = start.subarray(0, 2).toString("hex");
  if (mark === "fffe" || mark === "feff") return "UTF-16";
  return start.subarray(0, 4096).includes(0) ? "UTF-16 or no text at all" : null;
}

/** The length of the byte order mark that a file starts with. */
function bytesOfMark(start: Buffer): number {
  return start.subarray(0, 3).toString("hex") === "efbbbf" ? 3 : 0;
}

export type PlaceFinder = (place: CsvPlace) => { line: number; column: number };

/**
 * Finds the lines and columns of the few records that somebody has to look at. Counting them along the way costs three
 * times the reading, so the file is gone through again, and only where there is something to say about it.
 */
export async function csvPlaces(path: string): Promise<PlaceFinder> {
  const bytes = await readFile(path);
  const style = styleOf(bytes.subarray(0, chunkBytes));
  const lineEnd = "kind" in style ? lineFeed : lineEndOf(style);
  const mark = bytesOfMark(bytes);
  let line = 1;
  let lineStart = 0;
  return ({ record, field }) => {
    const isWhole = field === null || "kind" in style;
    const at = isWhole ? record : record + fieldStart(bytes.subarray(record), field, style);
    // Most places come in the order of the file, so counting goes on from the last one.
    if (at < lineStart) [line, lineStart] = [1, 0];
    for (;;) {
      const end = bytes.indexOf(lineEnd, lineStart);
      if (end < 0 || end >= at) break;
      line += 1;
      lineStart = end + 1;
    }
    return { line, column: bytes.toString("utf8", Math.max(lineStart, mark), at).length + 1 };
  };
}

/** The first line that is not UTF-8 or holds a NUL byte, with the text as far as it can be read. */
export async function firstForeignLine(path: string): Promise<{ line: number; text: string } | null> {
  const bytes = await readFile(path);
  let start = 0;
  for (let line = 1; start <= bytes.length; line += 1) {
    const found = bytes.indexOf(lineFeed, start);
    const end = found < 0 ? bytes.length : found;
    const piece = bytes.subarray(start, end);
    if (!isUtf8(piece) || piece.includes(0)) return { line, text: piece.toString("latin1").trim() };
    start = end + 1;
  }
  return null;
}
