import { measures } from "../../measures/index.ts";
import { type Combination, clausesOf } from "../../model/conditions.ts";
import type { Criterion, ReadPoint } from "../../model/facility.ts";
import type { ConcessionResult, Finding } from "../../model/result/finding.ts";
import { select, type WalkedFacility } from "../../model/rows.ts";
import { criterionGroups } from "./criterion-groups.ts";
import { judgedFigure } from "./judged-figure.ts";

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
  const { facility, log, index } = walked;
  const place = { readPoint: readPoint.id, round: readPoint.signOffRound };
  const selection = select(walked, place, { clauses: clausesOf(criterion.where, group) });
  const hasVoids = index.passesAt(place).some((pass) => log.passes[pass]!.voidReason !== null);
  const figure = judgedFigure(measures.get(criterion.measure), selection, {
    criterion,
    basis: facility,
    log,
    voids: hasVoids ? "whole passes" : "none",
  });
  return { criterion: criterion.id, ...place, group, ...figure };
}
