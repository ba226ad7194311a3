import { clusteredState, walkedOn } from "../intervals/clustered-interval.ts";
import type { Estimate } from "../model/estimate.ts";
import type { Sense } from "../model/facility.ts";
import type { ClusteredSample } from "../statistics/effective-sample.ts";
import { firstThatHolds } from "../statistics/first.ts";
import { type CensoredSample, furtherAbove, furtherBelow } from "../statistics/order-statistic.ts";
import { type Basis, boundsOf } from "./estimate.ts";
import { idleBounds } from "./idle-rate.ts";

/** How far walking on without a fault would have to go; null where no number of passes gets there. */
export type Further = number | null;

const tooMany = 2 ** 40;

/**
 * How many further presentations (or passes) without a fault would bring an undecided rate to its limit, if the design
 * effect stays what it is.
 *
 * A fault is a miss for `at-least` and a stray, or a bystander heard, for `at-most`. Null where the value is on the
 * wrong side of the limit or on it: then no number will, and the read point wants retuning.
 * Example: 239 of 240 with nothing clustered, at least 0.99 at 95 %: 323 further ones (computed).
 */
export function furtherForRate(estimate: Estimate, sense: Sense, limit: number, basis: Basis): Further {
  const { value, k, n, designEffect } = estimate;
  if (value === null || designEffect === null) return null;
  if (sense === "at-least" ? value <= limit : value >= limit) return null;
  return firstThatHolds(
    (further) => {
      const total = n + further;
      const bounds = boundsOf((sense === "at-least" ? k + further : k) / total, total / designEffect, basis);
      return sense === "at-least" ? bounds.lower >= limit : bounds.upper <= limit;
    },
    { from: 1, most: tooMany },
  );
}

/**
 * The same by the `beta-binomial` interval, which looks at the clusters themselves: the further presentations are taken
 * to lie as `walkedOn` has it.
 * Example: 20 passes of 40, each tag presented once, nothing missed, at least 0.99 at 95 %: 52 further ones, into the
 * 22nd pass (computed).
 */
export function furtherForCounts(
  counts: ClusteredSample,
  sense: Sense,
  limit: number,
  basis: Basis,
): Further {
  const value = counts.k / counts.n;
  if (sense === "at-least" ? value <= limit : value >= limit) return null;
  return firstThatHolds(
    (further) => clusteredState(walkedOn(counts, further, sense), sense, limit, basis) === "met",
    { from: 1, most: tooMany },
  );
}

/**
 * The same for a quantile of the RSSI: how many further presentations, every one of them read on the good side of the
 * limit. Null where the value itself is on the wrong side or on it.
 */
export function furtherForLevel(
  levels: CensoredSample,
  estimate: Estimate,
  q: number,
  sense: Sense,
  limit: number,
): Further {
  const { value, n, confidence } = estimate;
  if (sense === "at-least") {
    if (value === null || value <= limit) return null;
    const below = levels.censored + levels.values.filter((level) => level < limit).length;
    return furtherAbove({ below, n, q, confidence }, tooMany);
  }
  if (value !== null && value >= limit) return null;
  const atOrBelow = levels.censored + levels.values.filter((level) => level <= limit).length;
  return furtherBelow({ atOrBelow, n, q, confidence }, tooMany);
}

/**
 * The same for tags heard a minute with nothing presented: how many further minutes of silence, at the dispersion as it
 * is. Null where the rate itself is over the limit or on it.
 */
export function furtherForMinutes(estimate: Estimate, limit: number): Further {
  const { value, k, n, designEffect, confidence } = estimate;
  if (value === null || designEffect === null || value >= limit) return null;
  return firstThatHolds((further) => idleBounds(k, n + further, designEffect, confidence).upper <= limit, {
    from: 1,
    most: tooMany,
  });
}
