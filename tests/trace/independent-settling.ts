import { effectiveSize, wilson } from "./independent-interval.ts";
import { orderBounds } from "./independent-quantile.ts";
import type { Claim } from "./printed.ts";
import type { Count } from "./recount.ts";

/** Doubles a number until it is enough, then halves the distance to the first that is. */
function firstThatDoes(enough: (further: number) => boolean): number {
  let [low, high] = [0, 1];
  while (!enough(high)) [low, high] = [high, high * 2];
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (enough(middle)) high = middle;
    else low = middle;
  }
  return high;
}

/** Further passes, all of them complete, until the lower bound reaches the limit. */
export function furtherCompletePasses(count: Count, limit: number): number {
  return firstThatDoes((further) => {
    const n = count.n + further;
    return wilson((count.k + further) / n, n).lower >= limit;
  });
}

/**
 * Further presentations without a fault until the bound of the longer walk reaches the limit; in passes, and of tags, as
 * large as those walked on average.
 */
export function furtherPresentations(count: Count, limit: number, claim: Claim): number {
  const mean = (side: "pass" | "tag") =>
    Math.round(count.n / new Set(count.rows.map((row) => row[side])).size);
  const [passSize, tagSize] = [mean("pass"), mean("tag")];
  return firstThatDoes((further) => {
    const more = Array.from({ length: further }, (_, i) => ({
      ...count.rows[0]!,
      pass: `further ${Math.floor(i / passSize)}`,
      tag: `further ${Math.floor(i / tagSize)}`,
      read: claim === "at least",
    }));
    const rows = [...count.rows, ...more];
    const k = rows.filter(({ read }) => read).length;
    const found = wilson(k / rows.length, effectiveSize({ k, n: rows.length, rows }, 0.02));
    return claim === "at least" ? found.lower >= limit : found.upper <= limit;
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
