import { noRssi } from "../../../model/pass-log.ts";
import { TextTable } from "../../tables/text-table.ts";

/** One tag in one pass, or all tags of a pass that only counts them. */
export interface Row {
  /** Number of the tag; -1 where the row names none. */
  tag: number;
  /** One of `Role`. */
  role: number;
  /** How many tags the row stands for, and how many of them were read. */
  presentations: number;
  tagsRead: number;
  /** How often they were read; 0 where that is not known. */
  readCount: number;
  rssiDbm: number;
  /** Number of the antenna; -1 where none is known. */
  antenna: number;
  /** By column: the number of the text; -1 for a blank. */
  texts: readonly number[];
}

/** What a reader's own log adds to a row. */
export type Reading = Pick<Row, "readCount" | "rssiDbm" | "antenna">;

/** A column of texts beside the rows. */
export interface TextColumn {
  readonly name: string;
  readonly texts: TextTable;
  /** By row: the number of the text; -1 for a blank. */
  readonly ids: Numbers;
}

/** Numbers by row, to be read only. */
export interface Numbers {
  readonly [row: number]: number;
}

/**
 * All rows of a facility, a column each in arrays that grow. Rows are added, and read by number; nothing else writes
 * into the arrays.
 */
export class ColumnTable {
  readonly tags = new TextTable();
  readonly antennas = new TextTable();
  readonly #texts: { name: string; texts: TextTable; ids: Int32Array<ArrayBuffer> }[];
  #length = 0;
  #pass = new Int32Array(0);
  #at = new Float64Array(0);
  #tag = new Int32Array(0);
  #role = new Uint8Array(0);
  #presentations = new Int32Array(0);
  #tagsRead = new Int32Array(0);
  #readCounts = new Int32Array(0);
  #rssiDbm = new Float64Array(0);
  #antenna = new Int16Array(0);

  constructor(columns: readonly string[]) {
    this.#texts = columns.map((name) => ({ name, texts: new TextTable(), ids: new Int32Array(0) }));
  }

  get length(): number {
    return this.#length;
  }
  /** Number of the pass. */
  get pass(): Numbers {
    return this.#pass;
  }
  /** Byte of the pass log at which the record of the row starts. */
  get at(): Numbers {
    return this.#at;
  }
  get tag(): Numbers {
    return this.#tag;
  }
  get role(): Numbers {
    return this.#role;
  }
  get presentations(): Numbers {
    return this.#presentations;
  }
  get tagsRead(): Numbers {
    return this.#tagsRead;
  }
  get readCounts(): Numbers {
    return this.#readCounts;
  }
  get rssiDbm(): Numbers {
    return this.#rssiDbm;
  }
  get antenna(): Numbers {
    return this.#antenna;
  }
  get columns(): readonly TextColumn[] {
    return this.#texts;
  }

  column(name: string): TextColumn | null {
    return this.#texts.find((column) => column.name === name) ?? null;
  }

  addRow(pass: number, at: number, row: Row): void {
    const i = this.#length;
    if (i === this.#pass.length) this.#grow();
    this.#length += 1;
    this.#pass[i] = pass;
    this.#at[i] = at;
    this.#tag[i] = row.tag;
    this.#role[i] = row.role;
    this.#presentations[i] = row.presentations;
    this.#tagsRead[i] = row.tagsRead;
    this.#readCounts[i] = row.readCount;
    this.#rssiDbm[i] = row.rssiDbm;
    this.#antenna[i] = row.antenna;
    for (let c = 0; c < this.#texts.length; c += 1) this.#texts[c]!.ids[i] = row.texts[c]!;
  }

  /** Marks a tag that was presented or placed as read. */
  markRead(row: number, { readCount, rssiDbm, antenna }: Reading): void {
    this.#tagsRead[row] = 1;
    this.#readCounts[row] = readCount;
    this.#rssiDbm[row] = rssiDbm;
    this.#antenna[row] = antenna;
  }

  /**
   * Row numbers pass by pass, in the order in which they were added: those of pass p are order[starts[p]] to
   * order[starts[p + 1] - 1].
   *
   * @param rank where each pass goes
   */
  byPass(rank: Numbers, passes: number): { order: Int32Array; starts: Int32Array } {
    const starts = new Int32Array(passes + 1);
    for (let row = 0; row < this.#length; row += 1) starts[rank[this.#pass[row]!]! + 1]! += 1;
    for (let p = 0; p < passes; p += 1) starts[p + 1]! += starts[p]!;
    const next = starts.slice();
    const order = new Int32Array(this.#length);
    for (let row = 0; row < this.#length; row += 1) {
      const p = rank[this.#pass[row]!]!;
      order[next[p]!] = row;
      next[p]! += 1;
    }
    return { order, starts };
  }

  #grow(): void {
    const size = Math.max(1024, this.#pass.length * 2);
    this.#pass = grown(Int32Array, this.#pass, size);
    this.#at = grown(Float64Array, this.#at, size);
    this.#tag = grown(Int32Array, this.#tag, size);
    this.#role = grown(Uint8Array, this.#role, size);
    this.#presentations = grown(Int32Array, this.#presentations, size);
    this.#tagsRead = grown(Int32Array, this.#tagsRead, size);
    this.#readCounts = grown(Int32Array, this.#readCounts, size);
    this.#rssiDbm = grown(Float64Array, this.#rssiDbm, size);
    this.#antenna = grown(Int16Array, this.#antenna, size);
    for (const column of this.#texts) column.ids = grown(Int32Array, column.ids, size);
  }
}

type TypedArray =
  | Float64Array<ArrayBuffer>
  | Int32Array<ArrayBuffer>
  | Int16Array<ArrayBuffer>
  | Uint8Array<ArrayBuffer>;

function grown<T extends TypedArray>(kind: new (length: number) => T, old: T, size: number): T {
  const array = new kind(size);
  array.set(old);
  return array;
}

/** A tag of which nothing is known but that it was not read. */
export function unreadTag(tag: number, role: number, texts: readonly number[]): Row {
  return { tag, role, presentations: 1, tagsRead: 0, readCount: 0, rssiDbm: noRssi, antenna: -1, texts };
}
