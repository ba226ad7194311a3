import { describe, expect, it } from "vitest";
import { dispersionFactor, poissonBounds } from "../../src/statistics/poisson.ts";

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
