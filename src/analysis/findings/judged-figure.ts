import type { Basis } from "../../intervals/interval.ts";
import type { Evidence } from "../../measures/evidence/evidence.ts";
import type { MeasureCard, Parameters } from "../../measures/measure.ts";
import type { Criterion } from "../../model/facility.ts";
import type { Finding } from "../../model/result/finding.ts";
import { remarksOn, strictlyJudged, unseenKinds } from "./cautions.ts";
import type { TimedPasses } from "./faults-in-a-run.ts";
import { sensitivityOf, stateOf, toSettle } from "./verdict.ts";

/** What a finding says of its figure, wherever it stands: at a read point, or on a journey. */
type JudgedFigure = Omit<Finding, "criterion" | "readPoint" | "round" | "group" | "concession">;

/** A measure of whatever selections it counts. */
interface Counting<Selection> extends MeasureCard {
  collect(selection: Selection, criterion: Parameters): Evidence;
}

/** What a selection is judged by. */
interface Judging {
  criterion: Criterion;
  basis: Basis;
  /** The passes by their numbers in the evidence, with their times. */
  log: TimedPasses;
  /** Whether there are voids: whole passes, or what may be part of one that counts. */
  voids: "none" | "whole passes" | "within passes";
}

/**
 * Counts what a selection holds and judges it by a criterion.
 *
 * @param selection without void passes; they are counted in for the figure beside
 */
export function judgedFigure<Selection extends { withVoids: boolean }>(
  measure: Counting<Selection>,
  selection: Selection,
  { criterion, basis, log, voids }: Judging,
): JudgedFigure {
  const evidence = measure.collect(selection, criterion);
  const withVoids =
    voids === "none" ? evidence : measure.collect({ ...selection, withVoids: true }, criterion);
  const state = stateOf(evidence, criterion, basis);
  const tags = evidence.tags();
  const estimate = evidence.estimate(basis);
  const voidPasses = withVoids.passes - evidence.passes;
  const beside = voidPasses === 0 && voids !== "within passes" ? null : withVoids.estimate(basis);
  const isSame = voids === "within passes" && beside?.n === estimate.n;
  return {
    state,
    measure: measure.id,
    limit: criterion.limit,
    sense: criterion.sense,
    passes: evidence.passes,
    voidPasses,
    tags,
    estimate,
    withVoids: isSame ? null : beside,
    toSettle: toSettle(evidence, criterion, { state, unit: measure.unit.many, basis }),
    remarks: [...evidence.remarks, ...remarksOn(evidence, criterion, { state, basis, log })],
    sensitivity: sensitivityOf(evidence, criterion, basis),
    stricter: strictlyJudged(evidence, criterion, basis),
    unseen: evidence.isOfPasses ? unseenKinds({ passes: evidence.passes, tags }, basis.confidence) : null,
  };
}
