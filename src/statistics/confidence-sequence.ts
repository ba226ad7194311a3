import betaCdf from "@stdlib/math-base-special-betainc";
import logBeta from "@stdlib/math-base-special-betaln";
import { findRoot } from "./numerics/root.ts";
import type { Bounds } from "./wilson.ts";

/** How many independent trials a sample is worth where a probability strictly between 0 and 1 is tested. */
export type SampleSizeAt = (probability: number) => number;

/**
 * A confidence sequence for a proportion: intervals that hold all at once, however often one looks. With the stated
 * confidence, not one of the intervals worked out while trials are added excludes the true probability, so one may look
 * after every trial and stop at any look. An interval made for one look at the end does not allow that.
 *
 * `p` is the observed proportion (0..1) and `n` > 0 the number of independent trials; both may come from an effective
 * sample, so k = p n need not be whole. Where the size of the effective sample depends on the probability under test,
 * `n` is a function of it. `confidence` is two-sided, 0..1. The lower end is the smallest probability at which
 * `logMixtureRatio` stays below ln(2/alpha); the upper end is its mirror. Each is ever wrong with a chance of at most
 * alpha/2. Exactly 0 where p is 0, exactly 1 where p is 1.
 *
 * The guarantee is for independent trials. On an effective sample, which is estimated and changes from look to look, it
 * is as good as that estimate.
 *
 * Sources: H. Robbins (1970), Ann. Math. Stat. 41, 1397-1409 (mixtures of likelihood ratios); S. R. Howard, A. Ramdas,
 * J. McAuliffe and J. Sekhon (2021), Ann. Stat. 49, 1055-1080 (one-sided beta-binomial mixture); both from memory, the
 * guarantee checked by simulation. Example: 455 of 455 at 95 % gives 0.990003 to 1, 454 of 454 still 0.98998 (computed);
 * one look at the end takes 368.
 */
export function confidenceSequenceBounds(p: number, n: number | SampleSizeAt, confidence: number): Bounds {
  const at = typeof n === "number" ? () => n : n;
  return {
    lower: lowerEnd(p, at, confidence),
    upper: 1 - lowerEnd(1 - p, (probability) => at(1 - probability), confidence),
  };
}

/** What is neither 0 nor 1 comes no nearer to them, so that 1 less it is not 1. */
const nearest = Number.EPSILON / 2;

/**
 * The lower end of `confidenceSequenceBounds` alone: of `p` (0..1), with `at` the number of trials at each probability; 0 where p is 0.
 * Example: 455 of 455 at 95 %: 0.990003 (computed).
 */
export function lowerEnd(p: number, at: SampleSizeAt, confidence: number): number {
  if (p === 0) return 0;
  const needed = Math.log(2 / (1 - confidence));
  // The ratio falls steadily up to p, where it counts for nothing: there is one crossing.
  const end = findRoot((probability) => logMixtureRatio(p, at(probability), probability) - needed, {
    low: 0,
    high: p,
  });
  return Math.max(end, nearest);
}

/**
 * How many independent trials with the proportion `p` (above 0) have the lower end `lower` (0 < lower < p): the inverse of
 * `lowerEnd` in n, searched from 0 to `most`.
 * Example: nothing failed and a lower end of 0.99 at 95 %: 454.9 trials (computed).
 */
export function sampleSizeOfLowerEnd(
  { p, lower }: { p: number; lower: number },
  most: number,
  confidence: number,
): number {
  const needed = Math.log(2 / (1 - confidence));
  return findRoot((n) => needed - logMixtureRatio(p, n, lower), { low: 0, high: most });
}

/**
 * How much better probabilities above `limit` explain the trials than `limit` itself does: the logarithm of the
 * likelihood ratio, averaged over the probabilities above the limit.
 *
 * `p` is the observed proportion (0..1), `n` > 0 the number of trials, `limit` strictly between 0 and 1. The average is
 * taken with the weights of Beta(1/2, 1/2) above the limit. They spread evenly over the angle whose squared sine is the
 * probability of a failure, and so put as much weight near 1 as trials can tell probabilities apart there. A uniform
 * spread, Beta(1, 1), would ask for 535 trials without a failure in place of 455 to show 0.99 at 95 %.
 * If the true probability is at most `limit` the average is a supermartingale of expectation 1 or less, so that it ever
 * reaches 2/alpha with a chance of at most alpha/2 (J. Ville 1939). Far below the limit it vanishes: minus infinity.
 *
 * With k = p n, B the beta function and I the regularised incomplete beta function:
 * ln [ B(k + 1/2, n - k + 1/2) I(1 - limit; n - k + 1/2, k + 1/2) / (pi I(1 - limit; 1/2, 1/2)) ]
 * less `logLikelihood` at the limit.
 * Example: 10 of 10 against 0.5: ln 360.8 = 5.888 (computed).
 */
export function logMixtureRatio(p: number, n: number, limit: number): number {
  const a = p * n + 0.5;
  const b = (1 - p) * n + 0.5;
  const above = betaCdf(1 - limit, b, a) / betaCdf(1 - limit, 0.5, 0.5);
  return logBeta(a, b) - Math.log(Math.PI) + Math.log(above) - logLikelihood(p, n, limit);
}

/**
 * The logarithm of the likelihood of `n` trials of which the share `p` (0..1) succeeded, less its constant, at a
 * probability strictly between 0 and 1: k ln(probability) + (n - k) ln(1 - probability), k = p n. Differences of it are
 * what a sequential probability ratio test adds up.
 *
 * Source: A. Wald (1947), Sequential Analysis; the acceptance lines of NIST/SEMATECH e-Handbook 6.2.6 come out of it.
 * Example: one failure is 10 times as likely at 0.9 as at 0.99: the difference is ln 10 = 2.303.
 */
export function logLikelihood(p: number, n: number, probability: number): number {
  return p * n * Math.log(probability) + (1 - p) * n * Math.log1p(-probability);
}
