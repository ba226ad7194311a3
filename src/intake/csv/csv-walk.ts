import { isUtf8 } from "node:buffer";
import { createHash } from "node:crypto";
import { createReadStream } from "node:fs";
import { CsvError, Parser } from "csv-parse";
import { type CsvStyle, styleOf } from "./csv-style.ts";

/** Why a file could not be read to its end. */
export interface CsvFault {
  kind: "encoding" | "separator" | "quotes" | "unreadable";
  /** Which encoding, separator or quoting fault it is. */
  detail: string;
  /** Where it was noticed; null where it concerns the whole file. */
  record: number | null;
  field: number | null;
}

export interface CsvWalk {
  sha256: string;
  bytes: number;
  style: CsvStyle | null;
  fault: CsvFault | null;
}

type OnRecord = (record: string[], ordinal: number, style: CsvStyle) => void;

/**
 * Records are handed over as they are found instead of being queued in an object-mode stream: for a million rows that
 * is the difference between the parser's own time and a good part more.
 */
class RecordParser extends Parser {
  records = 0;
  /** What the receiver threw: kept until it can be thrown where somebody catches it. */
  thrown: { error: unknown } | null = null;
  readonly #onRecord: (record: string[], ordinal: number) => void;

  constructor(style: CsvStyle, onRecord: (record: string[], ordinal: number) => void) {
    super({
      bom: true,
      delimiter: style.delimiter,
      record_delimiter: style.lineEnds,
      relax_column_count: true,
    });
    this.#onRecord = onRecord;
  }

  override push(record: unknown): boolean {
    if (record === null) return super.push(null);
    if (this.thrown !== null) return true;
    try {
      this.#onRecord(record as string[], this.records);
    } catch (error) {
      this.thrown = { error };
    }
    this.records += 1;
    return true;
  }
}

/** Reads a CSV file once, from end to end: every record in turn, and the hash of its bytes. */
export async function walkCsv(path: string, onRecord: OnRecord): Promise<CsvWalk> {
  const hash = createHash("sha256");
  const walk: CsvWalk = { sha256: "", bytes: 0, style: null, fault: null };
  let parser: RecordParser | null = null;
  let finished: Promise<void> | null = null;
  let failure: CsvError | null = null;
  let tail: Buffer = Buffer.alloc(0);
  try {
    for await (const piece of createReadStream(path, { highWaterMark: 1 << 20 })) {
      const chunk = piece as Buffer;
      hash.update(chunk);
      walk.bytes += chunk.length;
      if (walk.fault !== null) continue;
      if (parser === null) {
        const { style, fault } = styleOf(chunk);
        walk.style = style;
        walk.fault = fault;
        if (style === null) continue;
        parser = new RecordParser(style, (record, ordinal) => onRecord(record, ordinal, style));
        finished = ended(parser, (error) => {
          failure = error;
        });
      }
      const [whole, rest] = atCharacterEnd(tail, chunk);
      tail = rest;
      if (!isUtf8(whole)) {
        walk.fault = { kind: "encoding", detail: "not UTF-8", record: null, field: null };
        continue;
      }
      if (!parser.write(whole)) await new Promise<void>((resolve) => drained(parser!, resolve));
      if (failure !== null) walk.fault = quoteFault(failure, parser.records);
    }
  } catch (error) {
    const { syscall, code } = error as NodeJS.ErrnoException;
    if (syscall === undefined) throw error;
    const detail = code ?? "";
    walk.fault = { kind: "unreadable", detail, record: null, field: null };
  }
  if (parser !== null && walk.fault === null && tail.length > 0) {
    walk.fault = { kind: "encoding", detail: "not UTF-8", record: null, field: null };
  }
  if (parser !== null && finished !== null) {
    if (walk.fault === null) {
      parser.end();
      await finished;
      if (failure !== null) walk.fault = quoteFault(failure, parser.records);
    } else parser.destroy();
    if (parser.thrown !== null) throw parser.thrown.error;
  }
  walk.sha256 = hash.digest("hex");
  return walk;
}

/** A character cut in two by the end of a chunk waits for the next one. */
function atCharacterEnd(tail: Buffer, chunk: Buffer): [Buffer, Buffer] {
  const whole = tail.length === 0 ? chunk : Buffer.concat([tail, chunk]);
  for (let back = 1; back <= Math.min(3, whole.length); back += 1) {
    const byte = whole[whole.length - back]!;
    if (byte < 0x80) break;
    if (byte < 0xc0) continue;
    const length = byte >= 0xf0 ? 4 : byte >= 0xe0 ? 3 : 2;
    if (length > back) return [whole.subarray(0, whole.length - back), whole.subarray(whole.length - back)];
    break;
  }
  return [whole, Buffer.alloc(0)];
}

function drained(parser: RecordParser, resolve: () => void): void {
  if (parser.destroyed) {
    resolve();
    return;
  }
  const done = () => {
    parser.off("drain", done);
    parser.off("error", done);
    parser.off("close", done);
    resolve();
  };
  parser.on("drain", done);
  parser.on("error", done);
  parser.on("close", done);
}

function ended(parser: RecordParser, onFailure: (error: CsvError) => void): Promise<void> {
  return new Promise((resolve) => {
    parser.once("end", resolve);
    parser.once("close", resolve);
    parser.once("error", (error) => {
      onFailure(error as CsvError);
      resolve();
    });
    parser.resume();
  });
}

function quoteFault(error: CsvError, record: number): CsvFault {
  if (!(error instanceof CsvError)) throw error;
  const field = Number(error.column);
  return { kind: "quotes", detail: error.code, record, field: Number.isInteger(field) ? field : null };
}
