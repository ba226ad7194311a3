import { PresentationCounter, type PresentationCounts } from "../../measures/presentations.ts";
import type { PassLog } from "../../model/pass-log.ts";
import type { RowCombinations } from "../../model/row-combinations.ts";
import { presentationRows, type Selection } from "../../model/rows.ts";
import type { Stratum } from "../../statistics/direct-standardisation.ts";

/** What one round presented at one read point in its valid passes, by combination of conditions. */
export interface Walk {
  round: string;
  log: PassLog;
  /** Row numbers, and the combination of each. */
  rows: Int32Array;
  combinationOf: Int32Array;
  /** Presentations and reads under each combination. */
  counts: Map<number, Stratum>;
}

/** The valid presentations of a selection, void passes left out; combinations that nobody walked are not among the counts. */
export function walkOf(selection: Selection, combinations: RowCombinations): Walk {
  const { log, round } = selection;
  const rows = presentationRows(selection);
  const combinationOf = rows.map((row) => combinations.of(row));
  const counts = new Map<number, Stratum>();
  rows.forEach((row, i) => {
    const count = counts.get(combinationOf[i]!) ?? { n: 0, k: 0 };
    count.n += log.rows.presentations[row]!;
    count.k += log.rows.tagsRead[row]!;
    counts.set(combinationOf[i]!, count);
  });
  return { round, log, rows, combinationOf, counts };
}

/** Some of a walk's combinations, counted. */
export interface Counted {
  counts: PresentationCounts;
  /** Tags named in them; null where a row names none. */
  tags: Set<number> | null;
}

/** Counts the rows of a walk under some combinations, and how they fall into passes and tags. */
export function countWalk({ log, rows, combinationOf }: Walk, wanted: ReadonlySet<number>): Counted {
  const own = rows.filter((_, i) => wanted.has(combinationOf[i]!));
  const { counts } = new PresentationCounter(log).count(own);
  const tags = new Set(own.map((row) => log.rows.tag[row]!));
  return { counts, tags: tags.has(-1) ? null : tags };
}
