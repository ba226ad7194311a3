/**
 * Holm's adjusted p values: raised so that the chance of even one false rejection among all tests stays what a single
 * test has. In the order given; each 0..1.
 *
 * With the p values rising, the i-th of m is multiplied by m - i + 1, is at most 1, and is never below the one before it.
 * An empty list stays empty, a single p stays as it is, equal ones stay equal.
 *
 * Source: S. Holm (1979), Scand. J. Stat. 6, 65-70. Example: 0.01, 0.04, 0.03, 0.005 give 0.03, 0.06, 0.06, 0.02.
 */
export function holmAdjusted(pValues: readonly number[]): number[] {
  const rising = pValues.map((p, index) => ({ p, index })).sort((a, b) => a.p - b.p);
  const adjusted = new Array<number>(pValues.length).fill(1);
  let floor = 0;
  rising.forEach(({ p, index }, rank) => {
    floor = Math.max(floor, Math.min(1, p * (pValues.length - rank)));
    adjusted[index] = floor;
  });
  return adjusted;
}
