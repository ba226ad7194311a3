import {
  columnsTooMany,
  columnUnnamed,
  fileEmpty,
  fileWithoutRows,
  headerRepeated,
  quotesUnbalanced,
  rowsTooMany,
  rowTooLong,
  rowWidth,
  semicolonSeparated,
  separatorsMixed,
  titleAboveHeader,
} from "../problems/csv-file.ts";
import { encodingNotUtf8, fileUnreadable } from "../problems/folder.ts";
import type { CsvReport } from "../problems/reports.ts";
import { firstForeignLine, notUtf8, nulByte } from "./csv-file.ts";
import { type CsvRecord, mostColumns, mostRecordBytes } from "./records.ts";
import type { TableFault, TableSource } from "./table-source.ts";

/** A file as the inputs page lists it. */
export interface Source {
  path: string;
  sha256: string;
  bytes: number;
  /** Records of data: neither the header nor blank ones. */
  rows: number;
}

/** A title and what is written with it; a header further down is none. */
const mostTitleLines = 9;
const sampleRecords = 50;
/** A bound that no table comes near; with more the memory of a usual machine may not do. */
export const mostTableRows = 10_000_000;

/** Where a table comes from, and whom its problems go to. */
export interface SheetOrigin {
  report: CsvReport;
  source: TableSource;
  onDisk: string;
  /** What a row of it is: `passes`, `tags`. */
  rowsAre: string;
  /** Left out for the usual bound. */
  mostRows?: number;
}

/** A table with a header, and rows as wide as it. Blank records are what a spreadsheet leaves around its table. */
export class Sheet {
  /** Relative to the facility's folder. */
  readonly path: string;
  readonly report: CsvReport;
  readonly #onDisk: string;
  readonly #table: TableSource;
  readonly #batches: AsyncGenerator<CsvRecord[]>;
  /** What a row of it is: `passes`, `tags`. */
  readonly #rowsAre: string;
  readonly #mostRows: number;
  #unread: CsvRecord[] = [];
  /** The names in the header as they are compared with rows; null before it is read. */
  #names: string[] | null = null;
  /** Fields without a name, in which nothing has been met yet. */
  #unnamed: number[] = [];
  /** A first cell that is none of a header. */
  #firstOfRow: string | null = null;
  #rows = 0;

  constructor({ report, source, onDisk, rowsAre, mostRows = mostTableRows }: SheetOrigin) {
    this.report = report;
    this.path = report.file;
    this.#onDisk = onDisk;
    this.#table = source;
    this.#batches = source.records();
    this.#rowsAre = rowsAre;
    this.#mostRows = mostRows;
  }

  /** Whether it could not be read to its end. */
  get isFaulty(): boolean {
    return this.#table.fault !== null;
  }

  get decimalComma(): boolean {
    return this.#table.style?.decimalComma ?? false;
  }

  /** What separates the cells of a CSV file; null of a sheet in a workbook, and before the header was read. */
  get delimiter(): string | null {
    return this.#table.style?.delimiter ?? null;
  }

  /** Complete once all rows have been read. */
  get source(): Source {
    const { sha256, bytes } = this.#table;
    return { path: this.path, sha256, bytes, rows: this.#rows };
  }

  /**
   * The header: the first record that is not blank, or the first of the next few that names columns, where that one is a title.
   * Null where there is none.
   */
  async header(namesColumns: (record: CsvRecord) => boolean = () => true): Promise<CsvRecord | null> {
    const records: CsvRecord[] = [];
    const filled: CsvRecord[] = [];
    // A loop over the generator would close it behind the header.
    while (filled.length <= mostTitleLines + 1) {
      const next = await this.#batches.next();
      if (next.done) break;
      records.push(...next.value);
      filled.push(...next.value.filter(({ cells }) => !isBlank(cells)));
    }
    const header = filled.slice(0, mostTitleLines + 1).find(namesColumns) ?? filled[0];
    if (header === undefined) return null;
    const lines = filled.indexOf(header);
    if (lines > 0) this.#remarkOnTitle(filled[0]!, lines);
    this.#names = namesOf(header.cells);
    this.#unnamed = this.#names.flatMap((name, field) => (name === "" ? [field] : []));
    this.#unread = records.slice(records.indexOf(header) + 1);
    return header;
  }

  /** The first records below the header. */
  get sample(): readonly CsvRecord[] {
    return this.#unread.slice(0, sampleRecords);
  }

  #remarkOnTitle({ cells, at }: CsvRecord, lines: number): void {
    const title = cells.filter((cell) => cell.trim() !== "").join(" ");
    this.report.at({ record: at, field: null }, titleAboveHeader.with({ title, lines }));
  }

  /** All rows after the header, some thousand at a time; objects to those that are not as wide. Null counts them only. */
  async *rows(width: number | null): AsyncGenerator<CsvRecord[]> {
    yield this.#sound(this.#unread, width);
    for await (const records of this.#batches) {
      yield this.#sound(records, width);
      if (this.#rows <= this.#mostRows) continue;
      this.report.at({ record: records[0]!.at, field: null }, rowsTooMany.with({ most: this.#mostRows }));
      break;
    }
    await this.#reportFile();
  }

  /** Leaves the rest of a file unread. */
  async close(): Promise<void> {
    await this.#batches.return(undefined);
  }

  /** Reads a file to its end whose header tells nothing. */
  async skipRows(): Promise<void> {
    for await (const _ of this.rows(null));
  }

  #sound(records: CsvRecord[], width: number | null): CsvRecord[] {
    return records.filter((record) => {
      const { cells } = record;
      if (cells[0] === "" && isBlank(cells)) return false;
      this.#rows += 1;
      if (width === null) return false;
      if (this.#isHeader(cells)) {
        this.report.at({ record: record.at, field: null }, headerRepeated);
        return false;
      }
      if (this.#unnamed.length > 0) this.#checkUnnamed(record);
      if (cells.length === width || isWide(cells, width)) return true;
      this.#reportWidth(record, width);
      return false;
    });
  }

  #checkUnnamed({ cells, at }: CsvRecord): void {
    const filled = this.#unnamed.filter((field) => (cells[field] ?? "").trim() !== "");
    for (const field of filled)
      this.report.at({ record: at, field }, columnUnnamed.with({ number: field + 1 }));
    this.#unnamed = this.#unnamed.filter((field) => !filled.includes(field));
  }

  #isHeader(cells: string[]): boolean {
    const names = this.#names!;
    const first = cells[0]!;
    // The first cell alone tells of nearly every row that it is none, and most repeat the one above.
    if (first === this.#firstOfRow) return false;
    if (nameOf(first) !== names[0]) {
      this.#firstOfRow = first;
      return false;
    }
    const own = namesOf(cells);
    return own.length === names.length && own.every((name, i) => name === names[i]);
  }

  #reportWidth({ cells, at }: CsvRecord, width: number): void {
    if (!this.#table.isCsv) {
      const field = cells.findIndex((cell, i) => i >= width && cell.trim() !== "");
      this.report.at({ record: at, field }, columnUnnamed.with({ number: field + 1 }));
      return;
    }
    const isComma = this.#table.style?.delimiter === ",";
    const others = isComma ? /[;\t]/ : /[,\t]/;
    const facts = { cells, width, separator: isComma ? "comma" : "semicolon" };
    const isMixed = cells.length < width && cells.some((cell) => others.test(cell));
    this.report.at(
      { record: at, field: cells.length > width ? width : null },
      isMixed ? separatorsMixed.inRow(facts) : rowWidth.with(facts),
    );
  }

  async #reportFile(): Promise<void> {
    const { fault, style } = this.#table;
    if (fault !== null) return this.#reportFault(fault);
    if (style?.delimiter === ";") this.report.at({ record: 0, field: null }, semicolonSeparated);
    if (this.#rows > 0) return;
    this.report.whole((this.#names !== null ? fileWithoutRows : fileEmpty).with({ rows: this.#rowsAre }));
  }

  async #reportFault(fault: TableFault): Promise<void> {
    if (fault.kind === "told") {
      if (fault.place === null) this.report.whole(fault.problem);
      else this.report.at(fault.place, fault.problem);
    } else if (fault.kind === "unreadable") this.report.whole(fileUnreadable.with({ reason: fault.reason }));
    else if (fault.kind === "separator") {
      this.report.at({ record: 0, field: null }, separatorsMixed.inHeader(fault));
    } else if (fault.kind === "length") {
      this.report.at({ record: fault.record, field: null }, rowTooLong.with({ most: mostRecordBytes }));
    } else if (fault.kind === "columns") {
      const facts = { cells: fault.cells, most: mostColumns };
      this.report.at({ record: fault.record, field: null }, columnsTooMany.with(facts));
    } else if (fault.kind === "quotes") {
      this.report.at({ record: fault.record, field: fault.field }, quotesUnbalanced.with(fault));
    } else await this.#reportEncoding(fault.encoding);
  }

  async #reportEncoding(encoding: string): Promise<void> {
    const hasLine = encoding === notUtf8 || encoding === nulByte;
    const foreign = hasLine ? await firstForeignLine(this.#onDisk) : null;
    if (foreign === null) {
      this.report.whole(encodingNotUtf8.encoded({ encoding }));
      return;
    }
    const place = { file: this.path, line: foreign.line, column: 1 };
    this.report.problems.report(
      place,
      (encoding === nulByte ? encodingNotUtf8.nulInLine : encodingNotUtf8.inLine)({ text: foreign.text }),
    );
  }
}

/** Headers compare without case and without the blanks around names and at the end of the line. */
function namesOf(cells: string[]): string[] {
  const names = cells.map(nameOf);
  while (names.at(-1) === "") names.pop();
  return names;
}

function nameOf(cell: string): string {
  return cell.trim().toLowerCase();
}

function isBlank(cells: string[]): boolean {
  return cells.every((cell) => cell.trim() === "");
}

/** More cells than the header names are fine as long as they are blank. */
function isWide(cells: string[], width: number): boolean {
  return cells.length > width && cells.slice(width).every((cell) => cell.trim() === "");
}
