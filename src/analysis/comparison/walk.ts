import type { PresentationCounter, PresentationCounts } from "../../measures/presentations.ts";
import type { PassLog } from "../../model/pass-log.ts";
import type { RowCombinations } from "../../model/row-combinations.ts";
import { presentationRows, type Selection } from "../../model/rows.ts";
import type { Stratum } from "../../statistics/direct-standardisation.ts";

/** What one round presented at one read point in its valid passes, by combination of conditions. */
export interface Walk {
  round: string;
  log: PassLog;
  counter: PresentationCounter;
  /** Row numbers, and the combination of each. */
  rows: Int32Array;
  combinationOf: Int32Array;
  /** Presentations and reads under each combination. */
  counts: Map<number, Stratum>;
  /** The rows of each combination. */
  rowsOf: ReadonlyMap<number, Int32Array>;
}

/** The valid presentations of a selection, void passes left out; combinations that nobody walked are not among the counts. */
export function walkOf(
  selection: Selection,
  combinations: RowCombinations,
  counter: PresentationCounter,
): Walk {
  const { log, round } = selection;
  const { presentations, tagsRead } = log.rows;
  const rows = presentationRows(selection);
  const combinationOf = new Int32Array(rows.length);
  const counts = new Map<number, Stratum>();
  const numberOfRows = new Map<number, number>();
  for (let i = 0; i < rows.length; i += 1) {
    const row = rows[i]!;
    const combination = combinations.of(row);
    combinationOf[i] = combination;
    numberOfRows.set(combination, (numberOfRows.get(combination) ?? 0) + 1);
    let count = counts.get(combination);
    if (count === undefined) {
      count = { n: 0, k: 0 };
      counts.set(combination, count);
    }
    count.n += presentations[row]!;
    count.k += tagsRead[row]!;
  }
  const rowsOf = new Map([...numberOfRows].map(([one, number]) => [one, new Int32Array(number)]));
  for (let i = rows.length - 1; i >= 0; i -= 1) {
    const combination = combinationOf[i]!;
    const left = numberOfRows.get(combination)! - 1;
    numberOfRows.set(combination, left);
    rowsOf.get(combination)![left] = rows[i]!;
  }
  return { round, log, counter, rows, combinationOf, counts, rowsOf };
}

/** Some of a walk's combinations, counted. */
export interface Counted {
  counts: PresentationCounts;
  /** Tags named in them; null where a row names none. */
  tags: Set<number> | null;
}

/** Counts the rows of a walk under some of its combinations, and how they fall into passes and tags. */
export function countWalk({ counter, rows, rowsOf }: Walk, wanted: ReadonlySet<number>): Counted {
  const own = new Int32Array(rows.length);
  let length = 0;
  for (const combination of wanted) {
    const some = rowsOf.get(combination)!;
    own.set(some, length);
    length += some.length;
  }
  const { counts, tags } = counter.count(own.subarray(0, length));
  return { counts, tags: tags === null ? null : new Set(tags) };
}
