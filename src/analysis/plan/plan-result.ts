import type { Facility } from "../../model/facility.ts";
import { byCodePoint } from "../../model/order.ts";
import type { PassLog, PlannedLoad } from "../../model/pass-log.ts";
import type { RowIndex } from "../row-index.ts";
import { type FacilityPlan, makePlan } from "./make-plan.ts";
import type { PlanCell } from "./plan-cells.ts";
import type { PlannedReadPoint } from "./read-point-plan.ts";
import { walkOrder } from "./walk-order.ts";
import { type CellWalked, walkedCells } from "./walked-cells.ts";

/** A facility's plan with its passes laid out, and what was walked of it. */
export interface PlanResult extends FacilityPlan {
  /** What every pass carries, where the plan names a manifest: its presented tags by code point, and the conditions it states of them. */
  load: { manifest: string; tags: string[]; columns: string[] } | null;
  /** By planned read point, in the order of facility.yaml. */
  walks: PlannedRoute[];
}

/** The passes that one read point is to get, and how far they have come. */
export interface PlannedRoute {
  readPoint: string;
  /** The round the passes are logged under: the read point's sign-off round. */
  round: string;
  /**
   * Every planned pass in the random order in which it is to be walked; empty where no number of passes will do. A
   * function of the plan and the criteria only, never of what was walked.
   */
  passes: { pass: string; conditions: PlanCell }[];
  /** Planned against done, by combination of conditions, in the order of the plan. */
  cells: CellOfPlan[];
}

export interface CellOfPlan extends CellWalked {
  conditions: PlanCell;
  /** Passes; null where no number of passes will do. */
  planned: number | null;
  state: CellState;
}

/**
 * How far one combination has come. `done`: as many valid passes as planned, carrying as many tags; `short`: some, but
 * not enough of either; `missing`: none; `not-asked`: no criterion counts it; `out-of-reach`: no number of passes will do.
 */
export type CellState = "done" | "short" | "missing" | "not-asked" | "out-of-reach";

/**
 * How much is to be walked at a facility, in which order, and what has been walked of it; null where nothing is planned.
 *
 * Counted are valid passes of each read point's sign-off round. `planned` is the load that the plan names.
 */
export function planResult(
  facility: Facility,
  log: PassLog,
  index: RowIndex,
  planned: PlannedLoad | null,
): PlanResult | null {
  const made = makePlan(facility, log, planned);
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
      const rows = index.rowsOf(point.readPoint, signOffRound);
      const walked = walkedCells(cells, rows, log, facility.conditions);
      return {
        readPoint: point.readPoint,
        round: signOffRound,
        passes: plannedPasses(point, plan.seed),
        cells: point.cells.map(({ conditions, passes }, i) => ({
          conditions,
          planned: passes,
          ...walked[i]!,
          state: cellState(passes, walked[i]!, plan.tagsPerPass),
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
