import binomialCdf from "@stdlib/stats-base-dists-binomial-cdf";
import { quantileSorted } from "simple-statistics";
import type { Estimate } from "../model/estimate.ts";

/**
 * The strongest RSSI of each presentation, in dBm: those read, rising, and how many were missed. A missed presentation
 * ranks below every read one.
 */
export interface Levels {
  missed: number;
  /** Rising. */
  readDbm: number[];
}

/**
 * The rank r of the order statistic that is the lower bound of the q-quantile of n values: the largest r with
 * P(Bin(n, q) <= r - 1) <= alpha/2, counted from 1; null where there is none.
 *
 * Source: distribution-free intervals for a quantile by order statistics, as in W. J. Conover, Practical Nonparametric
 * Statistics (from memory). Example: n = 72, q = 0.05, 95 %: rank 1 (the smallest value); n = 71 has none (0.95^71 = 0.0262, computed).
 */
export function lowerRank(n: number, q: number, confidence: number): number | null {
  const level = (1 - confidence) / 2;
  const reached = firstRank(n, (r) => !reachesAtMost(binomialCdf(r - 1, n, q), level)) - 1;
  return reached >= 1 ? reached : null;
}

/** The rank of the upper bound: the smallest s with P(Bin(n, q) <= s - 1) >= 1 - alpha/2; null where there is none. */
export function upperRank(n: number, q: number, confidence: number): number | null {
  const level = 1 - (1 - confidence) / 2;
  const reached = firstRank(n, (s) => reachesAtLeast(binomialCdf(s - 1, n, q), level));
  return reached <= n ? reached : null;
}

/** Ties are exact in the definition and a last bit off in binary: 1 - 0.95 is not 0.05. */
const tie = 1e-12;

/** Whether a probability is at most a level, an exact tie included. */
export function reachesAtMost(probability: number, level: number): boolean {
  return probability <= level + tie;
}

/** Whether a probability is at least a level, an exact tie included. */
export function reachesAtLeast(probability: number, level: number): boolean {
  return probability >= level - tie;
}

/** The smallest rank in 1..n that satisfies a condition which, once true, stays true; n + 1 where none does. */
function firstRank(n: number, holds: (rank: number) => boolean): number {
  let low = 1;
  let high = n + 1;
  while (low < high) {
    const middle = Math.floor((low + high) / 2);
    if (holds(middle)) high = middle;
    else low = middle + 1;
  }
  return low;
}

/**
 * The q-quantile of the strongest RSSI over all presentations, with bounds that assume nothing about its distribution
 * and take the presentations as independent.
 *
 * The value is R's type 7 quantile (R. J. Hyndman and Y. Fan 1996, Am. Stat. 50, 361-365). A figure that falls on a
 * missed presentation is null and marked in `onMiss`; a bound whose rank does not exist is null and not marked. n = 0
 * gives no figure at all.
 */
export function levelQuantile(levels: Levels, q: number, confidence: number): Estimate {
  const { missed, readDbm } = levels;
  const n = missed + readDbm.length;
  const common = { k: readDbm.length, n, confidence, method: "order-statistic" as const };
  if (n === 0) {
    return { value: null, ...common, lower: null, upper: null, effectiveN: null, designEffect: null };
  }
  const onMiss = (rank: number | null) => rank !== null && rank <= missed;
  const at = (rank: number | null) => (rank === null || onMiss(rank) ? null : readDbm[rank - 1 - missed]!);
  const lower = lowerRank(n, q, confidence);
  const upper = upperRank(n, q, confidence);
  const valueRank = Math.floor((n - 1) * q) + 1;
  const ranked = () => [...new Array<number>(missed).fill(readDbm[0]!), ...readDbm];
  return {
    value: onMiss(valueRank) ? null : quantileSorted(ranked(), q),
    ...common,
    lower: at(lower),
    upper: at(upper),
    effectiveN: n,
    designEffect: 1,
    onMiss: { value: onMiss(valueRank), lower: onMiss(lower), upper: onMiss(upper) },
  };
}
