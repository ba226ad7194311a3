import binomialCdf from "@stdlib/stats-base-dists-binomial-cdf";

/** `k` successes in `n` trials. */
interface Count {
  k: number;
  n: number;
}

/**
 * Fisher's exact test of two proportions: the two-sided p value, 0..1, of k1 successes in n1 trials against k2 in n2.
 *
 * All counts are whole and every trial is independent. 1 where a sample is empty, or where all trials succeeded or all
 * failed. p is the sum of the chances of all tables with the same margins that are no likelier than the one observed; a
 * tolerance of 1e-7 makes tables that are equally likely count as such.
 * The hypergeometric chances are built outwards from the likeliest table by the ratio of neighbours,
 * P(x+1)/P(x) = (n1-x)(m-x) / ((x+1)(n2-m+x+1)) with m = k1 + k2, and divided by their sum: no factorial is formed, so
 * nothing overflows. A chance below the smallest double counts as 0.
 *
 * Source: R. A. Fisher (1935), J. R. Stat. Soc. 98, 39-82. Example: 0 of 16 and 15 of 72: 0.0629.
 */
export function fisherP(first: Count, second: Count): number {
  const { k: k1, n: n1 } = first;
  const { k: k2, n: n2 } = second;
  const m = k1 + k2;
  const least = Math.max(0, m - n2);
  const most = Math.min(m, n1);
  if (least === most) return 1;
  const mode = Math.min(most, Math.max(least, Math.floor(((n1 + 1) * (m + 1)) / (n1 + n2 + 2))));
  const weights = new Float64Array(most - least + 1);
  weights[mode - least] = 1;
  for (let x = mode; x < most; x += 1) {
    weights[x + 1 - least] = (weights[x - least]! * ((n1 - x) * (m - x))) / ((x + 1) * (n2 - m + x + 1));
  }
  for (let x = mode; x > least; x -= 1) {
    weights[x - 1 - least] = (weights[x - least]! * (x * (n2 - m + x))) / ((n1 - x + 1) * (m - x + 1));
  }
  const limit = weights[k1 - least]! * (1 + 1e-7);
  let all = 0;
  let asExtreme = 0;
  // Smallest first: small chances are summed before a large one swallows them.
  for (const weight of weights.sort()) {
    all += weight;
    if (weight <= limit) asExtreme = all;
  }
  return Math.min(1, asExtreme / all);
}

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
