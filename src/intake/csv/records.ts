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
  for (let i = 0; i < records.length; i += 1) {
    const { cells, at: record } = records[i]!;
    const isWide = cells.length > mostColumns;
    if (!isWide && (records[i + 1]?.at ?? end) - record <= mostRecordBytes) continue;
    return {
      records: records.slice(0, i),
      fault: isWide ? { kind: "columns", record, cells: cells.length } : { kind: "length", record },
    };
  }
  return split;
}

/** A text up to this length is copied where it is cut out of another; a longer one keeps the other in memory. */
const longestCopied = 12;

/**
 * Records without quotes, split as a text of one character a byte, so that places in it are places in the file. Most cells repeat the one
 * above, which is then taken instead of made again.
 */
function plainRecords(bytes: Buffer, at: number, style: CsvStyle): CsvRecord[] {
  const isPlain = isAscii(bytes);
  const encoding = isPlain ? "latin1" : "utf8";
  const isLineFeed = lineEndOf(style) === lineFeed;
  const lines = bytes.toString("latin1").split(isLineFeed ? "\n" : "\r");
  // The last line may lack its end; what follows the end of the last one is none.
  const last = lines.pop()!;
  const ended = lines.length;
  if (last !== "") lines.push(last);
  const records: CsvRecord[] = [];
  let above: string[] = [];
  let written: string[] = [];
  let start = 0;
  for (let i = 0; i < lines.length; i += 1) {
    const line = lines[i]!;
    const isReturned = isLineFeed && i < ended && line.endsWith("\r");
    const asWritten = (isReturned ? line.slice(0, -1) : line).split(style.delimiter);
    const cells = isPlain ? asWritten : [...asWritten];
    let from = start;
    for (let column = 0; column < asWritten.length; column += 1) {
      const cell = asWritten[column]!;
      const to = from + cell.length;
      if (cell === written[column]) cells[column] = above[column]!;
      else if (!isPlain || cell.length > longestCopied) cells[column] = bytes.toString(encoding, from, to);
      from = to + 1;
    }
    records.push({ cells, at: at + start });
    above = cells;
    written = asWritten;
    start += line.length + 1;
  }
  return records;
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
