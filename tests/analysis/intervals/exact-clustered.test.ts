import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  chanceOfSoFew,
  chanceOfSoMany,
  missRateBounds,
  weighedCorrelations,
} from "../../../src/statistics/beta-binomial-interval.ts";
import { clopperPearsonBounds } from "../../../src/statistics/clopper-pearson.ts";
import {
  type ClusterSizes,
  chanceOfAtMost,
  rememberingChances,
} from "../../../src/statistics/cluster-total.ts";
import { missChances } from "../../../src/statistics/miss-chances.ts";
import { saddlepointChance } from "../../../src/statistics/saddlepoint-chance.ts";
import { alike, type Cluster, layoutOf } from "./layouts.ts";

const clusters = fc.array(
  fc
    .integer({ min: 1, max: 12 })
    .chain((size): fc.Arbitrary<Cluster> => fc.tuple(fc.constant(size), fc.integer({ min: 0, max: size }))),
  { minLength: 2, maxLength: 8 },
);
const rates = fc.double({ min: 0.005, max: 0.6, noNaN: true });
const correlations = fc.double({ min: 0, max: 0.8, noNaN: true });

/** Every combination of misses of the clusters, one by one. */
function bruteForce(most: number, sizes: number[], missRate: number, correlation: number): number {
  const [first, ...rest] = sizes;
  if (first === undefined) return 1;
  let total = 0;
  missChances(first, missRate, correlation).forEach((chance, misses) => {
    if (misses <= most) total += chance * bruteForce(most - misses, rest, missRate, correlation);
  });
  return total;
}

function grouped(sizes: number[]): ClusterSizes {
  return layoutOf(sizes.map((size): Cluster => [size, 0])).sizes;
}

describe("the total of clusters whose misses go together", () => {
  it("has the worked example of its documentation", () => {
    expect(chanceOfAtMost(8, [[40, 20]], 0.03, 0.05)).toBeCloseTo(0.01214, 5);
    expect(chanceOfAtMost(-1, [[40, 20]], 0.03, 0.05)).toBe(0);
    expect(chanceOfAtMost(800, [[40, 20]], 0.03, 0.05)).toBe(1);
  });

  it("is the sum over every way in which the misses may lie", () => {
    const few = fc.array(fc.integer({ min: 1, max: 5 }), { minLength: 1, maxLength: 5 });
    fc.assert(
      fc.property(few, fc.nat(12), rates, correlations, (sizes, most, missRate, correlation) => {
        const all = sizes.reduce((sum, size) => sum + size, 0);
        fc.pre(most < all);
        const plainly = bruteForce(most, sizes, missRate, correlation);
        expect(chanceOfAtMost(most, grouped(sizes), missRate, correlation)).toBeCloseTo(plainly, 12);
      }),
    );
  });

  it("is remembered as it is worked out", () => {
    const remembered = rememberingChances(3);
    for (const misses of [0, 5, 40, 31, 70, 2, 0]) {
      for (const correlation of [0.02, 0.1, 0.02]) {
        expect(remembered(misses, [[40, 20]], 0.03, correlation)).toBeCloseTo(
          chanceOfAtMost(misses, [[40, 20]], 0.03, correlation),
          12,
        );
      }
    }
  });

  it.each([
    [170, [[40, 200]], 0.03, 0.05],
    [120, [[40, 100]], 0.04, 0.1],
    [30, [[40, 20]], 0.06, 0.05],
    [60, [[40, 20]], 0.06, 0.05],
    [
      150,
      [
        [25, 1],
        [40, 200],
      ],
      0.025,
      0.2,
    ],
  ] as [number, ClusterSizes, number, number][])(
    "is approximated to a few thousandths of itself: at most %d",
    (misses, sizes, missRate, correlation) => {
      const exact = chanceOfAtMost(misses, sizes, missRate, correlation);
      expect(saddlepointChance(misses, sizes, missRate, correlation) / exact).toBeCloseTo(1, 2);
    },
  );
});

describe("the correlations tried", () => {
  it("have the worked example of their documentation", () => {
    const found = weighedCorrelations(layoutOf(alike(20, 40, [1, 1, 1])), 0.03, 0.02);
    expect(found[0]!.correlation).toBe(0.02);
    expect(found.at(-1)!.correlation).toBeCloseTo(0.2479, 4);
    const mean = found.reduce((sum, { correlation, weight }) => sum + correlation * weight, 0);
    expect(mean).toBeCloseTo(0.1235, 4);
  });

  it("weigh alike with fewer than two misses, and weigh 1 together", () => {
    for (const misses of [[], [1]]) {
      const found = weighedCorrelations(layoutOf(alike(20, 40, misses)), 0.03, 0);
      expect(found).toHaveLength(16);
      for (const { weight } of found) expect(weight).toBeCloseTo(1 / 16, 12);
    }
    fc.assert(
      fc.property(clusters, rates, correlations, (cells, missRate, floor) => {
        const layout = layoutOf(cells);
        fc.pre(layout.sizes.some(([size]) => size > 1));
        const found = weighedCorrelations(layout, missRate, floor);
        expect(found.reduce((sum, { weight }) => sum + weight, 0)).toBeCloseTo(1, 9);
        for (const { correlation } of found) expect(correlation).toBeGreaterThanOrEqual(floor);
      }),
    );
  });

  it("lean to the high ones where the misses lie together, and to the low ones where they lie apart", () => {
    const mean = (misses: number[]) =>
      weighedCorrelations(layoutOf(alike(20, 40, misses)), 0.03, 0.02).reduce(
        (sum, { correlation, weight }) => sum + correlation * weight,
        0,
      );
    const apart = mean([1, 1, 1, 1, 1, 1, 1, 1]);
    expect(mean([2, 2, 2, 2])).toBeGreaterThan(apart);
    expect(mean([8])).toBeGreaterThan(mean([4, 4]));
    expect(mean([40])).toBeGreaterThan(0.4);
  });
});

describe("the bounds on the miss rate", () => {
  it("have the worked examples of their documentation", () => {
    const none = layoutOf(alike(20, 40, []));
    expect(missRateBounds(none, 0.02, 0.95).lower).toBe(0);
    expect(missRateBounds(none, 0.02, 0.95).upper).toBeCloseTo(0.01104, 5);
    expect(chanceOfSoFew(none, 0.01, 0.02)).toBeCloseTo(0.0315, 4);
  });

  it("end exactly at 0 without a miss and at 1 with nothing read", () => {
    expect(missRateBounds(layoutOf(alike(3, 4, [])), 0.02, 0.95).lower).toBe(0);
    expect(missRateBounds(layoutOf(alike(3, 4, [4, 4, 4])), 0.02, 0.95).upper).toBe(1);
  });

  it("are those of Clopper and Pearson where every cluster holds one presentation", () => {
    fc.assert(
      fc.property(fc.integer({ min: 2, max: 60 }), fc.nat(60), (n, missed) => {
        fc.pre(missed <= n);
        const layout = layoutOf(alike(n, 1, Array<number>(missed).fill(1)));
        const plain = clopperPearsonBounds(missed / n, n, 0.95);
        // No pair shares a cluster, so any correlation is the same.
        const found = missRateBounds({ ...layout, pairs: 0 }, 0, 0.95);
        expect(found.lower).toBeCloseTo(plain.lower, 9);
        expect(found.upper).toBeCloseTo(plain.upper, 9);
      }),
    );
  });

  it("lie where a result as far out has half of the chance that is left, and hold the observed rate", () => {
    fc.assert(
      fc.property(clusters, fc.constantFrom(0, 0.02, 0.1), (cells, floor) => {
        const layout = layoutOf(cells);
        fc.pre(layout.sizes.some(([size]) => size > 1));
        const { lower, upper } = missRateBounds(layout, floor, 0.9);
        const share = layout.misses / layout.n;
        expect(lower).toBeLessThanOrEqual(share);
        expect(upper).toBeGreaterThanOrEqual(share);
        if (lower > 0) expect(chanceOfSoMany(layout, lower, floor)).toBeCloseTo(0.05, 8);
        if (upper < 1) expect(chanceOfSoFew(layout, upper, floor)).toBeCloseTo(0.05, 8);
      }),
      { numRuns: 60 },
    );
  });

  it("make so few misses ever less likely as the miss rate under test rises", () => {
    fc.assert(
      fc.property(clusters, rates, rates, fc.constantFrom(0, 0.02, 0.1), (cells, one, other, floor) => {
        const layout = layoutOf(cells);
        fc.pre(layout.sizes.some(([size]) => size > 1) && layout.misses * 2 <= layout.n);
        const [low, high] = one < other ? [one, other] : [other, one];
        fc.pre(low > layout.misses / layout.n);
        const chance = (rate: number) => chanceOfSoFew(layout, rate, floor);
        expect(chance(high)).toBeLessThanOrEqual(chance(low) + 1e-9);
      }),
    );
  });
});
