import { trimmed, withPoint } from "./cells.ts";
import type { Header } from "./header.ts";
import type { RowStore, StoredColumn } from "./row-store.ts";

/** The columns that may differ from row to row: conditions, and those that criteria compare. */
export class RowColumns {
  /** The stored columns that this file has, and where. */
  readonly columns: StoredColumn[] = [];
  readonly fields: number[] = [];
  readonly #decimalComma: boolean;
  readonly #known: Map<string, number>[] = [];
  readonly #lastCell: string[] = [];
  readonly #lastId: number[] = [];

  constructor(rows: RowStore, header: Header, decimalComma: boolean) {
    this.#decimalComma = decimalComma;
    for (const column of rows.columns) {
      const field = header.fields.get(column.name);
      if (field === undefined) continue;
      this.columns.push(column);
      this.fields.push(field);
      this.#known.push(new Map());
      this.#lastCell.push("");
      this.#lastId.push(-1);
    }
  }

  /** Which text the record has in the file's i-th stored column; -1 for a blank. */
  idOf(i: number, record: string[]): number {
    const cell = record[this.fields[i]!]!;
    if (cell === this.#lastCell[i]) return this.#lastId[i]!;
    let id = this.#known[i]!.get(cell);
    if (id === undefined) {
      const text = trimmed(cell);
      id = text === "" ? -1 : this.columns[i]!.table.idOf(this.#decimalComma ? withPoint(text) : text);
      this.#known[i]!.set(cell, id);
    }
    this.#lastCell[i] = cell;
    this.#lastId[i] = id;
    return id;
  }

  /** Puts what the record says beside a row. */
  take(row: number, record: string[]): void {
    const { columns } = this;
    for (let i = 0; i < columns.length; i += 1) columns[i]!.index[row] = this.idOf(i, record);
  }
}
