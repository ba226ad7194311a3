import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { clopperPearsonBounds } from "../../src/statistics/clopper-pearson.ts";
import {
  confidenceSequenceBounds,
  logLikelihood,
  logMixtureRatio,
  lowerEnd,
  sampleSizeOfLowerEnd,
} from "../../src/statistics/confidence-sequence.ts";

const samples = fc
  .tuple(fc.double({ min: 0, max: 1, noNaN: true }), fc.double({ min: 0.5, max: 5000, noNaN: true }))
  .map(([share, n]) => ({ p: share < 1e-6 ? 0 : share > 1 - 1e-6 ? 1 : share, n }));

/** The mean of the likelihood ratio over the angle, by the rule of midpoints: slow and plain. */
function plainly(k: number, n: number, limit: number): number {
  const ends = Math.acos(Math.sqrt(limit));
  const steps = 200_000;
  let sum = 0;
  for (let i = 0; i < steps; i += 1) {
    const t = ((i + 0.5) / steps) * ends;
    sum += (Math.cos(t) / Math.cos(ends)) ** (2 * k) * (Math.sin(t) / Math.sin(ends)) ** (2 * (n - k));
  }
  return Math.log(sum / steps);
}

describe("the confidence sequence", () => {
  it("has the worked examples of its documentation", () => {
    expect(confidenceSequenceBounds(1, 455, 0.95).lower).toBeCloseTo(0.990003, 6);
    expect(confidenceSequenceBounds(1, 454, 0.95).lower).toBeCloseTo(0.98998, 5);
    expect(lowerEnd(1, () => 455, 0.95)).toBeCloseTo(0.990003, 6);
    expect(sampleSizeOfLowerEnd({ p: 1, lower: 0.99 }, 1000, 0.95)).toBeCloseTo(454.9, 1);
    expect(Math.exp(logMixtureRatio(1, 10, 0.5))).toBeCloseTo(360.8, 1);
    expect(logLikelihood(0, 1, 0.9) - logLikelihood(0, 1, 0.99)).toBeCloseTo(Math.log(10), 12);
  });

  it("ends exactly at 1 where nothing failed, and at 0 where everything did", () => {
    for (const n of [0.3, 1, 17, 1e6]) {
      expect(confidenceSequenceBounds(1, n, 0.95).upper).toBe(1);
      expect(confidenceSequenceBounds(0, n, 0.95).lower).toBe(0);
    }
  });

  it("holds k/n, stays in 0..1, and is wider than the exact one", () => {
    fc.assert(
      fc.property(samples, ({ p, n }) => {
        const { lower, upper } = confidenceSequenceBounds(p, n, 0.95);
        const exact = clopperPearsonBounds(p, n, 0.95);
        expect(lower).toBeGreaterThanOrEqual(0);
        expect(upper).toBeLessThanOrEqual(1);
        expect(lower).toBeLessThanOrEqual(exact.lower + 1e-9);
        expect(upper).toBeGreaterThanOrEqual(exact.upper - 1e-9);
      }),
    );
  });

  it("is the mirror of itself", () => {
    fc.assert(
      fc.property(samples, ({ p, n }) => {
        const here = confidenceSequenceBounds(p, n, 0.9);
        const mirrored = confidenceSequenceBounds(1 - p, n, 0.9);
        expect(here.lower).toBeCloseTo(1 - mirrored.upper, 10);
        expect(here.upper).toBeCloseTo(1 - mirrored.lower, 10);
      }),
    );
  });

  it("ends where the evidence reaches 2/alpha, and nowhere else", () => {
    const needed = Math.log(2 / 0.05);
    fc.assert(
      fc.property(samples, fc.double({ min: 0.01, max: 0.99, noNaN: true }), ({ p, n }, share) => {
        const { lower } = confidenceSequenceBounds(p, n, 0.95);
        fc.pre(lower > 1e-9 && lower < p);
        expect(logMixtureRatio(p, n, lower * share)).toBeGreaterThan(needed - 1e-6);
        expect(logMixtureRatio(p, n, lower + (p - lower) * share)).toBeLessThan(needed + 1e-6);
      }),
    );
  });

  it("weighs the evidence as the plain sum over many angles does", () => {
    for (const [k, n, limit] of [
      [10, 10, 0.5],
      [587.6, 600, 0.96],
      [588, 600, 0.99],
      [20, 20.3, 0.9],
    ] as const) {
      expect(logMixtureRatio(k / n, n, limit)).toBeCloseTo(plainly(k, n, limit), 6);
    }
  });

  it("is a fair bet at the limit: its evidence is worth 1 on average", () => {
    const n = 12;
    for (const rate of [0.3, 0.9, 0.97]) {
      let mean = 0;
      let chance = (1 - rate) ** n;
      for (let k = 0; k <= n; k += 1) {
        mean += chance * Math.exp(logMixtureRatio(k / n, n, rate));
        chance *= ((n - k) / (k + 1)) * (rate / (1 - rate));
      }
      expect(mean).toBeCloseTo(1, 9);
    }
  });
});
