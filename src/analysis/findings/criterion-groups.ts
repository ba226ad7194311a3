import { type Combination, columnValues, crossed } from "../../model/conditions.ts";
import type { Condition, Criterion } from "../../model/facility.ts";
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
    values: statedNames(criterion, column, conditions) ?? namesAt(walked, { column, readPoints }),
  }));
  return crossed(columns);
}

/** The values of a column that the criterion lists or its condition declares; null where only a walk shows them. */
export function statedNames({ where }: Criterion, column: string, conditions: Condition[]): string[] | null {
  const clauses = where.filter((clause) => clause.column === column);
  const listed = clauses.find((clause) => clause.kind === "values");
  if (listed !== undefined) return listed.values;
  const values = columnValues(conditions, column);
  return values.names?.filter((name) => clauses.every((clause) => values.reaches(clause, name))) ?? null;
}
