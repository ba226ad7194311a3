import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { firstTurn, type Layout, misses } from "../../bench/simulation/one-more-miss.ts";
import { intervals } from "../../src/intervals/index.ts";
import type { Interval, Settings } from "../../src/intervals/interval.ts";
import type { ClusteredSample } from "../../src/statistics/effective-sample.ts";
import { mirrored } from "../../src/statistics/effective-sample.ts";
import { alike, sumsOf } from "../statistics/clusters.ts";

const settings: Settings = { confidence: 0.95, missCorrelation: 0.02 };
const monotone = ["beta-binomial", "any-time"].map((id) => intervals.get(id));
const sampleOf = (passes: number, tags: number, missed: number[]): ClusteredSample => ({
  n: passes * tags,
  k: passes * tags - missed.reduce((sum, one) => sum + one, 0),
  clusterings: [sumsOf(alike(passes, tags, missed))],
});

/** Passes by tags, the same tags in every pass. */
function crossed(reads: boolean[][]): ClusteredSample {
  const tags = reads[0]!.map((_, tag) => reads.map((pass) => pass[tag]!));
  const sums = (groups: boolean[][]) =>
    sumsOf(groups.map((group) => [group.length, group.filter((read) => !read).length]));
  const k = reads.flat().filter((read) => read).length;
  return { n: reads.flat().length, k, clusterings: [sums(reads), sums(tags)] };
}

const fewMissed = fc
  .array(fc.array(fc.nat(9), { minLength: 6, maxLength: 6 }), { minLength: 5, maxLength: 5 })
  .map((cells) => cells.map((pass) => pass.map((draw) => draw > 1)));

describe.each(monotone.map((interval) => [interval.id, interval] as const))(
  "one more miss, by %s",
  (_, interval) => {
    it("does not turn 793 of 800 from undecided into met, and neither figure is the better one", () => {
      const [before, after] = [
        [2, 1, 1, 1, 1, 1, 0, 0],
        [2, 1, 1, 1, 1, 1, 1, 0],
      ].map((missed) => sampleOf(8, 100, missed)) as [ClusteredSample, ClusteredSample];
      for (const limit of [0.8, 0.85, 0.9, 0.94, 0.95, 0.96]) {
        const asked = { sense: "at-least", limit } as const;
        const states = [before, after].map((sample) => interval.decide(sample, asked, settings));
        if (states[1] === "met") expect(states[0]).toBe("met");
      }
      const [one, other] = [before, after].map((sample) => interval.bounds(sample, settings).lower);
      expect(other).toBeLessThanOrEqual(one! + 1e-12);
    });

    it.each([
      { passes: 8, tags: 100, most: 9 },
      { passes: 11, tags: 100, most: 9 },
      { passes: 20, tags: 40, most: 8 },
      { passes: 70, tags: 20, most: 6 },
      { passes: 82, tags: 20, most: 6 },
    ])("never helps, wherever it lies: $passes passes of $tags with up to $most", (layout: Layout) => {
      for (const limit of [0.92, 0.95, 0.97, 0.98, 0.99])
        expect(firstTurn(interval, layout, { limit, settings })).toBeNull();
      expect([...misses(layout)].length).toBeGreaterThan(15);
    });

    it("never raises the lower end where tags count as well as passes, nor lowers the upper end of what must be rare", () => {
      fc.assert(
        fc.property(fewMissed, fc.nat(29), (reads, where) => {
          const more = reads.map((pass, i) =>
            pass.map((read, tag) => read && !(i === Math.floor(where / 6) && tag === where % 6)),
          );
          const [before, after] = [crossed(reads), crossed(more)];
          fc.pre(2 * after.k > after.n);
          const low = (sample: ClusteredSample) => interval.bounds(sample, settings).lower;
          const high = (sample: ClusteredSample) => interval.bounds(mirrored(sample), settings).upper;
          expect(low(after)).toBeLessThanOrEqual(low(before) + 1e-9);
          expect(high(after)).toBeGreaterThanOrEqual(high(before) - 1e-9);
        }),
        { numRuns: 60 },
      );
    });

    it("leaves figure and state in agreement", () => {
      for (const missed of [
        [2, 1, 1, 1, 1, 1],
        [1, 1, 1],
        [3, 3],
        [9, 1, 1, 1, 1, 1, 1],
      ]) {
        const sample = sampleOf(8, 100, missed);
        const { lower } = interval.bounds(sample, settings);
        const state = (limit: number) => interval.decide(sample, { sense: "at-least", limit }, settings);
        expect([state(lower - 1e-9), state(lower + 1e-9)]).toEqual(["met", "undecided"]);
      }
    });
  },
);

it("one more miss helps an interval that takes no care: the search would find it", () => {
  const careless: Interval = {
    ...intervals.get("wilson"),
    decide: ({ n, k }) => ((n - k) % 2 === 0 ? "met" : "undecided"),
  };
  const layout = { passes: 8, tags: 100, most: 3 };
  expect(firstTurn(careless, layout, { limit: 0.97, settings })).toEqual({ before: [1], after: [2] });
});
