import { bandsOf, nameColumn, nameIndexOf } from "../../model/condition-values.ts";
import type { Condition } from "../../model/facility.ts";
import { type PassLog, Role } from "../../model/pass-log.ts";
import type { CellWalked, PlanCell } from "../../model/plan.ts";
import { namedValue } from "./plan-cells.ts";

/**
 * How many valid passes, and how many presentations in them, were walked under each planned combination.
 *
 * `rows` are those of one read point in one round. A row belongs to a combination where it carries each of its values, by
 * band where the column has bands; a pass belongs to it with the first such row, and so to several where its tags sat
 * differently. Rows that leave a planned column blank belong nowhere.
 * Example: planned at 1 and 2 m/s, in bands from 0 to 1 and from 1 to 2; a pass of 40 tags at 0.9 m/s: one pass and 40 tags
 * of the first.
 */
export function walkedCells(
  cells: PlanCell[],
  rows: Int32Array,
  log: PassLog,
  conditions: Condition[],
): CellWalked[] {
  const columns = Object.keys(cells[0] ?? {});
  const named = columns.map((column) => {
    const texts = log.rows.columns.get(column);
    return texts === undefined ? null : nameColumn(texts, bandsOf(conditions, column));
  });
  const key = (names: string[]) => JSON.stringify(names);
  const walked = new Map(
    cells.map((cell) => {
      const names = columns.map((column) => namedValue(column, cell[column]!, conditions));
      return [key(names), { passes: new Set<number>(), tags: 0 }];
    }),
  );
  const { pass, role, presentations } = log.rows;
  for (const row of rows) {
    if (role[row] !== Role.presented || log.passes[pass[row]!]!.voidReason !== null) continue;
    const names = named.map((column) => {
      const name = column === null ? -1 : nameIndexOf(column, row);
      return name === -1 ? null : column!.names[name]!;
    });
    if (names.includes(null)) continue;
    const cell = walked.get(key(names as string[]));
    if (cell === undefined) continue;
    cell.passes.add(pass[row]!);
    cell.tags += presentations[row]!;
  }
  return cells.map((cell) => {
    const names = columns.map((column) => namedValue(column, cell[column]!, conditions));
    const { passes, tags } = walked.get(key(names))!;
    return { done: passes.size, tagsDone: tags };
  });
}
