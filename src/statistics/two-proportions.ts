import { bisect } from "./numerics/root.ts";
import { wilsonBounds } from "./wilson.ts";

/** An observed proportion, 0..1, and the number of independent trials it rests on, which may be fractional. */
export interface Proportion {
  p: number;
  n: number;
}

/** Two proportions and the correlation between them, -1..1: 0 for independent ones, `correctedPhi` for paired ones. */
export interface TwoProportions {
  first: Proportion;
  second: Proportion;
  phi: number;
}

/** Pairs of trials by what became of each: success in both, only in the first, only in the second, in neither. */
export interface PairedOutcomes {
  both: number;
  onlyFirst: number;
  onlySecond: number;
  neither: number;
}

/** A difference of two proportions with its two-sided interval, all -1..1. */
interface Difference {
  value: number;
  lower: number;
  upper: number;
}

/**
 * How far the first proportion lies above the second, with its interval: the distances from each proportion to its own
 * score limits, squared and added.
 *
 * Both have n > 0. Swapping the two negates the result. Two proportions that are both 0, or both 1, give 0 within limits
 * that are still apart. With d = p1 - p2 and (l1, u1), (l2, u2) the score limits at `confidence` (two-sided, 0..1):
 * lower = d - sqrt((p1-l1)² - 2 phi (p1-l1)(u2-p2) + (u2-p2)²),
 * upper = d + sqrt((u1-p1)² - 2 phi (u1-p1)(p2-l2) + (p2-l2)²).
 *
 * Sources: R. G. Newcombe (1998), Stat. Med. 17, 873-890, method 10 (independent); R. G. Newcombe (1998), Stat. Med. 17,
 * 2635-2650, method 10 (paired).
 * Example: 9 of 10 and 3 of 10, independent, at 95 %: 0.6, 0.1705 to 0.8090.
 */
export function proportionDifference({ first, second, phi }: TwoProportions, confidence: number): Difference {
  const one = wilsonBounds(first.p, first.n, confidence);
  const other = wilsonBounds(second.p, second.n, confidence);
  const value = first.p - second.p;
  const down = distance(first.p - one.lower, other.upper - second.p, phi);
  const up = distance(one.upper - first.p, second.p - other.lower, phi);
  return { value, lower: Math.max(-1, value - down), upper: Math.min(1, value + up) };
}

function distance(one: number, other: number, phi: number): number {
  // Binary arithmetic may leave a hair below 0 where phi is 1 and both distances are alike.
  return Math.sqrt(Math.max(0, one * one + other * other - 2 * phi * one * other));
}

/**
 * The correlation between the outcomes of a pair, -1..1, drawn towards 0 by a continuity correction, so that few pairs
 * do not pass for a firm correlation.
 *
 * With a, b, c, d the pairs that succeeded in both, only in the first, only in the second and in neither, and n their
 * sum: (ad - bc) / sqrt((a+b)(c+d)(a+c)(b+d)), the numerator less n/2 where it is above n/2, 0 where it lies from 0 to
 * n/2, as it is where it is negative. 0 where a margin is 0. `designEffect` >= 1 says how many times too large clustered
 * counts are for what they are worth; the correction is made that many times larger. 1 is the published form.
 *
 * Source: R. G. Newcombe (1998), Stat. Med. 17, 2635-2650, method 10; the design effect is our own extension.
 * Example: 53 in both, 1 in neither: (53 - 27) / 53 = 0.4906.
 */
export function correctedPhi(pairs: PairedOutcomes, designEffect = 1): number {
  const { both: a, onlyFirst: b, onlySecond: c, neither: d } = pairs;
  const margins = [a + b, c + d, a + c, b + d];
  if (margins.includes(0)) return 0;
  const raw = a * d - b * c;
  const correction = ((a + b + c + d) * designEffect) / 2;
  const numerator = raw < 0 ? raw : Math.max(0, raw - correction);
  return numerator / margins.reduce((product, margin) => product * Math.sqrt(margin), 1);
}

/** Below this, p is given as this: the confidence that would be needed is too near to 1 to be told from it. */
export const smallestP = 1e-10;

/**
 * The two-sided p value of a difference, from 1e-10 to 1: one less the confidence at which the interval of
 * `proportionDifference` just touches 0.
 *
 * So p lies below 1 - confidence just where the interval at that confidence excludes 0. Equal proportions give 1.
 *
 * Source: the duality of intervals and tests, D. R. Cox and D. V. Hinkley (1974), Theoretical Statistics, section 7.2 (from
 * memory). Example: 9 of 10 and 3 of 10: the interval touches 0 at a confidence of 99.50 %, so p is 0.0050 (computed).
 */
export function differenceP(two: TwoProportions): number {
  if (two.first.p === two.second.p) return 1;
  const excludesZero = (p: number) => {
    const { lower, upper } = proportionDifference(two, 1 - p);
    return lower > 0 || upper < 0;
  };
  if (excludesZero(smallestP)) return smallestP;
  return Math.exp(bisect((logP) => excludesZero(Math.exp(logP)), { low: Math.log(smallestP), high: 0 }));
}
