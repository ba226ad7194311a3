import { sampleVariance } from "simple-statistics";
import type { IdleCounts } from "../measures/evidence.ts";
import type { Estimate } from "../model/estimate.ts";
import { poissonBounds } from "../statistics/poisson.ts";
import type { Bounds } from "../statistics/wilson.ts";

/**
 * How much more the minutes differ from each other than chance alone would have it: the variance of the tags a minute
 * over their mean, never below 1. A cage parked in the field is heard minute after minute, so its reads are worth fewer.
 *
 * Source: the usual dispersion factor of quasi-Poisson counts (P. McCullagh and J. A. Nelder, Generalized Linear Models,
 * section 6.2; from memory). Fewer than two minutes, or none heard, give 1.
 */
export function dispersion(byMinute: number[]): number {
  const tags = byMinute.reduce((sum, count) => sum + count, 0);
  if (byMinute.length < 2 || tags === 0) return 1;
  const mean = tags / byMinute.length;
  return Math.max(1, sampleVariance(byMinute) / mean);
}

/** Bounds on tags a minute, with count and time shrunk alike by the dispersion. */
export function idleBounds(tags: number, minutes: number, factor: number, confidence: number): Bounds {
  return poissonBounds(tags / factor, minutes / factor, confidence);
}

/**
 * Tags heard a minute with nothing presented. k counts tags, n the minutes (not whole); no idle time gives an estimate
 * without value or bounds. Example: 3 tags in 60 minutes, each in a minute of its own, at 95 %: 0.05, 0.0103 to 0.1461.
 */
export function idleRate(counts: IdleCounts, confidence: number): Estimate {
  const { tags, minutes, byMinute } = counts;
  const common = { k: tags, n: minutes, confidence, method: "poisson" as const };
  if (minutes <= 0) {
    return { value: null, ...common, lower: null, upper: null, effectiveN: null, designEffect: null };
  }
  const factor = dispersion(byMinute);
  const { lower, upper } = idleBounds(tags, minutes, factor, confidence);
  const value = tags / minutes;
  return { value, ...common, lower, upper, effectiveN: minutes / factor, designEffect: factor };
}
