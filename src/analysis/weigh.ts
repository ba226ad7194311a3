import { sampleAt } from "../intervals/any-time-interval.ts";
import type { Evidence } from "../measures/evidence.ts";
import type { Estimate } from "../model/estimate.ts";
import type { Sense } from "../model/facility.ts";
import type { Finding, ToSettle } from "../model/result.ts";
import type { State } from "../model/state.ts";
import type { ClusteredSample } from "../statistics/effective-sample.ts";
import { type Basis, clusteredRate, plainRate } from "./estimate.ts";
import { idleRate } from "./idle-rate.ts";
import { levelQuantile } from "./level-quantile.ts";
import {
  type Further,
  furtherForCounts,
  furtherForLevel,
  furtherForMinutes,
  furtherForRate,
} from "./settle.ts";
import { levelState, rateState } from "./state.ts";

/** The limit that a criterion sets. */
export interface Limit {
  sense: Sense;
  /** A rate 0..1, dBm, or tags a minute. */
  limit: number;
  minimumPasses: number;
}

/** The estimate that evidence of any kind allows. */
export function estimateOf(evidence: Evidence, basis: Basis): Estimate {
  switch (evidence.kind) {
    case "presentations":
      return clusteredRate(evidence.counts, basis);
    case "passes":
      return plainRate(evidence.k, evidence.n, basis);
    case "levels":
      return levelQuantile(evidence.levels, evidence.quantile, basis.confidence);
    case "minutes":
      return idleRate(evidence.counts, basis.confidence);
  }
}

/**
 * What the evidence shows of a limit. Untested where no pass counts, or fewer than the criterion's minimum, whatever
 * the rate.
 */
export function stateOf(evidence: Evidence, estimate: Estimate, limit: Limit): State {
  if (estimate.n === 0 || evidence.passes < limit.minimumPasses) return "untested";
  const isRate = evidence.kind === "presentations" || evidence.kind === "passes";
  const decide = isRate ? rateState : levelState;
  return decide(estimate, limit.sense, limit.limit);
}

/** What would settle a finding: passes where it is untested, further ones without a fault where it is undecided. */
export function toSettle(
  evidence: Evidence,
  estimate: Estimate,
  state: State,
  limit: Limit,
  unit: string,
  basis: Basis,
): ToSettle | null {
  if (state === "untested") return { furtherPasses: Math.max(1, limit.minimumPasses - evidence.passes) };
  if (state !== "undecided") return null;
  const further = furtherOf(evidence, estimate, limit, basis);
  return { unit, furtherWithoutMiss: further, retune: further === null };
}

function furtherOf(evidence: Evidence, estimate: Estimate, limit: Limit, basis: Basis): Further {
  switch (evidence.kind) {
    case "levels":
      return furtherForLevel(evidence.levels, estimate, evidence.quantile, limit.sense, limit.limit);
    case "minutes":
      return furtherForMinutes(estimate, limit.limit);
    case "presentations":
      if (basis.interval === "beta-binomial")
        return furtherForCounts(evidence.counts, limit.sense, limit.limit, basis);
      return furtherForRate(
        basis.interval === "any-time" ? heldAt(limit.limit, evidence.counts, estimate, basis) : estimate,
        limit.sense,
        limit.limit,
        basis,
      );
    default:
      return furtherForRate(estimate, limit.sense, limit.limit, basis);
  }
}

/** The design effect that is held is the one that the limit is judged with. */
function heldAt(limit: number, counts: ClusteredSample, estimate: Estimate, basis: Basis): Estimate {
  const effectiveN = sampleAt(counts, basis)(limit);
  return { ...estimate, effectiveN, designEffect: counts.n / effectiveN };
}

const otherCorrelations = [0, 0.1];

/** What other assumed correlations would have shown; nothing for measures that assume none. */
export function sensitivityOf(evidence: Evidence, basis: Basis, limit: Limit): Finding["sensitivity"] {
  if (evidence.kind !== "presentations") return [];
  return otherCorrelations.map((missCorrelation) => {
    const estimate = estimateOf(evidence, { ...basis, missCorrelation });
    const { lower, upper, effectiveN } = estimate;
    return { missCorrelation, lower, upper, effectiveN, state: stateOf(evidence, estimate, limit) };
  });
}
