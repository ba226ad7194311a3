import binomialCdf from "@stdlib/stats-base-dists-binomial-cdf";
import { quantileSorted } from "simple-statistics";
import { firstThatHolds } from "./numerics/first.ts";

/** Values in rising order, below all of which lie some more that are known only to lie there. */
export interface CensoredSample {
  censored: number;
  values: readonly number[];
}

/** A figure of a censored sample: a value, "censored" where it lies below all values, or null where it does not exist. */
export type CensoredFigure = number | "censored" | null;

/**
 * The q-quantile (0 < q < 1) of a censored sample with a two-sided interval that assumes nothing about the distribution
 * but that the observations are independent. An empty sample has no figure at all.
 *
 * The value is R's type 7 quantile (R. J. Hyndman and Y. Fan 1996, Am. Stat. 50, 361-365); it is censored where its lower
 * neighbour is. The ends are the order statistics of `lowerRank` and `upperRank`.
 * Example: the 5 % quantile of -71.5, -70.5, -68 and 17 larger values is -70.55; the interval at 95 % has no lower end.
 */
export function quantileInterval(
  { censored, values }: CensoredSample,
  q: number,
  confidence: number,
): { value: CensoredFigure; lower: CensoredFigure; upper: CensoredFigure } {
  const n = censored + values.length;
  if (n === 0) return { value: null, lower: null, upper: null };
  const at = (rank: number | null): CensoredFigure => {
    if (rank === null) return null;
    return rank <= censored ? "censored" : values[rank - 1 - censored]!;
  };
  const isCensored = Math.floor((n - 1) * q) + 1 <= censored;
  const ranked = () =>
    censored === 0 ? (values as number[]) : [...new Array<number>(censored).fill(values[0]!), ...values];
  return {
    value: isCensored ? "censored" : quantileSorted(ranked(), q),
    lower: at(lowerRank(n, q, confidence)),
    upper: at(upperRank(n, q, confidence)),
  };
}

/**
 * The rank r of the order statistic that is the lower end of the interval for the q-quantile of n observations: the
 * largest r with P(Bin(n, q) <= r - 1) <= alpha/2, counted from 1; null where there is none.
 *
 * Source: distribution-free intervals for a quantile by order statistics, as in W. J. Conover, Practical Nonparametric
 * Statistics (from memory). Example: n = 72, q = 0.05, 95 %: rank 1, the smallest; n = 71 has none (0.95^71 = 0.0262,
 * computed).
 */
export function lowerRank(n: number, q: number, confidence: number): number | null {
  const alpha = 1 - confidence;
  const beyond = firstThatHolds((r) => !isAtMost(binomialCdf(r - 1, n, q), alpha / 2), { from: 1, most: n });
  const rank = (beyond ?? n + 1) - 1;
  return rank >= 1 ? rank : null;
}

/**
 * The rank of the upper end: the smallest s with P(Bin(n, q) <= s - 1) >= 1 - alpha/2; null where there is none.
 * Example: the median of ten observations at 95 % lies between ranks 2 and 9.
 */
export function upperRank(n: number, q: number, confidence: number): number | null {
  const alpha = 1 - confidence;
  return firstThatHolds((s) => isAtLeast(binomialCdf(s - 1, n, q), 1 - alpha / 2), { from: 1, most: n });
}

/**
 * How many further observations, all of them at or above a limit, bring the lower end of the interval for the q-quantile
 * up to the limit, if `below` of `n` observations lie below it; null past `most`.
 * Example: none of 40 below, q = 0.05, 95 %: 32 further ones (72 in all).
 */
export function furtherAbove(
  { below, n, q, confidence }: { below: number; n: number; q: number; confidence: number },
  most: number,
): number | null {
  return firstThatHolds((more) => isAtMost(binomialCdf(below, n + more, q), (1 - confidence) / 2), {
    from: 1,
    most,
  });
}

/**
 * The mirror of `furtherAbove`: how many further observations, all of them at or below a limit, bring the upper end down
 * to the limit, if `atOrBelow` of `n` observations lie there.
 * Example: all of 40 at or below, q = 0.95, 95 %: 32 further ones.
 */
export function furtherBelow(
  { atOrBelow, n, q, confidence }: { atOrBelow: number; n: number; q: number; confidence: number },
  most: number,
): number | null {
  return firstThatHolds(
    (more) => isAtLeast(binomialCdf(atOrBelow + more - 1, n + more, q), 1 - (1 - confidence) / 2),
    { from: 1, most },
  );
}

/** Ties are exact in the definition and a last bit off in binary: 1 - 0.95 is not 0.05. */
const tie = 1e-12;

function isAtMost(probability: number, level: number): boolean {
  return probability <= level + tie;
}

function isAtLeast(probability: number, level: number): boolean {
  return probability >= level - tie;
}
