import { type Combination, combinationKey, namesOf, takes } from "../../model/conditions.ts";
import type { Condition, Criterion, Plan } from "../../model/facility.ts";
import type { PlannedLoad } from "../../model/pass-log.ts";
import { statedNames } from "../findings/criterion-groups.ts";

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
    .reduce(
      (product, column) => product * Math.max(1, statedNames(criterion, column, conditions)?.length ?? 0),
      1,
    );
  const tags = load === null ? plan.tagsPerPass : fewestOfLoad(criterion, load, open, conditions);
  return tags === 0 ? 0 : Math.max(1, Math.floor(tags / shares));
}

/** The tags that `where` takes, counted by what they say in the `for_each` columns: the smallest count. */
function fewestOfLoad(
  criterion: Criterion,
  { tags, columns }: PlannedLoad,
  open: string[],
  conditions: Condition[],
): number {
  const { where, forEach } = criterion;
  const own = forEach.filter((column) => open.includes(column) && column in columns);
  const asked = where.filter(({ column }) => column in columns);
  const counts = new Map<string, number>();
  for (const i of tags.keys()) {
    const cell: Record<string, string> = {};
    for (const { column } of asked) if (columns[column]![i] != null) cell[column] = columns[column]![i]!;
    const isTaken = asked.every(({ column }) => column in cell) && takes(asked, cell, conditions);
    const values = own.map((column) => [column, columns[column]![i] ?? null] as const);
    if (!isTaken || values.some(([, value]) => value === null)) continue;
    const key = combinationKey(namesOf(Object.fromEntries(values) as Combination, conditions));
    counts.set(key, (counts.get(key) ?? 0) + 1);
  }
  const named = own.reduce(
    (product, column) => product * (statedNames(criterion, column, conditions)?.length ?? 0),
    1,
  );
  return counts.size === 0 || counts.size < named ? 0 : Math.min(...counts.values());
}
