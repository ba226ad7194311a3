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
  const numbers = new Map<number, number>();
  const cells: WalkedCells = {
    columns,
    values: [],
    n: [],
    k: [],
    ofRow: new Int32Array(point.presented.length),
  };
  for (let at = 0; at < point.presented.length; at += 1) {
    const row = point.presented[at]!;
    let key = 0;
    for (const { names, valueIn } of columns) key = key * (names.length + 1) + valueIn(row) + 1;
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
