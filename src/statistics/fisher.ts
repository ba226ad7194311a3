/**
 * How surprising it is, if nothing changed, that the misses of two rounds fall so unevenly between them: exact,
 * two-sided, 0..1.
 *
 * Takes `k1` of `n1` and `k2` of `n2`, whole, every presentation independent. 1 where a round is empty, or where
 * everything was read or missed. The sum of the probabilities of all tables with the same margins that are no likelier
 * than the one observed; a hair of 1e-7 makes tables that are equally likely count as such.
 * The hypergeometric probabilities are built outwards from the likeliest table by the ratio of neighbours,
 * P(x+1)/P(x) = (n1-x)(m-x) / ((x+1)(n2-m+x+1)) with m = k1 + k2, and divided by their sum: no factorial is formed, so
 * nothing overflows. A probability below the smallest double counts as 0.
 *
 * Source: R. A. Fisher (1935), J. R. Stat. Soc. 98, 39-82. Example: 0 of 16 and 15 of 72: 0.0629.
 */
export function fisherP(k1: number, n1: number, k2: number, n2: number): number {
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
  let asSurprising = 0;
  // Smallest first, from both ends: what is small is summed up before what is large swallows it.
  for (const weight of weights.sort()) {
    all += weight;
    if (weight <= limit) asSurprising = all;
  }
  return Math.min(1, asSurprising / all);
}
