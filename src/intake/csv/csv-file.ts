import { isUtf8 } from "node:buffer";
import { createHash } from "node:crypto";
import { createReadStream } from "node:fs";
import { readFile } from "node:fs/promises";
import { CsvError, Parser } from "csv-parse";
import { parse } from "csv-parse/sync";
import type { CsvPlace } from "../problems/problem-list.ts";

/** One record of a CSV file, with the byte at which it starts. */
export interface CsvRecord {
  cells: string[];
  at: number;
}

/** What separates the cells and lines of a file. */
export interface CsvStyle {
  delimiter: "," | ";";
  lineEnds: string[];
  /** Whether numbers may carry a decimal comma. */
  decimalComma: boolean;
}

/** Why a file could not be read to its end. */
export type CsvFault =
  | { kind: "encoding"; encoding: string }
  | { kind: "separator"; separators: string[] }
  | { kind: "unreadable"; reason: string }
  | { kind: "quotes"; isOpen: boolean; record: number; field: number | null }
  | { kind: "length"; record: number }
  | { kind: "columns"; record: number; cells: number };

/** Bounds that no table comes near: beyond them a file takes minutes and gigabytes. */
export const mostRecordBytes = 1_000_000;
export const mostColumns = 1000;

export const notUtf8 = "not UTF-8";
/** In UTF-8, and yet in no text: what a failing disk or a program that writes binary data leaves. */
export const nulByte = "a NUL byte";
const lineFeed = 0x0a;
const carriageReturn = 0x0d;
/** Large enough to spare the costs of a stream, small enough that records die young. */
const chunkBytes = 1 << 18;

/** Reads a CSV file once, from end to end: its records, the hash of its bytes, and why it ended early if it did. */
export class CsvFile {
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
    let splitter: Splitter | null = null;
    let rest: Buffer = Buffer.alloc(0);
    try {
      for await (const piece of createReadStream(this.path, { highWaterMark: chunkBytes })) {
        const chunk = piece as Buffer;
        hash.update(chunk);
        this.bytes += chunk.length;
        // The hash is that of the whole file.
        if (this.fault !== null) continue;
        splitter ??= this.#splitterFor(chunk);
        if (splitter === null) continue;
        const bytes = rest.length === 0 ? chunk : Buffer.concat([rest, chunk]);
        const end = 1 + Math.max(bytes.lastIndexOf(lineFeed), bytes.lastIndexOf(carriageReturn));
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
  #overlong(splitter: Splitter, restBytes: number): CsvFault | null {
    if (restBytes > mostRecordBytes) return { kind: "length", record: this.bytes - restBytes };
    const isOpen = this.bytes - restBytes - splitter.at > mostRecordBytes;
    return isOpen ? { kind: "length", record: splitter.at } : null;
  }

  #splitterFor(start: Buffer): Splitter | null {
    const style = styleOf(start);
    if ("kind" in style) {
      this.fault = style;
      return null;
    }
    this.style = style;
    return new Splitter(style, bytesOfMark(start));
  }

  #split(splitter: Splitter, bytes: Buffer | null): CsvRecord[] {
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

/**
 * csv-parse without its streams: `push` collects the records of a chunk, so that a million records cost no queue. Nothing
 * is cast: codes such as 30E1 are text.
 */
class Splitter extends Parser {
  #records: CsvRecord[] = [];
  #at: number;
  #beyondBounds: CsvFault | null = null;

  constructor(style: CsvStyle, start: number) {
    super({ ...optionsOf(style), bom: true });
    this.#at = start;
  }

  override push(cells: string[] | null): boolean {
    if (cells === null) return true;
    const record = this.#at;
    this.#at = this.info.bytes;
    if (cells.length > mostColumns) this.#beyondBounds ??= { kind: "columns", record, cells: cells.length };
    else if (this.#at - record > mostRecordBytes) this.#beyondBounds ??= { kind: "length", record };
    if (this.#beyondBounds === null) this.#records.push({ cells, at: record });
    return true;
  }

  /** The byte at which the record begins that is not complete yet. The parser's own bound would cost a sixth of its time. */
  get at(): number {
    return this.#at;
  }

  /** Splits further bytes; null stands for the end of the file. */
  split(bytes: Buffer | null): { records: CsvRecord[]; fault: CsvFault | null } {
    let fault: CsvFault | null = null;
    const done = (error?: Error | null) => {
      if (error) fault = this.#faultOf(error);
    };
    if (bytes === null) this._flush(done);
    else this._transform(bytes, "utf8", done);
    const records = this.#records;
    this.#records = [];
    return { records, fault: this.#beyondBounds ?? fault };
  }

  #faultOf(error: Error): CsvFault {
    if (!(error instanceof CsvError)) throw error;
    const field = Number(error.column);
    return {
      kind: "quotes",
      isOpen: error.code === "CSV_QUOTE_NOT_CLOSED",
      record: this.#at,
      field: Number.isInteger(field) ? field : null,
    };
  }
}

function optionsOf({ delimiter, lineEnds }: CsvStyle) {
  return { delimiter, record_delimiter: lineEnds, relax_column_count: true };
}

/** Recognises the style from the first piece of a file, which holds the whole first line. */
function styleOf(start: Buffer): CsvStyle | CsvFault {
  const encoding = otherEncoding(start);
  if (encoding !== null) return { kind: "encoding", encoding };
  const text = start.toString("utf8").replace(/^\ufeff/, "");
  const lineEnds = text.includes("\r") && !text.includes("\n") ? ["\r"] : ["\r\n", "\n"];
  const header = /[^\r\n]+/.exec(text)?.[0] ?? "";
  const unquoted = header
    .split('"')
    .filter((_, i) => i % 2 === 0)
    .join("");
  const separators = Object.entries({ commas: ",", semicolons: ";", tabs: "\t" })
    .filter(([, mark]) => unquoted.includes(mark))
    .map(([name]) => name);
  if (separators.length > 1 || separators[0] === "tabs") return { kind: "separator", separators };
  const semicolons = separators[0] === "semicolons";
  return { delimiter: semicolons ? ";" : ",", lineEnds, decimalComma: semicolons };
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
  const lineEnd = "lineEnds" in style && style.lineEnds[0] === "\r" ? carriageReturn : lineFeed;
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

/** Where a field of the first record starts; the record's end where it has no such field. */
function fieldStart(bytes: Buffer, field: number, style: CsvStyle): number {
  if (field === 0) return 0;
  const ends: number[] = [];
  const cast = (value: string, { bytes: end }: { bytes: number }) => {
    ends.push(end);
    return value;
  };
  try {
    parse(bytes, { ...optionsOf(style), to: 1, cast });
  } catch (error) {
    // The fields before an unbalanced quote have been met by then.
    if (!(error instanceof CsvError)) throw error;
  }
  return ends.length < field ? (ends.at(-1) ?? 0) : ends[field - 1]! + 1;
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
