import { bandOf } from "../../model/bands.ts";
import { bandNames, bandsOf } from "../../model/condition-values.ts";
import type { Condition, Plan, WhereClause } from "../../model/facility.ts";
import type { PlanCell } from "../../model/plan.ts";
import type { Group } from "../criterion-groups.ts";

/** Every combination of the plan's values, the last column varying fastest; one empty one where it varies nothing. */
export function planCells(plan: Plan): PlanCell[] {
  let cells: PlanCell[] = [{}];
  for (const { column, values } of plan.each) {
    cells = cells.flatMap((cell) => values.map((value) => ({ ...cell, [column]: value })));
  }
  return cells;
}

/** The name under which a planned value is reported: its band where the column has bands, else itself. */
export function namedValue(column: string, value: string, conditions: Condition[]): string {
  const bands = bandsOf(conditions, column);
  if (bands === null) return value;
  const names = bandNames(bands);
  return names.includes(value) ? value : (names[bandOf(bands, Number(value))] ?? value);
}

/**
 * Whether passes walked in a cell will be counted by a criterion. A column that the plan does not vary is taken to be
 * walked as the criterion asks. A cell that names a band lies in a range where the whole band does.
 */
export function cellCounts(
  cell: PlanCell,
  where: WhereClause[],
  group: Group,
  conditions: Condition[],
): boolean {
  const inGroup = Object.entries(group ?? {}).every(
    ([column, name]) => cell[column] === undefined || namedValue(column, cell[column], conditions) === name,
  );
  return inGroup && where.every((clause) => clauseHolds(cell[clause.column], clause, conditions));
}

function clauseHolds(value: string | undefined, clause: WhereClause, conditions: Condition[]): boolean {
  if (value === undefined) return true;
  const bands = bandsOf(conditions, clause.column);
  if (clause.kind === "values") {
    if (clause.values.includes(value)) return true;
    if (bands === null) return false;
    const number = Number(value);
    return clause.values.some(
      (one) => one === namedValue(clause.column, value, conditions) || Number(one) === number,
    );
  }
  const band = bands === null ? -1 : bandNames(bands).indexOf(value);
  const low = band === -1 ? Number(value) : bands![band]!;
  const high = band === -1 ? Number(value) : bands![band + 1]!;
  return low >= (clause.from ?? Number.NEGATIVE_INFINITY) && high <= (clause.to ?? Number.POSITIVE_INFINITY);
}
