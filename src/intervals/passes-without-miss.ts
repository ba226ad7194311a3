import { clusterSums } from "../statistics/effective-sample.ts";
import type { Interval, Settings } from "./interval.ts";

const mostPasses = 10_000;

/**
 * How many passes of `tags` tags, each tag presented once and none missed, it takes to show a rate of at least `limit`: what an
 * interval costs at the best; null where ten thousand are not enough.
 *
 * Worked example: passes of 40 tags, 99 % at 95 % confidence and a correlation of 0.02: 17 by Wilson's interval (computed).
 */
export function passesWithoutMiss(
  interval: Interval,
  { tags, limit }: { tags: number; limit: number },
  settings: Settings,
): number | null {
  for (let passes = 1; passes <= mostPasses; passes += 1) {
    const n = passes * tags;
    const clusterings = [clusterSums(Array.from({ length: passes }, () => ({ n: tags, failures: 0 })))];
    if (interval.decide({ n, k: n, clusterings }, { sense: "at-least", limit }, settings) === "met")
      return passes;
  }
  return null;
}
