import { type Combination, crossed, statedNames } from "../../model/conditions.ts";
import type { Criterion } from "../../model/facility.ts";
import { namesAt, type WalkedFacility } from "../../model/rows.ts";

/**
 * The combinations that a criterion must hold for, each on its own; a single null for a criterion without `for_each`.
 *
 * Values of a column are those its `where` lists, in that order; else the names that its condition declares, but for those
 * that a `where` range leaves nothing of; else every value seen in any round at any read point of the criterion, in order.
 * Several columns are crossed, the last one varying fastest. A combination that nobody walked is among them: that is
 * what makes it a finding.
 */
export function criterionGroups(criterion: Criterion, walked: WalkedFacility): (Combination | null)[] {
  const { forEach, readPoints } = criterion;
  if (forEach.length === 0) return [null];
  const { conditions } = walked.facility;
  const columns = forEach.map((column) => ({
    column,
    values: statedNames(criterion.where, column, conditions) ?? namesAt(walked, { column, readPoints }),
  }));
  return crossed(columns);
}
