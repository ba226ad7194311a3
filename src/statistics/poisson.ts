import gammaQuantile from "@stdlib/stats-base-dists-gamma-quantile";
import type { Bounds } from "./wilson.ts";

/**
 * The exact interval for a rate of events over a stretch of time: each end is the rate at which a count as far out as
 * the observed one would still happen with half of the chance left over.
 *
 * Takes the count `k` (0 or more; not whole where overdispersion has shrunk it) and the time `exposure` > 0 in the unit
 * that the rate is per. Lower: the alpha/2 quantile of Gamma(k, 1) over the exposure, exactly 0 where k is 0; upper: the
 * 1 - alpha/2 quantile of Gamma(k + 1, 1) over the exposure.
 *
 * Source: F. Garwood (1936), Biometrika 28, 437-442. Example: 10 events in one unit at 95 % give 4.795 to 18.39.
 */
export function poissonBounds(k: number, exposure: number, confidence: number): Bounds {
  const alpha = 1 - confidence;
  return {
    lower: k === 0 ? 0 : gammaQuantile(alpha / 2, k, 1) / exposure,
    upper: gammaQuantile(1 - alpha / 2, k + 1, 1) / exposure,
  };
}
