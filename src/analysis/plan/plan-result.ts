import { byCodePoint } from "../../model/order.ts";
import type { PlannedLoad } from "../../model/pass-log.ts";
import type { CellState, CellWalked, PlannedReadPoint, PlannedRoute, PlanResult } from "../../model/plan.ts";
import { select, type WalkedFacility } from "../../model/rows.ts";
import { makePlan } from "./make-plan.ts";
import { walkOrder } from "./walk-order.ts";
import { walkedCells } from "./walked-cells.ts";

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

/** Numbered in the order they are walked, all numbers equally long. */
function plannedPasses({ readPoint, cells, passes }: PlannedReadPoint, seed: number): PlannedRoute["passes"] {
  if (passes === null) return [];
  const each = cells.flatMap((cell) => Array.from({ length: cell.passes! }, () => cell.conditions));
  const digits = Math.max(2, String(each.length).length);
  return walkOrder(each, seed, readPoint).map((conditions, i) => ({
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
