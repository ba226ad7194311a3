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

/**
 * Where a condition that fails at `low` and holds at `high` begins to hold, by 60 halvings: for conditions that come with
 * no distance from zero. It must stay true once it is true.
 * Example: x² > 2 between 0 and 2: 1.41421356237.
 */
export function bisect(holds: (x: number) => boolean, { low, high }: { low: number; high: number }): number {
  let [fails, holding] = [low, high];
  for (let step = 0; step < 60; step += 1) {
    const middle = (fails + holding) / 2;
    if (holds(middle)) holding = middle;
    else fails = middle;
  }
  return holding;
}
