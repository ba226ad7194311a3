import type { Condition, Criterion } from "../../model/facility.ts";
import type { PlanCell, PlannedReadPoint } from "../../model/plan.ts";
import type { Group } from "../criterion-groups.ts";
import { cellCounts, namedValue } from "./plan-cells.ts";

/**
 * The groups of a criterion as the plan alone knows them. A column of `for_each` that the plan does not vary is left out:
 * whatever values will be walked in it, each is taken to be walked in every pass.
 */
export function plannedGroups(criterion: Criterion, conditions: Condition[], cells: PlanCell[]): Group[] {
  if (criterion.forEach.length === 0) return [null];
  const groups = new Map<string, Group>();
  for (const cell of cells) {
    if (!cellCounts(cell, criterion.where, null, conditions)) continue;
    const group = Object.fromEntries(
      criterion.forEach.flatMap((column) => {
        const value = cell[column];
        return value === undefined ? [] : [[column, namedValue(column, value, conditions)]];
      }),
    );
    groups.set(JSON.stringify(group), group);
  }
  return [...groups.values()];
}

/** One criterion's demand on the cells of one group. */
export interface Demand {
  criterion: Criterion;
  group: Group;
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
      cellCounts(cell, criterion.where, group, conditions) ? [i] : [],
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
