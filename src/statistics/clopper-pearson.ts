import betainc from "@stdlib/math-base-special-betainc";
import betaQuantile from "@stdlib/stats-base-dists-beta-quantile";
import { remembered } from "./numerics/remembered.ts";
import { findRoot } from "./numerics/root.ts";
import type { Bounds } from "./wilson.ts";

/** Dear, and asked for the same counts in table after table. */
const betaQuantiles = remembered((probability: number) =>
  remembered((a: number) => remembered((b: number) => betaQuantile(probability, a, b))),
);

/**
 * The exact interval for a proportion: each end is the probability at which a result as extreme as the observed one, or
 * more extreme, has a chance of alpha/2.
 *
 * `p` is the observed proportion (0..1) and `n` > 0 the number of independent trials; both may come from an effective
 * sample, so k = p n need not be whole (the beta form carries over). `confidence` is two-sided, 0..1.
 * Lower: the alpha/2 quantile of Beta(k, n - k + 1), exactly 0 where p is 0. Upper: the 1 - alpha/2 quantile of
 * Beta(k + 1, n - k), exactly 1 where p is 1.
 *
 * Source: C. J. Clopper and E. S. Pearson (1934), Biometrika 26, 404-413; beta form as in NIST/SEMATECH e-Handbook
 * 7.2.4.1. Example: 4 of 20 at 90 % gives 0.071354 to 0.401028.
 */
export function clopperPearsonBounds(p: number, n: number, confidence: number): Bounds {
  const alpha = 1 - confidence;
  const k = p * n;
  const failures = (1 - p) * n;
  return {
    lower: p === 0 ? 0 : betaQuantiles(alpha / 2)(k)(failures + 1),
    upper: p === 1 ? 1 : betaQuantiles(1 - alpha / 2)(k + 1)(failures),
  };
}

/** The chances of a result as large as the observed one or larger, and of one as small or smaller. */
export interface Tails {
  asMany: number;
  asFew: number;
}

/**
 * The two tails that `clopperPearsonBounds` is made of, at a probability (strictly between 0 and 1): the lower end lies at or
 * above it just where `asMany` is at most alpha/2, the upper end at or below it where `asFew` is. That takes a tenth of the
 * time of the ends.
 *
 * `p` and `n` as in `clopperPearsonBounds`. As many: I(k, n - k + 1), 1 where p is 0. As few: 1 - I(k + 1, n - k), 1 where p
 * is 1. I is the regularised incomplete beta function at `probability`.
 * Example: 4 of 20 at 0.071354: as many with a chance of 0.05, and as few with 0.98842 (computed).
 */
export function clopperPearsonTails(p: number, n: number, probability: number): Tails {
  const k = p * n;
  const failures = (1 - p) * n;
  return {
    asMany: p === 0 ? 1 : betainc(probability, k, failures + 1, true, false),
    asFew: p === 1 ? 1 : betainc(probability, k + 1, failures, true, true),
  };
}

/**
 * How many independent trials with the proportion `p` (above 0, at most 1) have the lower Clopper-Pearson end `lower`
 * (0 < lower < p): the inverse of `clopperPearsonBounds` in n, searched from 0 to `most`.
 *
 * Where p is 1 it is ln(alpha/2) / ln(lower).
 * Example: nothing failed and a lower end of 0.99031 at 95 %: 378.8 trials (computed).
 */
export function effectiveSampleSizeFor(
  { p, lower }: { p: number; lower: number },
  most: number,
  confidence: number,
): number {
  if (p === 1) return Math.min(most, Math.log((1 - confidence) / 2) / Math.log(lower));
  const excess = (n: number) => (1 - clopperPearsonBounds(p, n, confidence).lower) / (1 - lower) - 1;
  return findRoot(excess, { low: 0, high: most });
}

/**
 * The fewest independent trials in which an event whose probability is `probability` (above 0, below 1) comes up at least
 * once with a chance of 1 - alpha/2: the n at which the upper Clopper-Pearson end of 0 of n falls to it.
 *
 * ceil( ln(alpha/2) / ln(1 - probability) ). The well-known 299 for one in a hundred has one side of 95 %.
 * Example: one in fifty at 95 %: 183; one in a hundred at 90 %: 299.
 */
export function fewestTrialsToSee(probability: number, confidence: number): number {
  return Math.ceil(Math.log((1 - confidence) / 2) / Math.log1p(-probability));
}
