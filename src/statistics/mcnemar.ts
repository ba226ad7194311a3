import binomialCdf from "@stdlib/stats-base-dists-binomial-cdf";

/**
 * McNemar's exact test of paired proportions: the two-sided p value, 0..1, from the pairs that came out differently.
 *
 * `onlyFirst` and `onlySecond` are the pairs with a success only in the first and only in the second, whole numbers of 0
 * or more, each pair independent of the others. Without any p is 1.
 * Formula: 2 P(Bin(b + c, 1/2) <= min(b, c)), at most 1.
 *
 * Source: Q. McNemar (1947), Psychometrika 12, 153-157, in its exact binomial form. Example: 9 and 2: 0.0654.
 */
export function mcnemarP(onlyFirst: number, onlySecond: number): number {
  const discordant = onlyFirst + onlySecond;
  if (discordant === 0) return 1;
  return Math.min(1, 2 * binomialCdf(Math.min(onlyFirst, onlySecond), discordant, 0.5));
}
