import betaQuantile from "@stdlib/stats-base-dists-beta-quantile";
import type { Bounds } from "./wilson.ts";

/**
 * The exact interval for a proportion: each end is the rate at which a result as far out as the observed one would
 * still happen with half of the chance left over.
 *
 * Takes the observed proportion `p` (0..1) and the number of independent observations `n` > 0; both may come from an
 * effective sample, so k = p n need not be whole (the beta form carries over). `confidence` is two-sided, 0..1.
 * Lower: the alpha/2 quantile of Beta(k, n - k + 1), exactly 0 where p is 0. Upper: the 1 - alpha/2 quantile of
 * Beta(k + 1, n - k), exactly 1 where p is 1.
 *
 * Source: C. J. Clopper and E. S. Pearson (1934), Biometrika 26, 404-413; beta form as in NIST/SEMATECH e-Handbook
 * 7.2.4.1. Example: 4 of 20 at 90 % gives 0.071354 to 0.401028.
 */
export function clopperPearsonBounds(p: number, n: number, confidence: number): Bounds {
  const alpha = 1 - confidence;
  const k = p * n;
  const misses = (1 - p) * n;
  return {
    lower: p === 0 ? 0 : betaQuantile(alpha / 2, k, misses + 1),
    upper: p === 1 ? 1 : betaQuantile(1 - alpha / 2, k + 1, misses),
  };
}
