/**
 * Where a function that falls from above zero to below it crosses zero between `low` and `high`, to about 14 digits.
 *
 * The function need not be defined at the two ends themselves, and it is called only between them. A point at which it
 * is within `closeEnough` of zero counts as the crossing. A function that has one sign throughout gives the end at which
 * the crossing would have to lie.
 *
 * Bisection until both signs were seen, then false position, halving the value remembered of an end that stays put: the
 * Illinois method, M. Dowell and P. Jarratt (1971), BIT 11, 168-174, from memory.
 * Example: 2 - x² between 0 and 2: 1.41421356237.
 */
export function findRoot(
  f: (x: number) => number,
  { low, high, closeEnough = 1e-13 }: { low: number; high: number; closeEnough?: number },
): number {
  let [left, right] = [low, high];
  let atLeft = Number.POSITIVE_INFINITY;
  let atRight = Number.NEGATIVE_INFINITY;
  let moved: "left" | "right" | null = null;
  for (
    let step = 0;
    step < 200 && right - left > 1e-14 * Math.max(Math.abs(left), Math.abs(right));
    step += 1
  ) {
    const straight = (left * atRight - right * atLeft) / (atRight - atLeft);
    const x = straight > left && straight < right ? straight : (left + right) / 2;
    const y = f(x);
    if (Math.abs(y) < closeEnough) return x;
    if (y > 0) {
      left = x;
      atLeft = y;
      if (moved === "left") atRight /= 2;
      moved = "left";
    } else {
      right = x;
      atRight = y;
      if (moved === "right") atLeft /= 2;
      moved = "right";
    }
  }
  return (left + right) / 2;
}
