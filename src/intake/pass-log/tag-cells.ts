import { isSpreadsheetNumber } from "../../codes/canonical-code.ts";
import { trimmed } from "./cells.ts";
import type { CsvReporter } from "./csv-reporter.ts";
import type { RowStore } from "./row-store.ts";

const mostRemembered = 500_000;

/** Tag codes of one file, as numbers into the table of tags. */
export class TagCells {
  readonly #rows: RowStore;
  readonly #report: CsvReporter;
  readonly #known = new Map<string, number>();

  constructor(rows: RowStore, report: CsvReporter) {
    this.#rows = rows;
    this.#report = report;
  }

  /** -1 for a blank. */
  idOf(cell: string, ordinal: number, field: number): number {
    let id = this.#known.get(cell);
    if (id !== undefined) return id;
    const code = trimmed(cell);
    if (isSpreadsheetNumber(code)) {
      this.#report.cell(
        ordinal,
        field,
        "tag-in-exponent-notation",
        code,
        "the tag's code in full",
        "A spreadsheet took the code for a number and its digits are lost: import the column as text from the original file, then save again.",
      );
    }
    id = code === "" ? -1 : this.#rows.tags.idOf(code);
    if (this.#known.size >= mostRemembered) this.#known.clear();
    this.#known.set(cell, id);
    return id;
  }
}
