import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { clopperPearsonBounds, clopperPearsonTails } from "../../src/statistics/clopper-pearson.ts";

describe("the tails of the Clopper-Pearson interval", () => {
  it("are those of the worked example", () => {
    const { asMany, asFew } = clopperPearsonTails(4 / 20, 20, 0.071354);
    expect(asMany).toBeCloseTo(0.05, 6);
    expect(asFew).toBeCloseTo(0.98842, 5);
  });

  it("are alpha/2 at the ends of the interval, of effective samples too", () => {
    const samples = fc.tuple(fc.integer({ min: 1, max: 400 }), fc.double({ min: 1, max: 20, noNaN: true }));
    fc.assert(
      fc.property(samples, fc.double({ min: 0, max: 1, noNaN: true }), ([n, effect], share) => {
        const k = Math.round(share * n);
        const [p, size] = [k / n, n / effect];
        const { lower, upper } = clopperPearsonBounds(p, size, 0.95);
        if (lower > 0) expect(clopperPearsonTails(p, size, lower).asMany).toBeCloseTo(0.025, 9);
        if (upper < 1) expect(clopperPearsonTails(p, size, upper).asFew).toBeCloseTo(0.025, 9);
      }),
      { numRuns: 100, seed: 3 },
    );
  });

  it("are certain where nothing failed or nothing succeeded", () => {
    expect(clopperPearsonTails(0, 9, 0.3).asMany).toBe(1);
    expect(clopperPearsonTails(1, 9, 0.3)).toEqual({ asMany: expect.closeTo(0.3 ** 9, 15), asFew: 1 });
  });
});
