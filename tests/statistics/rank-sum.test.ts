import { describe, expect, it } from "vitest";
import { rankSumP } from "../../src/statistics/rank-sum.ts";

describe("rank-sum test", () => {
  it("counts arrangements where few values differ", () => {
    expect(rankSumP([1, 2, 3], [4, 5, 6])).toBeCloseTo(2 / 20, 12);
    // Two pairs; the 10 arrangements of two among five have 0, 1, 2, 2, 3, 3, 4, 4, 5 and 6.
    expect(rankSumP([1, 4], [2, 3, 5])).toBeCloseTo(8 / 10, 12);
  });

  it("is the same whichever sample comes first", () => {
    const [a, b] = [
      [3.1, 2.2, 5.9, 4.4],
      [1.5, 2.9, 0.4, 3.3, 0.9],
    ];
    expect(rankSumP(a, b)).toBe(rankSumP(b, a));
  });

  it("shows nothing where a sample is empty or all values are equal", () => {
    expect(rankSumP([], [1, 2])).toBe(1);
    expect(rankSumP([2, 2, 2], [2, 2])).toBe(1);
  });

  it("is corrected for ties", () => {
    // Ranks 1.5, 1.5, 4, 4 against 4, 6, 7, 8: W = 11, U = 1, variance 16/12 (9 - (6 + 24)/56) = 11.286, z = 6.5/3.3594 = 1.9349.
    const p = rankSumP([1, 1, 2, 2], [2, 3, 4, 5]);
    expect(p).toBeCloseTo(0.053, 3);
  });
});
