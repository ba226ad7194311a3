import { describe, expect, it } from "vitest";
import { incompleteGamma } from "../../src/statistics/numerics/incomplete-gamma.ts";

// mpmath 1.x in Python, 30 digits, computed for this test; the last two by scipy 1.17.1, which agrees with it elsewhere.
const known = [
  { shape: 3, x: 1.5, lower: 0.191153169461942, upper: 0.808846830538058 },
  { shape: 33.3, x: 25, lower: 0.0642785692779116, upper: 1 - 0.0642785692779116 },
  { shape: 0.5, x: 1e-8, lower: 0.000112837916333425, upper: 1 - 0.000112837916333425 },
  { shape: 5000, x: 5000, lower: 0.501880634033817, upper: 1 - 0.501880634033817 },
  { shape: 1e4, x: 1e4, lower: 0.501329808339955, upper: 1 - 0.501329808339955 },
  { shape: 1001, x: 1064, lower: 0.975084779141025, upper: 0.0249152208589755 },
  { shape: 1e5, x: 1e5, lower: 0.500420522110365, upper: 1 - 0.500420522110365 },
];

describe("the incomplete gamma functions", () => {
  it.each(known)("at shape $shape and x $x agree with 30 digits", ({ shape, x, lower, upper }) => {
    const found = incompleteGamma(shape, x);
    expect(Math.abs(found.lower / lower - 1)).toBeLessThan(2e-12);
    expect(Math.abs(found.upper / upper - 1)).toBeLessThan(2e-12);
  });

  it("are the closed forms of shapes 1 and 2, far into both tails", () => {
    for (const x of [1e-12, 0.3, 1.99, 2.01, 40, 700]) {
      expect(incompleteGamma(1, x).upper / Math.exp(-x)).toBeCloseTo(1, 11);
      expect(incompleteGamma(2, x).upper / ((1 + x) * Math.exp(-x))).toBeCloseTo(1, 11);
      expect(incompleteGamma(1, x).lower / -Math.expm1(-x)).toBeCloseTo(1, 11);
    }
  });

  it("are 0 and 1 at x 0", () => {
    expect(incompleteGamma(2.5, 0)).toEqual({ lower: 0, upper: 1 });
  });
});
