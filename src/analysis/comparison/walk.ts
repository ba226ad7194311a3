import { type PresentationCounts, presentationCounter } from "../../measures/presentations.ts";
import { type PassLog, Role } from "../../model/pass-log.ts";
import type { RowCombinations } from "../../model/row-combinations.ts";
import type { CellCount } from "./standardised-rate.ts";

/** What one round presented at one read point in its valid passes, sorted by combination of conditions. */
export interface Walk {
  round: string;
  /** Row numbers that presented something, and the combination of each. */
  rows: Int32Array;
  cellOfRow: Int32Array;
  byCell: Map<number, CellCount>;
}

/** Some of a walk's combinations, counted. */
export interface Counted {
  counts: PresentationCounts;
  /** Tags named in them; null where a row names none. */
  tags: Set<number> | null;
}

/** Sorts the rows of one read point in one round; rows of void passes and of tags not presented are passed over. */
export function sortedWalk(round: string, rows: Int32Array, log: PassLog, cells: RowCombinations): Walk {
  const { pass, role, presentations, reads } = log.rows;
  const taken = rows.filter(
    (row) =>
      role[row] === Role.presented && presentations[row]! > 0 && log.passes[pass[row]!]!.voidReason === null,
  );
  const cellOfRow = taken.map((row) => cells.of(row));
  const byCell = new Map<number, CellCount>();
  taken.forEach((row, i) => {
    const count = byCell.get(cellOfRow[i]!);
    if (count === undefined) byCell.set(cellOfRow[i]!, { n: presentations[row]!, k: reads[row]! });
    else {
      count.n += presentations[row]!;
      count.k += reads[row]!;
    }
  });
  return { round, rows: taken, cellOfRow, byCell };
}

/** Counts the rows of a walk that lie in some combinations, and how they fall into passes and tags. */
export function countWalk(walk: Walk, wanted: ReadonlySet<number>, log: PassLog): Counted {
  const { pass, tag, presentations, reads } = log.rows;
  const counter = presentationCounter();
  const tags = new Set<number>();
  let untagged = false;
  walk.rows.forEach((row, i) => {
    if (!wanted.has(walk.cellOfRow[i]!)) return;
    counter.add(pass[row]!, tag[row]!, presentations[row]!, reads[row]!);
    if (tag[row] === -1) untagged = true;
    else tags.add(tag[row]!);
  });
  return { counts: counter.counts(), tags: untagged ? null : tags };
}
