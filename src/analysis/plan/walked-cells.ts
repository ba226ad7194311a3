import { combinationKey, namesOf } from "../../model/conditions.ts";
import type { Condition } from "../../model/facility.ts";
import type { CellWalked, PlanCell } from "../../model/plan.ts";
import { rowCombinations } from "../../model/row-combinations.ts";
import { presentationRows, type Selection } from "../../model/rows.ts";

/**
 * How many valid passes, and how many presentations in them, were walked under each planned combination.
 *
 * A row belongs to a combination where it has each of its values, by name; a pass belongs to it with the first such row, and so to several where its tags sat
 * differently. Rows that leave a planned column blank belong nowhere.
 * Example: planned at 1 and 2 m/s, in bands from 0 to 1 and from 1 to 2; a pass of 40 tags at 0.9 m/s: one pass and 40 tags
 * of the first.
 */
export function walkedCells(cells: PlanCell[], walk: Selection, conditions: Condition[]): CellWalked[] {
  const { log } = walk;
  const { pass, presentations } = log.rows;
  const varied = conditions.filter(({ column }) => column in (cells[0] ?? {}));
  const combinations = rowCombinations(varied, log);
  const walked = new Map<string, { passes: Set<number>; tags: number }>();
  const ofNumber: { passes: Set<number>; tags: number }[] = [];
  for (const row of presentationRows(walk)) {
    const number = combinations.of(row);
    let cell = ofNumber[number];
    if (cell === undefined) {
      cell = { passes: new Set(), tags: 0 };
      ofNumber[number] = cell;
      walked.set(combinationKey(combinations.record(number)), cell);
    }
    cell.passes.add(pass[row]!);
    cell.tags += presentations[row]!;
  }
  return cells.map((cell) => {
    const own = walked.get(combinationKey(namesOf(cell, conditions)));
    return { done: own?.passes.size ?? 0, tagsDone: own?.tags ?? 0 };
  });
}
