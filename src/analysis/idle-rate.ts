import type { IdleCounts } from "../measures/evidence.ts";
import type { Estimate } from "../model/estimate.ts";
import { dispersionFactor, poissonBounds } from "../statistics/poisson.ts";
import type { Bounds } from "../statistics/wilson.ts";

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
  const factor = dispersionFactor(byMinute);
  const { lower, upper } = idleBounds(tags, minutes, factor, confidence);
  const value = tags / minutes;
  return { value, ...common, lower, upper, effectiveN: minutes / factor, designEffect: factor };
}
