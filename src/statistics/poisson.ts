import { incompleteGamma } from "./numerics/incomplete-gamma.ts";
import { findRoot } from "./numerics/root.ts";
import type { Bounds } from "./wilson.ts";

/**
 * The exact interval for a rate of events: each end is the rate at which a count as extreme as the observed one, or more
 * extreme, has a chance of alpha/2.
 *
 * `k` is the count (0 or more; not whole where overdispersion has shrunk it) and `exposure` > 0 the time in the unit that
 * the rate is per; `confidence` is two-sided, 0..1. Lower: the alpha/2 quantile of Gamma(k, 1) over the exposure, exactly
 * 0 where k is 0. Upper: the 1 - alpha/2 quantile of Gamma(k + 1, 1) over the exposure.
 *
 * Source: F. Garwood (1936), Biometrika 28, 437-442. Example: 10 events in one unit at 95 % give 4.795 to 18.39.
 */
export function poissonBounds(k: number, exposure: number, confidence: number): Bounds {
  const half = (1 - confidence) / 2;
  const tooMany = (mean: number) => 1 - incompleteGamma(k, mean).lower / half;
  const tooFew = (mean: number) => incompleteGamma(k + 1, mean).upper / half - 1;
  let beyond = k + 1;
  while (tooFew(beyond) > 0) beyond += 10 + 3 * Math.sqrt(k);
  return {
    lower: k === 0 ? 0 : findRoot(tooMany, { low: 0, high: k }) / exposure,
    upper: findRoot(tooFew, { low: k, high: beyond }) / exposure,
  };
}

/**
 * The chance of a count of `k` (above 0; not whole where overdispersion has shrunk it) or more where `mean` (above 0) is
 * expected: the regularised incomplete gamma function P(k, mean).
 * Example: 3 or more where 1.5 are expected: 0.1912 (1 - 3.625 exp(-1.5)).
 */
export function poissonUpperTail(k: number, mean: number): number {
  return incompleteGamma(k, mean).lower;
}

/**
 * How much more counts of equal spells of time vary than Poisson counts would: their sample variance over their mean,
 * never below 1. Events that come in clumps are worth so many times fewer.
 *
 * The order of `counts` carries no meaning; `further` spells without an event come on top of them. Fewer than two counts, or none but zeros, give 1.
 *
 * Source: the dispersion factor of quasi-Poisson counts, P. McCullagh and J. A. Nelder (1989), Generalized Linear
 * Models, section 6.2, from memory. Example: 3 events in one of 60 spells: 3.
 */
export function dispersionFactor(counts: readonly number[], further = 0): number {
  const sum = counts.reduce((total, count) => total + count, 0);
  const spells = counts.length + further;
  if (spells < 2 || sum === 0) return 1;
  const mean = sum / spells;
  const squares = counts.reduce(
    (total, count) => total + (count - mean) * (count - mean),
    further * mean * mean,
  );
  return Math.max(1, squares / (spells - 1) / mean);
}
