import { bandNames, bandsOf } from "../../model/condition-values.ts";
import type { Condition, Criterion, Plan, WhereClause } from "../../model/facility.ts";
import type { PlannedLoad } from "../../model/pass-log.ts";
import { bandReached } from "../criterion-groups.ts";
import { cellCounts, namedValue } from "./plan-cells.ts";

/**
 * How many tags of one planned pass a criterion of tags read, or of complete passes, counts, in the group of its `for_each` that gets the fewest: 0 or more.
 *
 * What the load says of its tags is taken as it stands: only those that `where` takes count, and each value of a
 * `for_each` column has its own. Values of a `for_each` column that neither plan nor load tells are taken to share the
 * tags of a pass evenly, as far as the criterion or the bands name them: so many tags for each as come out whole, at
 * least one. Values that only a walk will show cannot be shared out, and each is taken to get them all.
 * Example: 20 tags a pass, three orientations named in `where` and nothing more said of them: 6.
 */
export function tagsCounted(
  criterion: Criterion,
  plan: Plan,
  load: PlannedLoad | null,
  conditions: Condition[],
): number {
  const varied = new Set(plan.each.map(({ column }) => column));
  const stated = load?.columns ?? {};
  const open = criterion.forEach.filter((column) => !varied.has(column));
  const shares = open
    .filter((column) => !(column in stated))
    .reduce((product, column) => product * Math.max(1, valuesNamed(column, criterion.where, conditions)), 1);
  const tags = load === null ? plan.tagsPerPass : fewestOfLoad(criterion, load, open, conditions);
  return tags === 0 ? 0 : Math.max(1, Math.floor(tags / shares));
}

/** The tags that `where` takes, counted by what they say in the `for_each` columns: the smallest count. */
function fewestOfLoad(
  { where, forEach }: Criterion,
  { tags, columns }: PlannedLoad,
  open: string[],
  conditions: Condition[],
): number {
  const own = forEach.filter((column) => open.includes(column) && column in columns);
  const asked = where.filter(({ column }) => column in columns);
  const counts = new Map<string, number>();
  for (const i of tags.keys()) {
    const cell: Record<string, string> = {};
    for (const { column } of asked) if (columns[column]![i] != null) cell[column] = columns[column]![i]!;
    const isTaken = asked.every(({ column }) => column in cell) && cellCounts(cell, asked, null, conditions);
    const values = own.map((column) => columns[column]![i] ?? null);
    if (!isTaken || values.includes(null)) continue;
    const key = JSON.stringify(own.map((column, at) => namedValue(column, values[at]!, conditions)));
    counts.set(key, (counts.get(key) ?? 0) + 1);
  }
  const named = own.reduce((product, column) => product * valuesNamed(column, where, conditions), 1);
  return counts.size === 0 || counts.size < named ? 0 : Math.min(...counts.values());
}

/** How many values of a column the criterion or its bands name; 0 where only a walk will show them. */
function valuesNamed(column: string, where: WhereClause[], conditions: Condition[]): number {
  const clauses = where.filter((clause) => clause.column === column);
  for (const clause of clauses) if (clause.kind === "values") return clause.values.length;
  const bands = bandsOf(conditions, column);
  if (bands === null) return 0;
  return bandNames(bands).filter((_, band) => clauses.every((clause) => bandReached(clause, bands, band)))
    .length;
}
