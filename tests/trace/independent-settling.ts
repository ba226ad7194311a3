import { effectiveSize, wilson } from "./independent-interval.ts";
import { orderBounds } from "./independent-quantile.ts";
import type { Count } from "./recount.ts";

/** Tries one more, and one more, until it is enough. */
function firstThatDoes(enough: (further: number) => boolean): number {
  for (let further = 1; further < 10_000; further += 1) if (enough(further)) return further;
  throw new Error("nothing settles it");
}

/** Further presentations, all of them read, until the lower bound reaches the limit; worth as much apiece as those walked. */
export function furtherReads(count: Count, limit: number): number {
  const worth = effectiveSize(count, 0.02) / count.n;
  return firstThatDoes((further) => {
    const n = count.n + further;
    return wilson((count.k + further) / n, n * worth).lower >= limit;
  });
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
