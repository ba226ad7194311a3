import { measures } from "../measures/index.ts";
import type { Criterion, Facility, ReadPoint } from "../model/facility.ts";
import { rowMatcher } from "../model/matching-rows.ts";
import type { PassLog } from "../model/pass-log.ts";
import type { ConcessionResult, Finding } from "../model/result.ts";
import { criterionGroups, type Group } from "./criterion-groups.ts";
import type { Basis } from "./estimate.ts";
import type { RowIndex } from "./row-index.ts";
import { estimateOf, sensitivityOf, stateOf, toSettle } from "./weigh.ts";

/**
 * Every criterion at every read point it covers, in each of its groups: by criterion and read point in the order of
 * facility.yaml, then by group. A finding is of its read point's own sign-off round.
 */
export function makeFindings(
  facility: Facility,
  log: PassLog,
  index: RowIndex,
  concessions: ConcessionResult[],
): Finding[] {
  return facility.criteria.flatMap((criterion) => {
    const groups = criterionGroups(criterion, facility.conditions, log);
    return facility.readPoints
      .filter((readPoint) => criterion.readPoints.includes(readPoint.id))
      .flatMap((readPoint) => {
        const concession =
          concessions.find((one) => one.criterion === criterion.id && one.readPoint === readPoint.id) ?? null;
        return groups.map((group) => ({
          ...makeFinding(facility, log, index, criterion, readPoint, group),
          concession,
        }));
      });
  });
}

function makeFinding(
  facility: Facility,
  log: PassLog,
  index: RowIndex,
  criterion: Criterion,
  readPoint: ReadPoint,
  group: Group,
): Omit<Finding, "concession"> {
  const basis: Basis = facility;
  const measure = measures.get(criterion.measure);
  const rows = index.rowsOf(readPoint.id, readPoint.signOffRound);
  const match = rowMatcher(log, facility.conditions, criterion.where, group);
  const place = { log, rows, match, readPoint: readPoint.id, round: readPoint.signOffRound };
  const evidence = measure.collect({ ...place, withVoids: false }, criterion);
  const withVoids = measure.collect({ ...place, withVoids: true }, criterion);
  const voidPasses = withVoids.passes - evidence.passes;
  const estimate = estimateOf(evidence, basis);
  const state = stateOf(evidence, estimate, criterion);
  return {
    criterion: criterion.id,
    readPoint: readPoint.id,
    round: readPoint.signOffRound,
    group,
    state,
    measure: criterion.measure,
    limit: criterion.limit,
    sense: criterion.sense,
    passes: evidence.passes,
    voidPasses,
    estimate,
    withVoids: voidPasses > 0 ? estimateOf(withVoids, basis) : null,
    toSettle: toSettle(evidence, estimate, state, criterion, measure.unit.many, basis),
    remarks: evidence.remarks,
    sensitivity: sensitivityOf(evidence, basis, criterion),
  };
}
