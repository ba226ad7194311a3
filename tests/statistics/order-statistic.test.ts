import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  furtherAbove,
  furtherBelow,
  lowerRank,
  quantileInterval,
  upperRank,
} from "../../src/statistics/order-statistic.ts";

describe("a quantile of a censored sample", () => {
  it("is censored where it falls below the values, and has no end where no rank is far enough out", () => {
    const values = [3, 5, 8, 9, 12, 13, 14, 20];
    expect(quantileInterval({ censored: 2, values }, 0.05, 0.95)).toEqual({
      value: "censored",
      lower: null,
      upper: 3,
    });
    expect(quantileInterval({ censored: 2, values }, 0.5, 0.95)).toEqual({
      value: 8.5,
      lower: "censored",
      upper: 14,
    });
    expect(quantileInterval({ censored: 0, values: [] }, 0.5, 0.95)).toEqual({
      value: null,
      lower: null,
      upper: null,
    });
  });
});

describe("how many further observations", () => {
  it("has the worked examples of its documentation", () => {
    expect(furtherAbove({ below: 0, n: 40, q: 0.05, confidence: 0.95 }, 1e6)).toBe(32);
    expect(furtherBelow({ atOrBelow: 40, n: 40, q: 0.95, confidence: 0.95 }, 1e6)).toBe(32);
    expect(furtherAbove({ below: 0, n: 40, q: 0.05, confidence: 0.95 }, 31)).toBeNull();
  });

  it("are just enough to bring the end to the limit", () => {
    const quantiles = fc.constantFrom(0.05, 0.25, 0.5, 0.9);
    fc.assert(
      fc.property(fc.nat(6), fc.integer({ min: 1, max: 60 }), quantiles, (below, others, q) => {
        const n = below + others;
        const further = furtherAbove({ below, n, q, confidence: 0.95 }, 1e6)!;
        const reaches = (more: number) => (lowerRank(n + more, q, 0.95) ?? 0) > below;
        expect(reaches(further)).toBe(true);
        if (further > 1) expect(reaches(further - 1)).toBe(false);
        const mirrored = furtherBelow({ atOrBelow: others, n, q: 1 - q, confidence: 0.95 }, 1e6)!;
        expect((upperRank(n + mirrored, 1 - q, 0.95) ?? Number.POSITIVE_INFINITY) <= others + mirrored).toBe(
          true,
        );
      }),
    );
  });
});
