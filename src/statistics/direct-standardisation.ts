/** Trials and successes in one stratum. */
export interface Stratum {
  n: number;
  k: number;
}

/** The rate that a sample would have had with another sample's mix of strata. */
interface StandardisedRate {
  /** 0..1. */
  value: number;
  /** How many times too large the counts are for what they are worth once weighted; 1 where the mixes are the same. */
  weightingEffect: number;
}

/**
 * Whether two samples divide their trials among the same strata, in the same order, in the same proportions; exact. Whole numbers.
 * Example: 10 and 30 trials against 1 and 3 have the same mix, against 1 and 4 another.
 */
export function isSameMix(own: readonly Stratum[], other: readonly Stratum[]): boolean {
  if (own.length === 1) return true;
  const ownN = total(own);
  const otherN = total(other);
  return own.every(({ n }, i) => BigInt(n) * BigInt(otherN) === BigInt(other[i]!.n) * BigInt(ownN));
}

/**
 * The rate of a sample whose strata are weighted as they are in another sample.
 *
 * `own` and `other` hold the same strata in the same order, each with n > 0 in both; k only matters in `own`. The same mix
 * gives k/n itself, exactly; k = n gives exactly 1, k = 0 exactly 0.
 * With w_c the other sample's share of stratum c: value = sum of w_c k_c/n_c; and, each trial of stratum c carrying the
 * weight w_c N / n_c, the weighting is worth N / ((sum of weights)² / sum of squared weights) = N * sum of w_c² / n_c, which
 * multiplies the effect of clustering.
 *
 * Sources: direct standardisation, for instance J. L. Fleiss (1981), Statistical Methods for Rates and Proportions, 2nd
 * ed., chapter 14; the effect of weighting and its product with that of clustering, L. Kish (1965), Survey Sampling,
 * section 11.7 (both from memory).
 * Example: 90 of 100 and 30 of 50, weighted to 100 and 100: 0.5 * 0.9 + 0.5 * 0.6 = 0.75, with a weighting
 * effect of 150 * (0.25/100 + 0.25/50) = 1.125.
 */
export function standardisedRate(own: readonly Stratum[], other: readonly Stratum[]): StandardisedRate {
  const n = total(own);
  const k = own.reduce((sum, stratum) => sum + stratum.k, 0);
  if (isSameMix(own, other)) return { value: k / n, weightingEffect: 1 };
  const otherN = total(other);
  let value = 0;
  let squares = 0;
  own.forEach((stratum, i) => {
    const share = other[i]!.n / otherN;
    value += share * (stratum.k / stratum.n);
    squares += (share * share) / stratum.n;
  });
  if (k === 0) value = 0;
  if (k === n) value = 1;
  return { value: Math.min(1, value), weightingEffect: n * squares };
}

function total(strata: readonly Stratum[]): number {
  return strata.reduce((sum, { n }) => sum + n, 0);
}
