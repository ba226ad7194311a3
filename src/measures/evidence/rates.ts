import { intervals } from "../../intervals/index.ts";
import type { Basis } from "../../intervals/interval.ts";
import type { RateEstimate } from "../../model/estimate.ts";
import type { Remark } from "../../model/result.ts";
import type { ClusteredSample } from "../../statistics/effective-sample.ts";
import { type Evidence, noBounds } from "./evidence.ts";

/**
 * A rate: k of n presentations, with the passes and tags they fall into, or of n passes, each of which stands for itself.
 * The interval of the facility makes the figure and decides.
 */
export function rateEvidence({
  sample,
  ...counted
}: {
  sample: ClusteredSample;
  passes: number;
  remarks: Remark[];
}): Evidence {
  return {
    ...counted,
    isEmpty: sample.n === 0,
    assumesCorrelation: sample.clusterings.length > 0,
    estimate: (basis) => rateEstimate(sample, basis),
    decide: (limit, basis) => intervals.get(basis.interval).decide(sample, limit, basis),
    further: (limit, basis) => intervals.get(basis.interval).further(sample, limit, basis),
  };
}

/** A rate of passes: k of n. */
export function passEvidence(k: number, n: number, remarks: Remark[]): Evidence {
  return rateEvidence({ sample: { k, n, clusterings: [] }, passes: n, remarks });
}

/**
 * The rate of a sample with the facility's interval; n = 0 gives neither value nor bounds.
 * Example: 588 of 600 with nothing clustered, Wilson at 95 %: 0.98, 0.9654 to 0.9885 (computed).
 */
export function rateEstimate(sample: ClusteredSample, basis: Basis): RateEstimate {
  const { n, k } = sample;
  const { confidence, interval: method } = basis;
  if (n === 0) return { kind: "rate", value: null, k, n, confidence, method, ...noBounds };
  const { lower, upper, effectiveN } = intervals.get(method).bounds(sample, basis);
  return {
    kind: "rate",
    value: k / n,
    k,
    n,
    confidence,
    method,
    lower,
    upper,
    effectiveN,
    designEffect: n / effectiveN,
  };
}
