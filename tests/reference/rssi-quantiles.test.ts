import { describe, expect, it } from "vitest";
import { lowerRank, quantileInterval, upperRank } from "../../src/statistics/order-statistic.ts";

// R 4.2.2 quantile(x, p, type = 7); definition in R. J. Hyndman and Y. Fan (1996), Am. Stat. 50, 361-365.
// Provenance: library value only; the sample is invented.
const sample = [
  -71.5, -70.5, -68, -67.5, -66, -65.5, -64, -63.5, -63, -62.5, -61, -60.5, -60, -59.5, -58, -57.5, -56,
  -55.5, -54, -51,
];
const type7 = [
  { q: 0.05, value: -70.55 },
  { q: 0.1, value: -68.25 },
  { q: 0.5, value: -61.75 },
  { q: 0.9, value: -55.35 },
];

describe("a quantile of the RSSI", () => {
  it.each(type7)("at $q is R's type 7: $value dBm", ({ q, value }) => {
    expect(quantileInterval({ censored: 0, values: sample }, q, 0.95).value).toBeCloseTo(value, 9);
  });
});

// Ranks worked out from the binomial distribution: P(Bin(n, 0.05) = 0) is 0.0249 at n = 72 and 0.0262 at n = 71
// (R 4.2.2 dbinom, computed). The 95 % ranks 2 and 9 of the median of ten are in the usual tables for the sign test
// interval (from memory).
describe("the ranks that bound a quantile", () => {
  it("72 presentations are the fewest that bound a 5 % quantile from below at 95 %", () => {
    expect(lowerRank(72, 0.05, 0.95)).toBe(1);
    expect(lowerRank(71, 0.05, 0.95)).toBeNull();
  });

  it("take an exact tie in: the 95 % quantile of a single read at 90 % is bounded below by that read", () => {
    // P(Bin(1, 0.95) <= 0) is 0.05 and so is alpha/2; in binary neither is.
    expect(lowerRank(1, 0.95, 0.9)).toBe(1);
  });

  it("are 2 and 9 for the median of ten", () => {
    expect(lowerRank(10, 0.5, 0.95)).toBe(2);
    expect(upperRank(10, 0.5, 0.95)).toBe(9);
  });
});
