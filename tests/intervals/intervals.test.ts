import binomialCdf from "@stdlib/stats-base-dists-binomial-cdf";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { defaultInterval, intervals } from "../../src/intervals/index.ts";
import type { Limit } from "../../src/intervals/interval.ts";
import { decideByBounds } from "../../src/measures/evidence/evidence.ts";
import { rateEstimate } from "../../src/measures/evidence/rates.ts";
import { figuresOf, percent } from "../../src/measures/scales.ts";
import { clopperPearsonBounds } from "../../src/statistics/clopper-pearson.ts";
import { clusterSums } from "../../src/statistics/effective-sample.ts";
import { wilsonBounds } from "../../src/statistics/wilson.ts";
import { alike, sampleOf } from "../statistics/clusters.ts";

const ids = fc.constantFrom(...intervals.ids());
const confidences = fc.constantFrom(0.8, 0.9, 0.95, 0.99);
const limits = fc.record({
  sense: fc.constantFrom("at-least" as const, "at-most" as const),
  limit: fc.double({ min: 0.02, max: 0.98, noNaN: true }),
});

/** Passes by tags, each read or missed, some not presented. */
const walks = fc
  .tuple(fc.integer({ min: 1, max: 6 }), fc.integer({ min: 1, max: 6 }))
  .chain(([passes, tags]) =>
    fc.array(fc.array(fc.constantFrom(0, 1, 1, 1, null), { minLength: tags, maxLength: tags }), {
      minLength: passes,
      maxLength: passes,
    }),
  );

function sampleFrom(cells: (number | null)[][]) {
  const tags = cells[0]!.map((_, tag) => cells.map((pass) => pass[tag]!));
  const sums = (groups: (number | null)[][]) =>
    clusterSums(
      groups.map((group) => {
        const presented = group.filter((cell) => cell !== null);
        return { n: presented.length, failures: presented.filter((cell) => cell === 0).length };
      }),
    );
  const presented = cells.flat().filter((cell) => cell !== null);
  const k = presented.filter((cell) => cell === 1).length;
  return { n: presented.length, k, clusterings: [sums(cells), sums(tags)] };
}

const basisOf = (interval: string, confidence = 0.95) => ({ interval, confidence, missCorrelation: 0.02 });

describe("every interval", () => {
  it("contains k/n and stays in 0..1, whatever the walk, exactly at 1 with nothing missed and at 0 with nothing read", () => {
    fc.assert(
      fc.property(walks, ids, confidences, (cells, interval, confidence) => {
        const sample = sampleFrom(cells);
        fc.pre(sample.n > 0);
        const { value, lower, upper, effectiveN } = rateEstimate(sample, basisOf(interval, confidence));
        expect(lower).toBeGreaterThanOrEqual(0);
        expect(upper).toBeLessThanOrEqual(1);
        expect(lower!).toBeLessThanOrEqual(value! + 1e-12);
        expect(upper!).toBeGreaterThanOrEqual(value! - 1e-12);
        expect(effectiveN).toBeLessThanOrEqual(sample.n);
        if (sample.k === sample.n) expect(upper).toBe(1);
        if (sample.k === 0) expect(lower).toBe(0);
      }),
      { numRuns: 200 },
    );
  });

  it("decides in favour where its bounds do, and against only where they do", () => {
    fc.assert(
      fc.property(walks, ids, limits, (cells, id, limit) => {
        const sample = sampleFrom(cells);
        fc.pre(sample.n > 0);
        const interval = intervals.get(id);
        const bounds = interval.bounds(sample, basisOf(id));
        fc.pre(Math.min(Math.abs(bounds.lower - limit.limit), Math.abs(bounds.upper - limit.limit)) > 1e-9);
        const byBounds = decideByBounds(bounds, limit);
        const decided = interval.decide(sample, limit, basisOf(id));
        if (decided !== byBounds) expect([id, byBounds, decided]).toEqual(["wilson", "not-met", "undecided"]);
      }),
      { numRuns: 300 },
    );
  });

  it("says what it is, what it assumes and where it comes from", () => {
    for (const { id, words } of intervals.all()) {
      expect(words.used, id).toMatch(/^This facility uses .*\.$/);
      expect(words.assumes, id).toMatch(/^It .*\.$/);
      expect(words.formulas.length, id).toBeGreaterThan(0);
      expect(words.sources.length, id).toBeGreaterThan(0);
    }
    expect(intervals.ids()).toEqual(["wilson", "exact", "beta-binomial", "any-time"]);
    expect(defaultInterval().id).toBe("wilson");
  });
});

describe("the Wilson interval", () => {
  it("does not fail a read point that the exact interval would not fail: 16 of 17 at 99 %", () => {
    const sample = { n: 17, k: 16, clusterings: [] };
    const limit: Limit = { sense: "at-least", limit: 0.99 };
    for (const id of ["wilson", "exact"])
      expect(intervals.get(id).decide(sample, limit, basisOf(id))).toBe("undecided");
    expect(intervals.get("wilson").bounds(sample, basisOf("wilson")).upper).toBeLessThan(0.99);
    const bad = { n: 40, k: 20, clusterings: [] };
    expect(intervals.get("wilson").decide(bad, limit, basisOf("wilson"))).toBe("not-met");
  });

  it("and the exact one never rise at the lower end with one more miss, at a fixed effective sample", () => {
    const misses = fc
      .integer({ min: 1, max: 500 })
      .chain((n) => fc.tuple(fc.constant(n), fc.integer({ min: 0, max: n - 1 })));
    const makes = fc.constantFrom(wilsonBounds, clopperPearsonBounds);
    const effects = fc.double({ min: 1, max: 20, noNaN: true });
    fc.assert(
      fc.property(misses, effects, makes, confidences, ([n, miss], effect, boundsOf, confidence) => {
        const lowerAt = (missed: number) => boundsOf((n - missed) / n, n / effect, confidence).lower;
        expect(lowerAt(miss + 1)).toBeLessThanOrEqual(lowerAt(miss) + 1e-12);
      }),
    );
  });
});

describe("a rate", () => {
  it("of passes stands on its passes as they are", () => {
    const estimate = rateEstimate({ k: 588, n: 600, clusterings: [] }, basisOf("wilson"));
    expect(estimate).toMatchObject({ kind: "rate", value: 0.98, effectiveN: 600, designEffect: 1 });
    expect(estimate.lower).toBeCloseTo(0.96537, 5);
  });

  it("of nothing has no figure", () => {
    const estimate = rateEstimate({ k: 0, n: 0, clusterings: [] }, basisOf("wilson"));
    expect(estimate).toMatchObject({ value: null, lower: null, upper: null, effectiveN: null });
  });
});

describe.each(intervals.ids())("the bounds by %s", (id) => {
  const basis = { confidence: 0.999, interval: id, missCorrelation: 0.02 };

  it("are exactly 0 and 1 only where nothing and everything was read, and so are the figures printed", () => {
    for (const [passes, tags, missed] of [
      [1, 1000, [1]],
      [1, 1000, [999]],
      [2, 40, [1]],
      [2, 40, [40]],
      [2, 500, [500, 499]],
      [100, 1, [1]],
    ] as [number, number, number[]][]) {
      const estimate = rateEstimate(sampleOf(alike(passes, tags, missed)), basis);
      expect(estimate.lower).toBeGreaterThan(0);
      expect(1 - estimate.lower!).toBeLessThan(1);
      expect(estimate.upper).toBeLessThan(1);
      for (const sense of ["at-least", "at-most"] as const) {
        const { lower, upper } = figuresOf(estimate, { scale: percent, sense });
        expect(Number(lower)).toBeGreaterThan(0);
        expect(Number(upper)).toBeLessThan(100);
      }
    }
    expect(rateEstimate(sampleOf(alike(2, 40, [])), basis).upper).toBe(1);
    expect(rateEstimate(sampleOf(alike(2, 40, [40, 40])), basis).lower).toBe(0);
  });
});

describe("independent presentations at the limit are wrongly met", () => {
  /** The highest chance of any walk of up to 400 presentations. */
  const highest = (bounds: typeof wilsonBounds, limit: number, confidence: number) =>
    Math.max(
      ...Array.from({ length: 400 }, (_, i) => {
        const n = i + 1;
        let k = Math.floor(n * limit);
        while (k <= n && bounds(k / n, n, confidence).lower < limit) k += 1;
        return k > n ? 0 : 1 - binomialCdf(k - 1, n, limit);
      }),
    );

  it("by the exact interval no more often than the confidence says", () => {
    for (const confidence of [0.8, 0.95, 0.99])
      expect(highest(clopperPearsonBounds, 0.95, confidence)).toBeLessThan((1 - confidence) / 2);
  });

  it("by Wilson's a little more often at 95 %, and twice as often at 80 %", () => {
    for (const limit of [0.9, 0.95, 0.99]) expect(highest(wilsonBounds, limit, 0.95)).toBeLessThan(0.027);
    expect(highest(wilsonBounds, 0.9, 0.95)).toBeGreaterThan(0.026);
    expect(highest(wilsonBounds, 0.9, 0.8)).toBeCloseTo(0.206, 3);
  });
});
