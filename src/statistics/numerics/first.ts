/**
 * The smallest whole number from `from` to `most` for which a condition holds; null where it holds for none of them.
 *
 * The condition must stay true once it is true. Steps from `from` double until it holds, then halving finds where it
 * begins: about 2 log2(answer - from) calls, none of them far beyond the answer, since large numbers often cost more.
 * Example: the first whole number from 1 to 100 whose square is 50 or more: 8.
 */
export function firstThatHolds(
  holds: (n: number) => boolean,
  { from, most }: { from: number; most: number },
): number | null {
  let fails = from - 1;
  let candidate = from;
  for (let step = 1; candidate <= most && !holds(candidate); step *= 2) {
    fails = candidate;
    candidate = candidate < most ? Math.min(most, candidate + step) : most + 1;
  }
  if (candidate > most) return null;
  while (candidate - fails > 1) {
    const middle = Math.floor((fails + candidate) / 2);
    if (holds(middle)) candidate = middle;
    else fails = middle;
  }
  return candidate;
}
