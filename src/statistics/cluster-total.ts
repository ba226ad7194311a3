import { missChances } from "./miss-chances.ts";
import { saddlepointChance } from "./saddlepoint-chance.ts";

/** How many clusters there are of each size, by rising size; whole numbers. */
export type ClusterSizes = readonly (readonly [size: number, clusters: number])[];

/** The chance of at most `misses` misses in all; see `chanceOfAtMost`. */
export type TotalChance = (
  misses: number,
  sizes: ClusterSizes,
  missRate: number,
  correlation: number,
) => number;

/** Past so many multiplications the distribution is approximated: a few milliseconds. */
const mostWork = 4e5;

/**
 * How likely it is that all clusters together hold at most so many misses, if misses of one cluster are alike.
 *
 * `misses` is whole, -1 or more (-1 gives 0, all or more give 1); `missRate` lies strictly between 0 and 1, `correlation`
 * from 0 to below 1. Every cluster has a miss rate of its own, drawn from a beta distribution; clusters are independent
 * of each other. The distribution of the total is the convolution of theirs, cut off past `misses`; clusters of one
 * size are convolved by repeated squaring. All terms are positive, so nothing cancels. Large totals, whose convolution
 * would take too long, are found by a saddlepoint approximation instead, which is good to a few thousandths of the
 * chance there.
 *
 * Source: the beta-binomial distribution of J. G. Skellam (1948), J. R. Stat. Soc. B 10, 257-261, from memory.
 * Example: 20 clusters of 40, 3 % missed, correlation 0.05: at most 8 misses with a chance of 0.01214 (computed).
 */
export function chanceOfAtMost(
  misses: number,
  sizes: ClusterSizes,
  missRate: number,
  correlation: number,
): number {
  if (misses < 0) return 0;
  if (misses >= presentationsOf(sizes)) return 1;
  if (isTooMuch(misses, sizes)) return saddlepointChance(misses, sizes, missRate, correlation);
  const chances = totalChances(misses, sizes, missRate, correlation);
  return Math.min(
    1,
    chances.reduce((sum, chance) => sum + chance, 0),
  );
}

/**
 * The same, remembering whole distributions: for plans, which ask for many totals of the same few clusters. Holds at
 * most `most` of them and then forgets all.
 */
export function rememberingChances(most: number): TotalChance {
  const known = new Map<string, Float64Array>();
  return (misses, sizes, missRate, correlation) => {
    if (misses < 0) return 0;
    const all = presentationsOf(sizes);
    if (misses >= all) return 1;
    const key = `${sizes.flat().join(" ")} ${missRate} ${correlation}`;
    let sums = known.get(key);
    if (sums === undefined || misses >= sums.length) {
      const last = Math.min(all - 1, Math.max(31, 2 * misses));
      const end = isTooMuch(last, sizes) ? misses : last;
      if (isTooMuch(end, sizes)) return saddlepointChance(misses, sizes, missRate, correlation);
      let sum = 0;
      sums = totalChances(end, sizes, missRate, correlation).map((chance) => {
        sum = Math.min(1, sum + chance);
        return sum;
      });
      if (known.size >= most) known.clear();
      known.set(key, sums);
    }
    return sums[misses]!;
  };
}

function presentationsOf(sizes: ClusterSizes): number {
  return sizes.reduce((sum, [size, clusters]) => sum + size * clusters, 0);
}

function isTooMuch(misses: number, sizes: ClusterSizes): boolean {
  const squarings = sizes.reduce((sum, [, clusters]) => sum + Math.log2(clusters) + 1, 0);
  return squarings * misses * misses > mostWork;
}

/** The chance of each total up to `last`. */
function totalChances(
  last: number,
  sizes: ClusterSizes,
  missRate: number,
  correlation: number,
): Float64Array {
  let total: Float64Array = Float64Array.of(1);
  for (const [size, clusters] of sizes) {
    let stretch: Float64Array = missChances(size, missRate, correlation).subarray(0, last + 1);
    for (let rest = clusters; rest > 0; rest = Math.floor(rest / 2)) {
      if (rest % 2 === 1) total = together(total, stretch, last);
      if (rest > 1) stretch = together(stretch, stretch, last);
    }
  }
  return total;
}

function together(a: Float64Array, b: Float64Array, last: number): Float64Array {
  const sum = new Float64Array(Math.min(a.length + b.length - 1, last + 1));
  for (let i = 0; i < a.length; i += 1) {
    const chance = a[i]!;
    const end = Math.min(b.length, sum.length - i);
    for (let j = 0; j < end; j += 1) sum[i + j]! += chance * b[j]!;
  }
  return sum;
}
