import { effectiveSize, wilson } from "./independent-interval.ts";
import { orderBounds } from "./independent-quantile.ts";
import type { Count } from "./recount.ts";

/** Halves the numbers up to 10 000 until the first that is enough is left. */
function firstThatDoes(enough: (further: number) => boolean): number {
  let [low, high] = [0, 10_000];
  if (!enough(high)) throw new Error("nothing settles it");
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (enough(middle)) high = middle;
    else low = middle;
  }
  return high;
}

/**
 * Further presentations, all of them read, until the lower bound of the longer walk reaches the limit; in passes, and of
 * tags, as large as those walked on average.
 */
export function furtherReads(count: Count, limit: number): number {
  const mean = (side: "pass" | "tag") =>
    Math.round(count.n / new Set(count.rows.map((row) => row[side])).size);
  const [passSize, tagSize] = [mean("pass"), mean("tag")];
  return firstThatDoes((further) => {
    const more = Array.from({ length: further }, (_, i) => ({
      ...count.rows[0]!,
      pass: `further ${Math.floor(i / passSize)}`,
      tag: `further ${Math.floor(i / tagSize)}`,
      read: true,
    }));
    const [k, n] = [count.k + further, count.n + further];
    return wilson(k / n, effectiveSize({ k, n, rows: [...count.rows, ...more] }, 0.02)).lower >= limit;
  });
}

/** The chance of so many or more in `n` independent trials. */
export function binomialOrMore(faults: number, n: number, each: number): number {
  let term = (1 - each) ** n;
  let fewer = 0;
  for (let i = 0; i < faults; i += 1) {
    fewer += term;
    term *= (((n - i) / (i + 1)) * each) / (1 - each);
  }
  return 1 - fewer;
}

/** Further passes, none of them with a stray, until the upper bound comes down to the limit. */
export function furtherSilentPasses(count: Count, limit: number): number {
  return firstThatDoes((further) => wilson(count.k / (count.n + further), count.n + further).upper <= limit);
}

/** Further presentations, all of them heard strongly, until the lower bound of the quantile reaches the limit. */
export function furtherStrongReads(sorted: number[], q: number, limitDbm: number): number {
  return firstThatDoes((further) => {
    const strong = new Array<number>(further).fill(0);
    return orderBounds([...sorted, ...strong], q).lower >= limitDbm;
  });
}

/** Passes that carry so many presentations, at as many a pass as were carried so far. */
export function aboutPasses(further: number, presentations: number, passes: number): number {
  return Math.ceil(further / (presentations / passes));
}
