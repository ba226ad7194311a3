import { combinationKey, namesOf } from "../../model/conditions.ts";
import type { Condition } from "../../model/facility.ts";
import { byCodePoint } from "../../model/order.ts";
import type { PlannedLoad } from "../../model/pass-log.ts";
import type {
  CellState,
  CellWalked,
  PlanCell,
  PlannedReadPoint,
  PlannedRoute,
  PlanResult,
} from "../../model/result/plan.ts";
import { rowCombinations } from "../../model/row-combinations.ts";
import { presentationRows, type Selection, select, type WalkedFacility } from "../../model/rows.ts";
import { shuffled } from "../../statistics/numerics/shuffle.ts";
import { makePlan } from "./make-plan.ts";

/**
 * How much is to be walked at a facility, in which order, and what has been walked of it; null where nothing is planned.
 *
 * Counted are valid passes of each read point's sign-off round. `planned` is the load that the plan names.
 */
export function planResult(walked: WalkedFacility, planned: PlannedLoad | null): PlanResult | null {
  const { facility } = walked;
  const made = makePlan(walked, planned);
  const { plan } = facility;
  if (made === null || plan === null) return null;
  return {
    ...made,
    load:
      plan.manifest === null || planned === null
        ? null
        : {
            manifest: plan.manifest,
            tags: planned.tags,
            columns: Object.keys(planned.columns).sort(byCodePoint),
          },
    walks: made.readPoints.map((point) => {
      const { signOffRound } = facility.readPoints.find(({ id }) => id === point.readPoint)!;
      const cells = point.cells.map(({ conditions }) => conditions);
      const place = { readPoint: point.readPoint, round: signOffRound };
      const done = walkedCells(cells, select(walked, place), facility.conditions);
      return {
        readPoint: point.readPoint,
        round: signOffRound,
        passes: plannedPasses(point, plan.seed),
        cells: point.cells.map(({ conditions, passes }, i) => ({
          conditions,
          planned: passes,
          ...done[i]!,
          state: cellState(passes, done[i]!, plan.tagsPerPass),
        })),
      };
    }),
  };
}

/**
 * Numbered in the order they are walked, all numbers equally long. The order is random, so that whatever drifts through a
 * day (a battery, a tired walker, a door left open) does not fall on one combination of conditions.
 */
function plannedPasses({ readPoint, cells, passes }: PlannedReadPoint, seed: number): PlannedRoute["passes"] {
  if (passes === null) return [];
  const each = cells.flatMap((cell) => Array.from({ length: cell.passes! }, () => cell.conditions));
  const digits = Math.max(2, String(each.length).length);
  return shuffled(each, seed, readPoint).map((conditions, i) => ({
    pass: `w${String(i + 1).padStart(digits, "0")}`,
    conditions,
  }));
}

function cellState(planned: number | null, { done, tagsDone }: CellWalked, tagsPerPass: number): CellState {
  if (planned === null) return "out-of-reach";
  if (planned === 0) return "not-asked";
  if (done === 0) return "missing";
  return done >= planned && tagsDone >= planned * tagsPerPass ? "done" : "short";
}

/**
 * How many valid passes, and how many presentations in them, were walked under each planned combination.
 *
 * A row belongs to a combination where it has each of its values, by name; a pass belongs to it with the first such row,
 * and so to several where its tags sat differently. Rows that leave a planned column blank belong nowhere.
 * Example: planned at 1 and 2 m/s, in bands from 0 to 1 and from 1 to 2; a pass of 40 tags at 0.9 m/s: one pass and 40 tags
 * of the first.
 */
function walkedCells(cells: PlanCell[], walk: Selection, conditions: Condition[]): CellWalked[] {
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
