import { isAscii } from "node:buffer";
import { CsvError, Parser } from "csv-parse";
import { parse } from "csv-parse/sync";

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

interface SplitRecords {
  records: CsvRecord[];
  fault: CsvFault | null;
}

/** Bounds that no table comes near: beyond them a file takes minutes and gigabytes. */
export const mostRecordBytes = 1_000_000;
export const mostColumns = 1000;

export const lineFeed = 0x0a;
const carriageReturn = 0x0d;
const quote = 0x22;

/** The byte with which a line ends; a line feed may have a carriage return before it. */
export function lineEndOf({ lineEnds }: CsvStyle): number {
  return lineEnds[0] === "\r" ? carriageReturn : lineFeed;
}

/**
 * Splits a file piece by piece, up to the first fault. csv-parse looks at every byte for quotes: up to the first piece that has
 * one it is not needed, and most files have none.
 */
export class RecordSplitter {
  readonly #style: CsvStyle;
  #parser: QuoteParser | null = null;
  #at: number;

  /** @param start the byte at which the first record starts */
  constructor(style: CsvStyle, start: number) {
    this.#style = style;
    this.#at = start;
  }

  /** The byte at which the record begins that is not complete yet. The parser's own bound would cost a sixth of its time. */
  get at(): number {
    return this.#parser?.at ?? this.#at;
  }

  /** Splits further bytes, which end where a line does or the file; null stands for the end of the file. */
  split(bytes: Buffer | null): SplitRecords {
    if (bytes?.includes(quote)) this.#parser ??= new QuoteParser(this.#style, this.#at);
    if (this.#parser !== null) return withinBounds(this.#parser.split(bytes), this.#parser.at);
    if (bytes === null) return { records: [], fault: null };
    const records = plainRecords(bytes, this.#at, this.#style);
    this.#at += bytes.length;
    return withinBounds({ records, fault: null }, this.#at);
  }
}

/** Cuts records off at the first that is too long or too wide. */
function withinBounds(split: SplitRecords, end: number): SplitRecords {
  const { records } = split;
  const endOf = (i: number) => records[i + 1]?.at ?? end;
  const beyond = records.findIndex(
    ({ cells, at }, i) => cells.length > mostColumns || endOf(i) - at > mostRecordBytes,
  );
  if (beyond < 0) return split;
  const { cells, at: record } = records[beyond]!;
  const isWide = cells.length > mostColumns;
  return {
    records: records.slice(0, beyond),
    fault: isWide ? { kind: "columns", record, cells: cells.length } : { kind: "length", record },
  };
}

/** Records without quotes. Most cells repeat the one above, which is then taken instead of made again. */
function plainRecords(bytes: Buffer, at: number, style: CsvStyle): CsvRecord[] {
  const encoding = isAscii(bytes) ? "latin1" : "utf8";
  const delimiter = style.delimiter.charCodeAt(0);
  const lineEnd = lineEndOf(style);
  const records: CsvRecord[] = [];
  let above: string[] = [];
  /** Where the last cell of each column starts and ends. */
  const starts: number[] = [];
  const ends: number[] = [];
  let cells: string[] = [];
  let recordStart = 0;
  let start = 0;
  for (let i = 0; recordStart < bytes.length; i += 1) {
    const byte = i < bytes.length ? bytes[i] : lineEnd;
    if (byte !== delimiter && byte !== lineEnd) continue;
    const isReturned = bytes[i] === lineFeed && i > start && bytes[i - 1] === carriageReturn;
    const end = isReturned ? i - 1 : i;
    const column = cells.length;
    const length = end - start;
    const isAsAbove =
      column < above.length &&
      ends[column]! - starts[column]! === length &&
      isRepeated(bytes, starts[column]!, start, length);
    cells.push(isAsAbove ? above[column]! : bytes.toString(encoding, start, end));
    starts[column] = start;
    ends[column] = end;
    start = i + 1;
    if (byte === delimiter) continue;
    records.push({ cells, at: at + recordStart });
    above = cells;
    cells = [];
    recordStart = start;
  }
  return records;
}

function isRepeated(bytes: Buffer, first: number, second: number, length: number): boolean {
  for (let i = 0; i < length; i += 1) if (bytes[first + i] !== bytes[second + i]) return false;
  return true;
}

/**
 * csv-parse without its streams: `push` collects the records, so that a million of them cost no queue. Nothing is cast:
 * codes such as 30E1 are text.
 */
class QuoteParser extends Parser {
  #records: CsvRecord[] = [];
  readonly #start: number;
  at: number;

  constructor(style: CsvStyle, start: number) {
    super(optionsOf(style));
    this.#start = start;
    this.at = start;
  }

  override push(cells: string[] | null): boolean {
    if (cells === null) return true;
    this.#records.push({ cells, at: this.at });
    this.at = this.#start + this.info.bytes;
    return true;
  }

  split(bytes: Buffer | null): SplitRecords {
    let fault: CsvFault | null = null;
    const done = (error?: Error | null) => {
      if (error) fault = this.#faultOf(error);
    };
    if (bytes === null) this._flush(done);
    else this._transform(bytes, "utf8", done);
    const records = this.#records;
    this.#records = [];
    return { records, fault };
  }

  #faultOf(error: Error): CsvFault {
    if (!(error instanceof CsvError)) throw error;
    const field = Number(error.column);
    return {
      kind: "quotes",
      isOpen: error.code === "CSV_QUOTE_NOT_CLOSED",
      record: this.at,
      field: Number.isInteger(field) ? field : null,
    };
  }
}

function optionsOf({ delimiter, lineEnds }: CsvStyle) {
  return { delimiter, record_delimiter: lineEnds, relax_column_count: true };
}

/** Where a field of the first record starts; the record's end where it has no such field. */
export function fieldStart(bytes: Buffer, field: number, style: CsvStyle): number {
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
