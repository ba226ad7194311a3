/** Presentations and reads under one combination of conditions. */
export interface CellCount {
  n: number;
  k: number;
}

/** A round's rate as it would have been had it been walked in another round's mix of conditions. */
export interface StandardisedRate {
  /** 0..1. */
  value: number;
  /** How many times too large the counts are for what they are worth once weighted; 1 where the mixes are alike. */
  weightingEffect: number;
}

/** Whether two rounds divide their presentations among the same cells in the same proportions; exact. */
export function isSameMix(own: readonly CellCount[], other: readonly CellCount[]): boolean {
  const ownN = total(own);
  const otherN = total(other);
  return own.every((cell, i) => BigInt(cell.n) * BigInt(otherN) === BigInt(other[i]!.n) * BigInt(ownN));
}

/**
 * The rate that a round's own reads come to when its cells are weighted as another round walked them.
 *
 * `own` and `other` are the same cells in the same order, each with n > 0 in both; k only matters in `own`. A mix that is
 * alike gives k/n itself, exactly; all read gives exactly 1, all missed exactly 0.
 * With w_c the other round's share of cell c: value = sum of w_c k_c/n_c; and, each presentation of cell c carrying the
 * weight w_c N / n_c, the weighting is worth N / ((sum of weights)² / sum of squared weights) = N * sum of w_c² / n_c, which
 * multiplies the effect of clustering.
 *
 * Sources: direct standardisation, for instance J. L. Fleiss (1981), Statistical Methods for Rates and Proportions, 2nd
 * ed., chapter 14; the effect of weighting and its product with that of clustering, L. Kish (1965), Survey Sampling,
 * section 11.7 (both from memory).
 * Example: 90 of 100 flat and 30 of 50 edge-on, weighted to 100 and 100: 0.5 * 0.9 + 0.5 * 0.6 = 0.75, with a weighting
 * effect of 150 * (0.25/100 + 0.25/50) = 1.125.
 */
export function standardisedRate(own: readonly CellCount[], other: readonly CellCount[]): StandardisedRate {
  const n = total(own);
  const k = own.reduce((sum, cell) => sum + cell.k, 0);
  if (isSameMix(own, other)) return { value: k / n, weightingEffect: 1 };
  const otherN = total(other);
  let value = 0;
  let squares = 0;
  own.forEach((cell, i) => {
    const share = other[i]!.n / otherN;
    value += share * (cell.k / cell.n);
    squares += (share * share) / cell.n;
  });
  if (k === 0) value = 0;
  if (k === n) value = 1;
  return { value: Math.min(1, value), weightingEffect: n * squares };
}

function total(cells: readonly CellCount[]): number {
  return cells.reduce((sum, cell) => sum + cell.n, 0);
}
