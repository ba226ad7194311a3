import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { isSameMix, standardisedRate } from "../../src/statistics/direct-standardisation.ts";

describe("a standardised rate", () => {
  const stratum = fc
    .record({ n: fc.integer({ min: 1, max: 90 }), k: fc.nat(90) })
    .map(({ n, k }) => ({ n, k: Math.min(n, k) }));

  it("is needed where mixes differ, in proportion and not in size", () => {
    const of = (...sizes: number[]) => sizes.map((n) => ({ n, k: 0 }));
    expect([of(1, 3), of(1, 4)].map((other) => isSameMix(of(10, 30), other))).toEqual([true, false]);
  });

  it("of 90 of 100 and 30 of 50, weighted alike, is 0.75, and worth an eighth less", () => {
    const own = [
      { n: 100, k: 90 },
      { n: 50, k: 30 },
    ];
    const other = [
      { n: 100, k: 0 },
      { n: 100, k: 0 },
    ];
    const found = standardisedRate(own, other);
    expect(found.value).toBeCloseTo(0.75, 12);
    expect(found.weightingEffect).toBeCloseTo(1.125, 12);
  });

  it("is the rate itself, exactly, where the mix is the same", () => {
    fc.assert(
      fc.property(
        fc.array(stratum, { minLength: 1, maxLength: 6 }),
        fc.integer({ min: 1, max: 5 }),
        (own, times) => {
          const other = own.map(({ n }) => ({ n: n * times, k: 0 }));
          const n = own.reduce((sum, one) => sum + one.n, 0);
          const k = own.reduce((sum, one) => sum + one.k, 0);
          expect(isSameMix(own, other)).toBe(true);
          expect(standardisedRate(own, other)).toEqual({ value: k / n, weightingEffect: 1 });
        },
      ),
    );
  });

  it("lies between the lowest and the highest of its strata, and weighting never adds worth", () => {
    fc.assert(
      fc.property(fc.array(fc.tuple(stratum, stratum), { minLength: 1, maxLength: 6 }), (pairs) => {
        const own = pairs.map(([one]) => one);
        const { value, weightingEffect } = standardisedRate(
          own,
          pairs.map(([, other]) => other),
        );
        const rates = own.map(({ n, k }) => k / n);
        expect(value).toBeGreaterThanOrEqual(Math.min(...rates) - 1e-12);
        expect(value).toBeLessThanOrEqual(Math.max(...rates) + 1e-12);
        expect(weightingEffect).toBeGreaterThanOrEqual(1 - 1e-12);
      }),
    );
  });
});
