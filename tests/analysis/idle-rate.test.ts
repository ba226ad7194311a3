import { describe, expect, it } from "vitest";
import { dispersion, idleRate } from "../../src/analysis/idle-rate.ts";
import { furtherForMinutes } from "../../src/analysis/settle.ts";
import { poissonBounds } from "../../src/statistics/poisson.ts";

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

describe("tags heard a minute with nothing presented", () => {
  const minutes = (...heard: number[]) => [...heard, ...new Array<number>(60 - heard.length).fill(0)];

  it("three tags in an hour, each in a minute of its own, are 0.05, from 0.0103 to 0.1461", () => {
    const estimate = idleRate({ tags: 3, minutes: 60, byMinute: minutes(1, 1, 1) }, 0.95);
    expect(estimate).toMatchObject({ value: 0.05, k: 3, n: 60, designEffect: 1, method: "poisson" });
    expect(estimate.lower).toBeCloseTo(0.010311, 5);
    expect(estimate.upper).toBeCloseTo(0.146121, 5);
  });

  it("three tags in one minute are worth fewer than three", () => {
    const together = idleRate({ tags: 3, minutes: 60, byMinute: minutes(3) }, 0.95);
    expect(together.designEffect).toBeCloseTo(3, 9);
    expect(together.upper).toBeGreaterThan(0.146121);
  });

  it("never widen less than chance: evenly heard minutes have no dispersion below 1", () => {
    expect(dispersion([1, 1, 1, 1])).toBe(1);
    expect(dispersion([5])).toBe(1);
    expect(dispersion([0, 0, 0])).toBe(1);
  });

  it("with no idle time give no figure", () => {
    const nothing = idleRate({ tags: 0, minutes: 0, byMinute: [] }, 0.95);
    expect(nothing).toMatchObject({ value: null, lower: null, upper: null, effectiveN: null });
  });

  it("none in ten minutes would be shown to be at most 0.1 a minute by 27 further silent ones", () => {
    // 3.688879 / 0.1 = 36.89 minutes in all (computed).
    const silent = idleRate({ tags: 0, minutes: 10, byMinute: new Array<number>(10).fill(0) }, 0.95);
    expect(furtherForMinutes(silent, 0.1)).toBe(27);
    expect(furtherForMinutes(idleRate({ tags: 1, minutes: 10, byMinute: [1] }, 0.95), 0.1)).toBeNull();
  });
});
