import normalQuantile from "@stdlib/stats-base-dists-normal-quantile";
import { remembered } from "./numerics/remembered.ts";

/** The two ends of a two-sided interval. */
export interface Bounds {
  lower: number;
  upper: number;
}

/**
 * The standard normal quantile at 1 - (1 - confidence)/2: how many standard errors a two-sided interval reaches either way.
 *
 * `confidence` is two-sided, 0..1 without its ends. Example: 0.95 gives 1.95996.
 */
export const criticalValue: (confidence: number) => number = remembered((confidence: number) =>
  normalQuantile(1 - (1 - confidence) / 2, 0, 1),
);

/**
 * The score interval for a proportion: every probability that the observed proportion does not contradict.
 *
 * `p` is the observed proportion (0..1) and `n` > 0 the number of independent trials, which may be fractional, as an
 * effective sample size is. `confidence` is two-sided, 0..1. The lower end is exactly 0 where p is 0, the upper end
 * exactly 1 where p is 1. With z the standard normal quantile at 1 - (1 - confidence)/2:
 * (p + z²/2n ± z sqrt(p(1-p)/n + z²/4n²)) / (1 + z²/n).
 *
 * Source: E. B. Wilson (1927), J. Am. Stat. Assoc. 22, 209-212; method 3 of R. G. Newcombe (1998), Stat. Med. 17,
 * 857-872. Example: 81 of 263 at 95 % gives 0.2553 to 0.3662.
 */
export function wilsonBounds(p: number, n: number, confidence: number): Bounds {
  const z = criticalValue(confidence);
  const zz = z * z;
  const centre = p + zz / (2 * n);
  const reach = z * Math.sqrt((p * (1 - p)) / n + zz / (4 * n * n));
  const scale = 1 + zz / n;
  return {
    lower: p === 0 ? 0 : Math.max(0, (centre - reach) / scale),
    upper: p === 1 ? 1 : Math.min(1, (centre + reach) / scale),
  };
}
