import normalCdf from "@stdlib/stats-base-dists-normal-cdf";

/** Up to so many values together the exact distribution is summed, unless some are equal. */
const mostExact = 50;

/**
 * The rank-sum test: the two-sided p value, 0..1, of two independent samples whose values lie as far apart as these, or
 * farther, if both come from one distribution. Nothing is assumed of its shape.
 *
 * 1 where a sample is empty or all values are equal. Up to 50 values without equal ones: twice the smaller tail of the exact distribution of
 * the number of pairs (x, y) with x > y. Else normal, with the correction of the variance for ties and a continuity correction of 1/2.
 *
 * Source: F. Wilcoxon (1945), Biometrics Bull. 1, 80-83; H. B. Mann and D. R. Whitney (1947), Ann. Math. Stat. 18, 50-60, for
 * the recursion. Example: 1, 2, 3 against 4, 5, 6: 2/20 = 0.1.
 */
export function rankSumP(first: readonly number[], second: readonly number[]): number {
  const [m, n] = [first.length, second.length];
  if (m === 0 || n === 0) return 1;
  const values = [
    ...first.map((value) => ({ value, own: 1 })),
    ...second.map((value) => ({ value, own: 0 })),
  ];
  values.sort((a, b) => a.value - b.value);
  let rankSum = 0;
  let ties = 0;
  for (let start = 0; start < values.length; ) {
    let end = start;
    let own = 0;
    while (end < values.length && values[end]!.value === values[start]!.value) own += values[end++]!.own;
    const equal = end - start;
    rankSum += own * ((start + 1 + end) / 2);
    ties += equal * equal * equal - equal;
    start = end;
  }
  const wins = rankSum - (m * (m + 1)) / 2;
  const total = m + n;
  if (ties === 0 && total <= mostExact) return exactP(Math.min(wins, m * n - wins), m, n);
  const variance = ((m * n) / 12) * (total + 1 - ties / (total * (total - 1)));
  if (variance <= 0) return 1;
  const distance = Math.max(0, Math.abs(wins - (m * n) / 2) - 0.5);
  return Math.min(1, 2 * normalCdf(-distance / Math.sqrt(variance), 0, 1));
}

/** Twice the chance of at most so many pairs. The number of arrangements with w pairs is a coefficient of a Gaussian binomial. */
function exactP(wins: number, m: number, n: number): number {
  const counts = new Float64Array(m * n + 1);
  counts[0] = 1;
  for (let i = 1; i <= m; i += 1) {
    for (let w = m * n; w >= n + i; w -= 1) counts[w]! -= counts[w - n - i]!;
    for (let w = i; w <= m * n; w += 1) counts[w]! += counts[w - i]!;
  }
  let all = 0;
  let few = 0;
  counts.forEach((count, w) => {
    all += count;
    if (w <= wins) few += count;
  });
  return Math.min(1, (2 * few) / all);
}
