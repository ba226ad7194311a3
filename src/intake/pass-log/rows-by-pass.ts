/** The rows of each pass, in the order they were written: those of pass p are order[starts[p]] to order[starts[p + 1] - 1]. */
export interface RowsByPass {
  order: Int32Array;
  starts: Int32Array;
}

/**
 * Groups rows by pass.
 *
 * @param rank where each pass goes; as it stands where left out
 */
export function rowsByPass(pass: Int32Array, rows: number, passes: number, rank?: Int32Array): RowsByPass {
  const starts = new Int32Array(passes + 1);
  for (let row = 0; row < rows; row += 1) {
    const at = rank === undefined ? pass[row]! : rank[pass[row]!]!;
    starts[at + 1]! += 1;
  }
  for (let p = 0; p < passes; p += 1) starts[p + 1]! += starts[p]!;
  const next = starts.slice();
  const order = new Int32Array(rows);
  for (let row = 0; row < rows; row += 1) {
    const at = rank === undefined ? pass[row]! : rank[pass[row]!]!;
    order[next[at]!] = row;
    next[at]! += 1;
  }
  return { order, starts };
}
