import { sequenceBounds } from "../intervals/any-time-interval.ts";
import { clusteredBounds, worthOf } from "../intervals/clustered-interval.ts";
import type { Estimate } from "../model/estimate.ts";
import type { IntervalName } from "../model/facility.ts";
import { clopperPearsonBounds } from "../statistics/clopper-pearson.ts";
import { confidenceSequenceBounds } from "../statistics/confidence-sequence.ts";
import { type ClusteredSample, effectiveSampleSize } from "../statistics/effective-sample.ts";
import { type Bounds, wilsonBounds } from "../statistics/wilson.ts";

/** The settings that every interval of a facility is made with. */
export interface Basis {
  /** Two-sided, 0.5..1. */
  confidence: number;
  interval: IntervalName;
  /** Floor of the correlation of misses within a pass, and of one tag's; 0..1. */
  missCorrelation: number;
}

const intervals: Record<IntervalName, (p: number, n: number, confidence: number) => Bounds> = {
  wilson: wilsonBounds,
  exact: clopperPearsonBounds,
  "beta-binomial": clopperPearsonBounds,
  "any-time": confidenceSequenceBounds,
};

/**
 * The interval of the chosen kind on a proportion `p` and its effective sample `n` > 0. Of independent observations the
 * `beta-binomial` one is Clopper-Pearson.
 */
export function boundsOf(p: number, n: number, basis: Basis): Bounds {
  return intervals[basis.interval](p, n, basis.confidence);
}

/**
 * A rate of `k` in `n` whose presentations lie in passes and on tags, with the interval that its effective sample
 * allows. `beta-binomial` works on the clusters themselves, and its effective sample is read off the result; that of
 * `any-time` depends on the rate under test, and the one at its lower end is given. n = 0 gives an estimate without
 * value or bounds. Example: 588 of 600 with nothing clustered at 95 % is 0.98, 0.9654 to 0.9885 (computed).
 */
export function clusteredRate(counts: ClusteredSample, basis: Basis): Estimate {
  if (basis.interval === "beta-binomial" && counts.n > 0) {
    const bounds = clusteredBounds(counts, basis);
    return estimate(counts.k, counts.n, worthOf(counts, bounds, basis.confidence), bounds, basis);
  }
  if (basis.interval === "any-time" && counts.n > 0) {
    const { bounds, effectiveN } = sequenceBounds(counts, basis);
    return estimate(counts.k, counts.n, effectiveN, bounds, basis);
  }
  const effectiveN = effectiveSampleSize(counts, basis.missCorrelation, basis.confidence);
  return rate(counts.k, counts.n, effectiveN, basis);
}

/** A rate of `k` in `n` passes: each pass stands for itself. n = 0 gives an estimate without value or bounds. */
export function plainRate(k: number, n: number, basis: Basis): Estimate {
  return rate(k, n, n, basis);
}

function rate(k: number, n: number, effectiveN: number, basis: Basis): Estimate {
  if (n > 0) return estimate(k, n, effectiveN, boundsOf(k / n, effectiveN, basis), basis);
  const { confidence, interval: method } = basis;
  return {
    value: null,
    k,
    n,
    confidence,
    method,
    lower: null,
    upper: null,
    effectiveN: null,
    designEffect: null,
  };
}

function estimate(k: number, n: number, effectiveN: number, bounds: Bounds, basis: Basis): Estimate {
  return {
    value: k / n,
    k,
    n,
    confidence: basis.confidence,
    method: basis.interval,
    ...bounds,
    effectiveN,
    designEffect: n / effectiveN,
  };
}
