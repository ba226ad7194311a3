import type { Estimate } from "../model/estimate.ts";
import type { Sense } from "../model/facility.ts";
import type { State } from "../model/state.ts";
import { clopperPearsonBounds } from "../statistics/clopper-pearson.ts";

/**
 * What a rate shows of its limit; call only with n > 0 and passes enough (else the finding is untested).
 *
 * For `at-least`: met where the lower bound reaches the limit; not met where the upper bound stays below it and the
 * Clopper-Pearson upper bound does too; otherwise undecided. `at-most` is the mirror. Compared unrounded.
 * The second condition is there because a single miss in a short walk happens to a good read point: 16 of 17 has a
 * Wilson upper bound of 0.9896, below 0.99, and a Clopper-Pearson one of 0.9985 (computed). An `beta-binomial` bound
 * is never nearer than the Clopper-Pearson one of all n, nor an `any-time` one than that of its own sample, so there is
 * nothing to ask twice.
 */
export function rateState(estimate: Estimate, sense: Sense, limit: number): State {
  const { value, lower, upper, effectiveN, confidence } = estimate;
  if (value === null || lower === null || upper === null || effectiveN === null) return "untested";
  const exact = () =>
    estimate.method === "beta-binomial" || estimate.method === "any-time"
      ? { lower, upper }
      : clopperPearsonBounds(value, effectiveN, confidence);
  if (sense === "at-least") {
    if (lower >= limit) return "met";
    return upper < limit && exact().upper < limit ? "not-met" : "undecided";
  }
  if (upper <= limit) return "met";
  return lower > limit && exact().lower > limit ? "not-met" : "undecided";
}

/**
 * What a level (an RSSI quantile, in dBm) shows of its limit. A bound that does not exist satisfies nothing; one that
 * falls on a missed presentation lies below every limit.
 */
export function levelState(estimate: Estimate, sense: Sense, limit: number): State {
  if (estimate.n === 0) return "untested";
  const lower = estimate.onMiss?.lower ? Number.NEGATIVE_INFINITY : estimate.lower;
  const upper = estimate.onMiss?.upper ? Number.NEGATIVE_INFINITY : estimate.upper;
  if (sense === "at-least") {
    if (lower !== null && lower >= limit) return "met";
    return upper !== null && upper < limit ? "not-met" : "undecided";
  }
  if (upper !== null && upper <= limit) return "met";
  return lower !== null && lower > limit ? "not-met" : "undecided";
}
