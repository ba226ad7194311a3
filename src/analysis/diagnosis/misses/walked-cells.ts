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
  const { n, missed } = point.of;
  const { length } = n;
  const ofRow = new Int32Array(length);
  // One column after the other: the cells so far, each divided by the values of the next one.
  let count = 1;
  for (const { names, values } of columns) {
    const width = names.length + 1;
    const numbers = new Int32Array(count * width).fill(-1);
    count = 0;
    for (let i = 0; i < length; i += 1) {
      const key = ofRow[i]! * width + values[i]! + 1;
      if (numbers[key] === -1) numbers[key] = count++;
      ofRow[i] = numbers[key]!;
    }
  }
  const cells = length === 0 ? 0 : count;
  const [presentations, misses] = [new Float64Array(cells), new Float64Array(cells)];
  const first = new Int32Array(cells).fill(-1);
  for (let i = 0; i < length; i += 1) {
    const cell = ofRow[i]!;
    if (first[cell] === -1) first[cell] = i;
    presentations[cell]! += n[i]!;
    misses[cell]! += missed[i]!;
  }
  return {
    columns,
    values: Array.from(first, (i) => columns.map(({ values }) => values[i]!)),
    n: Array.from(presentations),
    k: Array.from(misses),
    ofRow,
  };
}
