import { measures } from "../../measures/index.ts";
import { type Combination, clausesOf } from "../../model/conditions.ts";
import type { Criterion, ReadPoint } from "../../model/facility.ts";
import type { ConcessionResult, Finding } from "../../model/result.ts";
import { select, type WalkedFacility } from "../../model/rows.ts";
import { remarksOn, strictlyJudged, unseenKinds } from "./cautions.ts";
import { criterionGroups } from "./criterion-groups.ts";
import { sensitivityOf, stateOf, toSettle } from "./verdict.ts";

/**
 * Every criterion at every read point it covers, in each of its groups: by criterion and read point in the order of
 * facility.yaml, then by group. A finding is of its read point's own sign-off round.
 */
export function makeFindings(walked: WalkedFacility, concessions: ConcessionResult[]): Finding[] {
  const { facility } = walked;
  return facility.criteria.flatMap((criterion) => {
    const groups = criterionGroups(criterion, walked);
    return facility.readPoints
      .filter((readPoint) => criterion.readPoints.includes(readPoint.id))
      .flatMap((readPoint) => {
        const concession =
          concessions.find((one) => one.criterion === criterion.id && one.readPoint === readPoint.id) ?? null;
        return groups.map((group) => ({
          ...makeFinding(walked, { criterion, readPoint, group }),
          concession,
        }));
      });
  });
}

function makeFinding(
  walked: WalkedFacility,
  { criterion, readPoint, group }: { criterion: Criterion; readPoint: ReadPoint; group: Combination | null },
): Omit<Finding, "concession"> {
  const { facility } = walked;
  const measure = measures.get(criterion.measure);
  const place = { readPoint: readPoint.id, round: readPoint.signOffRound };
  const selection = select(walked, place, { clauses: clausesOf(criterion.where, group) });
  const evidence = measure.collect(selection, criterion);
  const withVoids = measure.collect({ ...selection, withVoids: true }, criterion);
  const voidPasses = withVoids.passes - evidence.passes;
  const state = stateOf(evidence, criterion, facility);
  const tags = evidence.tags();
  return {
    criterion: criterion.id,
    ...place,
    group,
    state,
    measure: criterion.measure,
    limit: criterion.limit,
    sense: criterion.sense,
    passes: evidence.passes,
    voidPasses,
    tags,
    estimate: evidence.estimate(facility),
    withVoids: voidPasses > 0 ? withVoids.estimate(facility) : null,
    toSettle: toSettle(evidence, criterion, { state, unit: measure.unit.many, basis: facility }),
    remarks: [
      ...evidence.remarks,
      ...remarksOn(evidence, criterion, { state, basis: facility, log: walked.log }),
    ],
    sensitivity: sensitivityOf(evidence, criterion, facility),
    stricter: strictlyJudged(evidence, criterion, facility),
    unseen: evidence.isOfPasses ? unseenKinds({ passes: evidence.passes, tags }, facility.confidence) : null,
  };
}
