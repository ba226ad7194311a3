import type { DiagnosedPoint } from "./candidate.ts";
import { type DiagnosedColumn, diagnosedColumns } from "./columns.ts";

/** What was presented, by the combination of all columns' values that it was walked under. */
export interface WalkedCells {
  columns: DiagnosedColumn[];
  /** By cell: each column's value; -1 for a blank. */
  values: number[][];
  /** Presentations and misses of each cell. */
  n: number[];
  k: number[];
  /** The cell of each presented row, in their order. */
  ofRow: Int32Array;
}

/** Counted once; a million rows come to a few dozen cells. */
export function walkedCells(point: DiagnosedPoint): WalkedCells {
  const columns = diagnosedColumns(point);
  const { presentations, tagsRead } = point.walked.log.rows;
  const { length } = point.presented;
  let keys = new Float64Array(length);
  let different = 1;
  for (const { names, valueIn } of columns) {
    // Whole numbers beyond 2^53 are not told apart.
    if (different * (names.length + 1) > Number.MAX_SAFE_INTEGER) {
      const places = new Map([...new Set(keys)].map((key, place) => [key, place]));
      keys = keys.map((key) => places.get(key)!);
      different = places.size;
    }
    for (let at = 0; at < length; at += 1)
      keys[at] = keys[at]! * (names.length + 1) + valueIn(point.presented[at]!) + 1;
    different *= names.length + 1;
  }
  const numbers = new Map<number, number>();
  const cells: WalkedCells = { columns, values: [], n: [], k: [], ofRow: new Int32Array(length) };
  for (let at = 0; at < length; at += 1) {
    const row = point.presented[at]!;
    const key = keys[at]!;
    let cell = numbers.get(key);
    if (cell === undefined) {
      cell = cells.n.length;
      numbers.set(key, cell);
      cells.values.push(columns.map(({ valueIn }) => valueIn(row)));
      cells.n.push(0);
      cells.k.push(0);
    }
    cells.ofRow[at] = cell;
    cells.n[cell]! += presentations[row]!;
    cells.k[cell]! += presentations[row]! - tagsRead[row]!;
  }
  return cells;
}
