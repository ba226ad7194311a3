import { isSpreadsheetNumber } from "../../../codes/canonical-code.ts";
import { decimalOf } from "../../../model/decimal.ts";
import { noRssi } from "../../../model/pass-log.ts";
import { isRssi } from "../../../model/radio/rssi.ts";
import { trimmed, withPoint } from "../../csv/cells.ts";
import type { CsvRecord } from "../../csv/records.ts";
import { rssiOutOfRange, tagInExponentNotation } from "../../problems/pass-log.ts";
import type { CsvReport } from "../../problems/reports.ts";
import type { Header } from "../../tables/header.ts";
import type { TextTable } from "../../tables/text-table.ts";
import type { ColumnTable } from "./table.ts";

const mostTagsRemembered = 500_000;

/** Tag codes of one file, as numbers into the table of tags. */
export class TagCells {
  readonly #tags: TextTable;
  readonly #report: CsvReport;
  readonly #known = new Map<string, number>();

  constructor(tags: TextTable, report: CsvReport) {
    this.#tags = tags;
    this.#report = report;
  }

  /** -1 for a blank. */
  read({ cells, at }: CsvRecord, field: number): number {
    const cell = cells[field]!;
    let id = this.#known.get(cell);
    if (id !== undefined) return id;
    const code = trimmed(cell);
    if (isSpreadsheetNumber(code))
      this.#report.cell({ record: at, field, value: code }, tagInExponentNotation);
    id = code === "" ? -1 : this.#tags.idOf(code);
    if (this.#known.size >= mostTagsRemembered) this.#known.clear();
    this.#known.set(cell, id);
    return id;
  }
}

const mostLevelsRemembered = 50_000;

/** RSSI of one file in dBm, as it was written. */
export class RssiCells {
  readonly #report: CsvReport;
  readonly #decimalComma: boolean;
  readonly #known = new Map<string, number>([["", noRssi]]);

  constructor(report: CsvReport, decimalComma: boolean) {
    this.#report = report;
    this.#decimalComma = decimalComma;
  }

  /** `noRssi` for a blank. */
  read({ cells, at }: CsvRecord, field: number): number {
    const cell = cells[field]!;
    const known = this.#known.get(cell);
    if (known !== undefined) return known;
    const text = trimmed(cell);
    const dbm = decimalOf(this.#decimalComma ? withPoint(text) : text);
    if (text !== "" && !isRssi(dbm)) {
      this.#report.cell({ record: at, field, value: text }, rssiOutOfRange.with({ text, dbm }));
      return noRssi;
    }
    // A written -0 is 0.
    const level = text === "" ? noRssi : dbm || 0;
    if (this.#known.size >= mostLevelsRemembered) this.#known.clear();
    this.#known.set(cell, level);
    return level;
  }
}

interface ConditionColumn {
  field: number;
  texts: TextTable;
  known: Map<string, number>;
  lastCell: string;
  lastId: number;
}

/**
 * The columns of one file that may differ from row to row: conditions, and those that criteria compare. Each text is a
 * number into the table of its column.
 */
export class ConditionCells {
  /** By column of the table; null where the file has no such column. */
  readonly #columns: (ConditionColumn | null)[];
  readonly #decimalComma: boolean;

  constructor(table: ColumnTable, header: Header, decimalComma: boolean) {
    this.#decimalComma = decimalComma;
    this.#columns = table.columns.map(({ name, texts }) => {
      const field = header.fields.get(name);
      return field === undefined ? null : { field, texts, known: new Map(), lastCell: "", lastId: -1 };
    });
  }

  /** By column of the table: the number of the text; -1 for a blank. */
  read({ cells }: CsvRecord): number[] {
    return this.#columns.map((column) => (column === null ? -1 : this.#idOf(column, cells[column.field]!)));
  }

  #idOf(column: ConditionColumn, cell: string): number {
    if (cell === column.lastCell) return column.lastId;
    let id = column.known.get(cell);
    if (id === undefined) {
      const text = trimmed(cell);
      id = text === "" ? -1 : column.texts.idOf(this.#decimalComma ? withPoint(text) : text);
      column.known.set(cell, id);
    }
    column.lastCell = cell;
    column.lastId = id;
    return id;
  }
}
