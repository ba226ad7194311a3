import { measures } from "../../measures/index.ts";
import { clausesOf } from "../../model/conditions.ts";
import type { ReadPoint, WhereClause } from "../../model/facility.ts";
import { select, type WalkedFacility } from "../../model/rows.ts";
import { type State, worstState } from "../../model/state.ts";
import { criterionGroups } from "../findings/criterion-groups.ts";
import { stateOf } from "../findings/verdict.ts";

/** The state that a read point would have of another log, or of some rows only; null without a criterion. */
export function stateIf(
  walked: WalkedFacility,
  readPoint: ReadPoint,
  only: readonly WhereClause[] = [],
): State | null {
  const place = { readPoint: readPoint.id, round: readPoint.signOffRound };
  const states = walked.facility.criteria
    .filter((criterion) => criterion.readPoints.includes(readPoint.id))
    .flatMap((criterion) =>
      criterionGroups(criterion, walked).map((group) => {
        const clauses = [...clausesOf(criterion.where, group), ...only];
        const evidence = measures
          .get(criterion.measure)
          .collect(select(walked, place, { clauses }), criterion);
        return stateOf(evidence, criterion, walked.facility);
      }),
    );
  return states.length === 0 ? null : worstState(states);
}
