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
