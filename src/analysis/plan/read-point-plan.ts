import { type Combination, clausesOf, columnValues, combinationKey, takes } from "../../model/conditions.ts";
import type { Condition, Criterion } from "../../model/facility.ts";
import type { PlanCell, PlannedReadPoint } from "../../model/plan.ts";
import { statedNames } from "../findings/criterion-groups.ts";

/**
 * The groups of a criterion as the plan alone knows them. A column of `for_each` that the plan does not vary is left out:
 * whatever values will be walked in it, each is taken to be walked in every pass.
 */
export function plannedGroups(
  criterion: Criterion,
  conditions: Condition[],
  cells: PlanCell[],
): (Combination | null)[] {
  if (criterion.forEach.length === 0) return [null];
  const groups = new Map<string, Combination>();
  for (const cell of cells) {
    if (!takes(criterion.where, cell, conditions)) continue;
    const varied = criterion.forEach.filter((column) => cell[column] !== undefined);
    const group = Object.fromEntries(
      varied.map((column) => [column, groupedAs(cell[column]!, column, criterion, conditions)]),
    );
    groups.set(combinationKey(group), group);
  }
  return [...groups.values()];
}

/** What the criterion's groups call a planned value: as the criterion lists it, else by its name. */
function groupedAs(value: string, column: string, criterion: Criterion, conditions: Condition[]): string {
  const values = columnValues(conditions, column);
  const names = statedNames(criterion, column, conditions) ?? [];
  const own = names.find((name) => values.allows({ column, kind: "values", values: [name] }, value));
  return own ?? values.nameOf(value) ?? value;
}

/** One criterion's demand on the cells of one group. */
export interface Demand {
  criterion: Criterion;
  group: Combination | null;
  /** Over all cells that count; null where no number will do. */
  passes: number | null;
}

/**
 * Every combination is walked as often as the most demanding criterion that counts it needs. Worked out from the plan and
 * the criteria alone, so that what was walked cannot change what is still to be walked.
 */
export function readPointPlan(
  id: string,
  demands: Demand[],
  cells: PlanCell[],
  conditions: Condition[],
  untested: number,
): PlannedReadPoint {
  const passes = cells.map((): number | null => 0);
  for (const { criterion, group, passes: needed } of demands) {
    if (!criterion.readPoints.includes(id)) continue;
    const counting = cells.flatMap((cell, i) =>
      takes(clausesOf(criterion.where, group), cell, conditions) ? [i] : [],
    );
    for (const i of counting) {
      const before = passes[i]!;
      passes[i] =
        needed === null || before === null ? null : Math.max(before, Math.ceil(needed / counting.length));
    }
  }
  return {
    readPoint: id,
    cells: cells.map((cell, i) => ({ conditions: cell, passes: passes[i]! })),
    passes: passes.reduce((sum, some) => (sum === null || some === null ? null : sum + some), 0),
    untested,
  };
}
