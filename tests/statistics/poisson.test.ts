import { describe, expect, it } from "vitest";
import { dispersionFactor, poissonBounds, poissonUpperTail } from "../../src/statistics/poisson.ts";

// F. Garwood (1936), Biometrika 28, 437-442; the two-sided 95 % limits for counts 0, 1, 3, 5 and 10 as R 4.2.2
// poisson.test prints them (computed here; the table of the paper itself was not read).
const garwood = [
  { k: 0, lower: 0, upper: 3.688879 },
  { k: 1, lower: 0.02531781, upper: 5.571643 },
  { k: 3, lower: 0.6186721, upper: 8.767273 },
  { k: 5, lower: 1.623486, upper: 11.66833 },
  { k: 10, lower: 4.795389, upper: 18.39036 },
];

describe("the exact interval of a Poisson count", () => {
  it.each(garwood)("of $k events is R's", ({ k, lower, upper }) => {
    const bounds = poissonBounds(k, 1, 0.95);
    expect(bounds.lower).toBeCloseTo(lower, 5);
    expect(bounds.upper).toBeCloseTo(upper, 4);
  });
});

describe("a large count", () => {
  // scipy 1.17.1, gamma.ppf and gamma.isf, computed for this test.
  it.each([
    { k: 1000, lower: 938.9730184077, upper: 1063.9521360163 },
    { k: 100_000, lower: 99381.15266374, upper: 100621.744739744 },
  ])("of $k events has its exact limits", ({ k, lower, upper }) => {
    const bounds = poissonBounds(k, 1, 0.95);
    expect(bounds.lower / lower).toBeCloseTo(1, 11);
    expect(bounds.upper / upper).toBeCloseTo(1, 11);
  });
});

describe("the chance of so many events or more", () => {
  it("has the worked example of its documentation", () => {
    expect(poissonUpperTail(3, 1.5)).toBeCloseTo(1 - 3.625 * Math.exp(-1.5), 12);
  });

  it("and the limits are each other's inverse, also of counts that are not whole", () => {
    for (const k of [0.05, 0.7, 2.5, 40.1, 3000.3]) {
      const { lower, upper } = poissonBounds(k, 1, 0.99);
      expect(poissonUpperTail(k, lower)).toBeCloseTo(0.005, 9);
      expect(1 - poissonUpperTail(k + 1, upper)).toBeCloseTo(0.005, 9);
    }
  });
});

describe("the dispersion of counts", () => {
  it("has the worked example of its documentation", () => {
    expect(dispersionFactor([3, ...new Array<number>(59).fill(0)])).toBeCloseTo(3, 9);
  });

  it("is never below 1, also of even counts", () => {
    expect(dispersionFactor([1, 1, 1, 1])).toBe(1);
    expect(dispersionFactor([5])).toBe(1);
    expect(dispersionFactor([0, 0, 0])).toBe(1);
  });
});
