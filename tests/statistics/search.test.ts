import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { firstThatHolds } from "../../src/statistics/numerics/first.ts";
import { bisect, findRoot } from "../../src/statistics/numerics/root.ts";

describe("a root", () => {
  it("has the worked example of its documentation", () => {
    expect(findRoot((x) => 2 - x * x, { low: 0, high: 2 })).toBeCloseTo(Math.SQRT2, 12);
    expect(bisect((x) => x * x > 2, { low: 0, high: 2 })).toBeCloseTo(Math.SQRT2, 12);
  });

  it("is found wherever it lies, of functions steep and flat, without a call at the ends", () => {
    const places = fc.double({ min: 1e-6, max: 1 - 1e-6, noNaN: true });
    const shapes = fc.constantFrom<(distance: number) => number>(
      (d) => d,
      (d) => d ** 3,
      Math.expm1,
      (d) => Math.sign(d) * Math.sqrt(Math.abs(d)),
    );
    fc.assert(
      fc.property(places, shapes, (root, shape) => {
        const found = findRoot(
          (x) => {
            expect(x).toBeGreaterThan(0);
            expect(x).toBeLessThan(1);
            return shape(root - x) - shape(0);
          },
          { low: 0, high: 1, closeEnough: 0 },
        );
        expect(found).toBeCloseTo(root, 4);
      }),
    );
  });

  it("is the end at which it would have to lie where the sign never changes", () => {
    expect(findRoot(() => 1, { low: 0, high: 3 })).toBeCloseTo(3, 12);
    expect(findRoot(() => -1, { low: 1, high: 3 })).toBeCloseTo(1, 12);
  });
});

describe("the first whole number that holds", () => {
  it("has the worked example of its documentation", () => {
    expect(firstThatHolds((n) => n * n >= 50, { from: 1, most: 100 })).toBe(8);
  });

  it("is found wherever it lies, and is null past the last", () => {
    fc.assert(
      fc.property(fc.integer({ min: -5, max: 50 }), fc.nat(3000), fc.nat(4000), (from, further, length) => {
        const answer = from + further;
        const most = from + length;
        const tried: number[] = [];
        const found = firstThatHolds(
          (n) => {
            tried.push(n);
            return n >= answer;
          },
          { from, most },
        );
        expect(found).toBe(answer <= most ? answer : null);
        for (const n of tried) {
          expect(n).toBeGreaterThanOrEqual(from);
          expect(n).toBeLessThanOrEqual(Math.min(most, Math.max(from + 1, from + 2 * further + 1)));
        }
      }),
    );
  });
});
