/** R. J. Hyndman and Y. Fan (1996), type 7: the value at (n - 1) q between the sorted values, counted from nought. */
export function quantile(sorted: number[], q: number): number {
  const position = (sorted.length - 1) * q;
  const below = Math.floor(position);
  const share = position - below;
  return share === 0 ? sorted[below]! : sorted[below]! * (1 - share) + sorted[below + 1]! * share;
}

/** The chance of at most `most` heads in `n` throws of a coin that shows heads with chance q, summed term by term. */
function chanceOfAtMost(most: number, n: number, q: number): number {
  let sum = 0;
  for (let heads = 0; heads <= most; heads += 1) {
    let ways = 1;
    for (let i = 1; i <= heads; i += 1) ways = (ways * (n - heads + i)) / i;
    sum += ways * q ** heads * (1 - q) ** (n - heads);
  }
  return sum;
}

/** The two order statistics that hold a quantile between them at 95 %, from the sorted values. */
export function orderBounds(sorted: number[], q: number): { lower: number; upper: number } {
  const n = sorted.length;
  const ranks = sorted.map((_, index) => index + 1);
  const lower = ranks.filter((r) => chanceOfAtMost(r - 1, n, q) <= 0.025).at(-1);
  const upper = ranks.find((s) => chanceOfAtMost(s - 1, n, q) >= 0.975);
  if (lower === undefined || upper === undefined) throw new Error("too few values for bounds");
  return { lower: sorted[lower - 1]!, upper: sorted[upper - 1]! };
}
