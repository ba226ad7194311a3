import binomialCdf from "@stdlib/stats-base-dists-binomial-cdf";
import { intervals } from "../../intervals/index.ts";
import type { Basis, Limit } from "../../intervals/interval.ts";
import type { RateEstimate } from "../../model/estimate.ts";
import type { Remark } from "../../model/result/remark.ts";
import { upperTail } from "../../statistics/beta-binomial-interval.ts";
import {
  type ClusteredSample,
  effectiveClusterings,
  extended,
  mirrored,
} from "../../statistics/effective-sample.ts";
import { firstThatHolds } from "../../statistics/numerics/first.ts";
import { type Bar, type Evidence, noBounds, type PassCounts } from "./evidence.ts";
import { isOnWrongSide, mostFurther } from "./settling.ts";

/** What a measure knows of passes and tags besides their counts; left out where it knows nothing. */
interface WhatWasWalked extends Pick<Evidence, "tags" | "byPass"> {
  bar(limit: Limit, basis: Basis): Bar | null;
}

const nothingKnown: WhatWasWalked = { tags: () => null, byPass: null, bar: () => null };

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
} & Partial<WhatWasWalked>): Evidence {
  return {
    ...nothingKnown,
    ...counted,
    isOfPasses: true,
    isRate: true,
    isEmpty: sample.n === 0,
    assumesCorrelation: sample.clusterings.length > 0,
    estimate: (basis) => rateEstimate(sample, basis),
    decide: (limit, basis) => intervals.get(basis.interval).decide(sample, limit, basis),
    further: (limit, basis) => furtherTrials(sample, limit, basis),
    chanceAtLimit: (limit, basis) =>
      isOnWrongSide(sample.k / sample.n, limit) ? chanceOfFaults(sample, limit, basis.missCorrelation) : null,
  };
}

/**
 * The smallest number of further trials without a fault for which the interval says met, laid out as `extended` has it.
 * Example: 239 of 240 with nothing clustered, at least 0.99, Wilson at 95 %: 323 further ones; 20 passes of 40 without a
 * miss, each tag presented once, beta-binomial: 52, into the 22nd pass (computed).
 */
export function furtherTrials(sample: ClusteredSample, limit: Limit, basis: Basis): number | null {
  const { decide } = intervals.get(basis.interval);
  const faultless = (more: number) =>
    limit.sense === "at-least" ? extended(sample, more) : mirrored(extended(mirrored(sample), more));
  return firstThatHolds((more) => decide(faultless(more), limit, basis) === "met", {
    from: 1,
    most: mostFurther,
  });
}

/**
 * The chance of as many faults or more at a true rate equal to the limit: the largest `upperTail` over the effective
 * clusterings, or binomial without one. A fault is a failure for `at-least` and a success for `at-most`.
 * Example: one miss of 40, nothing clustered, at least 0.99: 1 - 0.99^40 = 0.331.
 */
export function chanceOfFaults(sample: ClusteredSample, { sense, limit }: Limit, floor: number): number {
  const { n, k, clusterings } = sense === "at-least" ? sample : mirrored(sample);
  const probability = sense === "at-least" ? 1 - limit : limit;
  const faults = n - k;
  const clustered = effectiveClusterings({ n, k, clusterings });
  if (clustered.length === 0) return 1 - binomialCdf(faults - 1, n, probability);
  const tails = clustered.map(({ failureSquares, layout }) => {
    const { sizes, failing } = layout();
    const pairs = (failureSquares - faults) / 2;
    return upperTail({ n, failures: faults, sizes, failing, pairs }, probability, floor);
  });
  return Math.max(...tails);
}

/** A rate of passes: k of n. */
export function passEvidence(
  k: number,
  n: number,
  { remarks = [], ...walked }: { remarks?: Remark[] } & Partial<WhatWasWalked> = {},
): Evidence {
  return rateEvidence({ sample: { k, n, clusterings: [] }, passes: n, remarks, ...walked });
}

/** A rate of passes, each by its number with whether it succeeded. */
export function passesEvidence(
  succeeded: ReadonlyMap<number, boolean>,
  more: { remarks?: Remark[]; tags: Evidence["tags"] },
): Evidence {
  const byPass = new Map<number, PassCounts>();
  let k = 0;
  for (const [pass, isSuccess] of succeeded) {
    byPass.set(pass, { n: 1, failures: isSuccess ? 0 : 1 });
    if (isSuccess) k += 1;
  }
  return passEvidence(k, succeeded.size, { ...more, byPass });
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
