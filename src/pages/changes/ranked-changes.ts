import type { Comparison, ReadPointResult, Result } from "../../model/result.ts";
import { changeOrder } from "../words/comparisons.ts";

import { comparisonsOf, type RoundPair } from "./round-pairs.ts";

/** What became of one read point between two rounds: as a whole, and by each value of each condition. */
export interface ReadPointChange {
  readPoint: ReadPointResult;
  whole: Comparison;
  byCondition: Comparison[];
}

/** The read points that a pair of rounds compares: what got worse first, and within a kind what may have lost most. */
export function rankedChanges(pair: RoundPair, result: Result): ReadPointChange[] {
  const own = comparisonsOf(pair, result);
  const changes = result.readPoints.flatMap((readPoint): ReadPointChange[] => {
    const here = own.filter((one) => one.readPoint === readPoint.id);
    const whole = here.find(({ group }) => group === null);
    if (whole === undefined) return [];
    return [{ readPoint, whole, byCondition: here.filter(({ exploratory }) => exploratory) }];
  });
  const rank = ({ whole }: ReadPointChange) => changeOrder.indexOf(whole.change);
  const lower = ({ whole }: ReadPointChange) => whole.difference?.lower ?? 0;
  return changes.sort((a, b) => rank(a) - rank(b) || lower(a) - lower(b));
}

/** Every read point of a pair by name with what it did, for the sentence that counts them. */
export function namedChanges(changes: ReadPointChange[]): { name: string; change: Comparison["change"] }[] {
  return changes.map(({ readPoint, whole }) => ({ name: readPoint.name, change: whole.change }));
}
