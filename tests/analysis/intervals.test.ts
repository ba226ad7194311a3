import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { boundsOf, clusteredRate, plainRate } from "../../src/analysis/estimate.ts";
import { clusterSums } from "../../src/statistics/effective-sample.ts";

const kinds = fc.constantFrom("wilson" as const, "exact" as const);
const confidences = fc.constantFrom(0.8, 0.9, 0.95, 0.99);
const basisOf = (interval: "wilson" | "exact", confidence: number, missCorrelation = 0.02) => ({
  interval,
  confidence,
  missCorrelation,
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

function countsOf(cells: (number | null)[][]) {
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

describe("an interval", () => {
  it("contains k/n and stays in 0..1, whatever the walk", () => {
    fc.assert(
      fc.property(walks, kinds, confidences, (cells, interval, confidence) => {
        const counts = countsOf(cells);
        fc.pre(counts.n > 0);
        const { value, lower, upper } = clusteredRate(counts, basisOf(interval, confidence));
        expect(lower).toBeGreaterThanOrEqual(0);
        expect(upper).toBeLessThanOrEqual(1);
        expect(lower!).toBeLessThanOrEqual(value! + 1e-12);
        expect(upper!).toBeGreaterThanOrEqual(value! - 1e-12);
      }),
    );
  });

  it("never rises at its lower end with one more miss, at a fixed effective sample", () => {
    const misses = fc
      .integer({ min: 1, max: 500 })
      .chain((n) => fc.tuple(fc.constant(n), fc.integer({ min: 0, max: n - 1 })));
    fc.assert(
      fc.property(
        misses,
        fc.double({ min: 1, max: 20, noNaN: true }),
        kinds,
        confidences,
        ([n, miss], effect, interval, confidence) => {
          const lowerAt = (missed: number) =>
            boundsOf((n - missed) / n, n / effect, basisOf(interval, confidence)).lower;
          expect(lowerAt(miss + 1)).toBeLessThanOrEqual(lowerAt(miss) + 1e-12);
        },
      ),
    );
  });
});

describe("a pass rate", () => {
  it("stands on its passes as they are", () => {
    expect(plainRate(588, 600, basisOf("wilson", 0.95))).toMatchObject({
      value: 0.98,
      effectiveN: 600,
      designEffect: 1,
    });
    expect(plainRate(588, 600, basisOf("wilson", 0.95)).lower).toBeCloseTo(0.96537, 5);
    expect(plainRate(0, 0, basisOf("wilson", 0.95))).toMatchObject({ value: null, lower: null, upper: null });
  });
});
