import { noRssi } from "../../model/pass-log.ts";
import { TextTable } from "./text-table.ts";

/** One column of texts beside the rows. */
export class StoredColumn {
  readonly name: string;
  readonly table = new TextTable();
  index = new Int32Array(0);

  constructor(name: string) {
    this.name = name;
  }
}

/** Rows as they are read, in arrays that grow; beside each row, where it was written. */
export class RowStore {
  readonly tags = new TextTable();
  readonly antennas = new TextTable();
  readonly columns: StoredColumn[];
  length = 0;
  pass = new Int32Array(0);
  tag = new Int32Array(0);
  role = new Uint8Array(0);
  presentations = new Int32Array(0);
  reads = new Int32Array(0);
  rssiDbm = new Float64Array(0);
  antenna = new Int16Array(0);
  /** The record of the pass log, and of the manifest where the row comes from one (else -1). */
  record = new Int32Array(0);
  manifestRecord = new Int32Array(0);

  constructor(columns: readonly string[]) {
    this.columns = columns.map((name) => new StoredColumn(name));
  }

  /** A new row, of one tag that was not read, with nothing known of it; the caller fills it in. */
  open(pass: number, record: number): number {
    const row = this.length;
    if (row === this.pass.length) this.#grow();
    this.length += 1;
    this.pass[row] = pass;
    this.record[row] = record;
    this.presentations[row] = 1;
    return row;
  }

  #grow(): void {
    const size = Math.max(1024, this.pass.length * 2);
    this.pass = grown(Int32Array, this.pass, size, 0);
    this.tag = grown(Int32Array, this.tag, size, -1);
    this.role = grown(Uint8Array, this.role, size, 0);
    this.presentations = grown(Int32Array, this.presentations, size, 0);
    this.reads = grown(Int32Array, this.reads, size, 0);
    this.rssiDbm = grown(Float64Array, this.rssiDbm, size, noRssi);
    this.antenna = grown(Int16Array, this.antenna, size, -1);
    this.record = grown(Int32Array, this.record, size, 0);
    this.manifestRecord = grown(Int32Array, this.manifestRecord, size, -1);
    for (const column of this.columns) column.index = grown(Int32Array, column.index, size, -1);
  }
}

type Numbers =
  | Float64Array<ArrayBuffer>
  | Int32Array<ArrayBuffer>
  | Int16Array<ArrayBuffer>
  | Uint8Array<ArrayBuffer>;

function grown<T extends Numbers>(kind: new (length: number) => T, old: T, size: number, blank: number): T {
  const array = new kind(size);
  array.set(old);
  if (blank !== 0) array.fill(blank, old.length);
  return array;
}
