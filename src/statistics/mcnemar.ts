import binomialCdf from "@stdlib/stats-base-dists-binomial-cdf";

/**
 * How surprising it is, if nothing changed, that the pairs that came out differently lie so much on one side: exact,
 * two-sided, 0..1.
 *
 * Takes the pairs read only before and only after, whole numbers >= 0, each pair independent of the others. Without
 * any it is 1. Formula: 2 P(Bin(b + c, 1/2) <= min(b, c)), at most 1.
 *
 * Source: Q. McNemar (1947), Psychometrika 12, 153-157, in its exact binomial form. Example: 9 and 2: 0.0654.
 */
export function mcnemarP(onlyBefore: number, onlyAfter: number): number {
  const differing = onlyBefore + onlyAfter;
  if (differing === 0) return 1;
  return Math.min(1, 2 * binomialCdf(Math.min(onlyBefore, onlyAfter), differing, 0.5));
}
