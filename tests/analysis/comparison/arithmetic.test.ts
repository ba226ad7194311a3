import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { changeOf } from "../../../src/analysis/comparison/change.ts";
import { isSameMix, standardisedRate } from "../../../src/analysis/comparison/standardised-rate.ts";
import type { PairTable } from "../../../src/model/result.ts";
import { correctedPhi } from "../../../src/statistics/corrected-phi.ts";
import { differenceP, smallestP } from "../../../src/statistics/difference-p.ts";
import { fisherP } from "../../../src/statistics/fisher.ts";
import { holmAdjusted } from "../../../src/statistics/holm.ts";
import { mcnemarP } from "../../../src/statistics/mcnemar.ts";
import { proportionDifference } from "../../../src/statistics/proportion-difference.ts";

const arm = fc
  .record({ n: fc.integer({ min: 1, max: 400 }), share: fc.double({ min: 0, max: 1, noNaN: true }) })
  .map(({ n, share }) => ({ p: Math.round(n * share) / n, n }));
const table = fc
  .tuple(...([0, 1, 2, 3] as const).map(() => fc.nat(60)))
  .filter((cells) => cells.some((count) => count > 0))
  .map(
    ([readBoth, readOnlyBefore, readOnlyAfter, missedBoth]): PairTable => ({
      readBoth: readBoth!,
      readOnlyBefore: readOnlyBefore!,
      readOnlyAfter: readOnlyAfter!,
      missedBoth: missedBoth!,
    }),
  );

/** The two arms that a table of pairs gives. */
function armsOf(pairs: PairTable) {
  const { readBoth, readOnlyBefore, readOnlyAfter, missedBoth } = pairs;
  const n = readBoth + readOnlyBefore + readOnlyAfter + missedBoth;
  return {
    before: { p: (readBoth + readOnlyBefore) / n, n },
    after: { p: (readBoth + readOnlyAfter) / n, n },
  };
}

describe("a difference between two proportions", () => {
  it("is 0.6, 0.1705 to 0.8090, for 9 of 10 after 3 of 10", () => {
    const { value, lower, upper } = proportionDifference({ p: 0.9, n: 10 }, { p: 0.3, n: 10 }, 0, 0.95);
    expect(value).toBeCloseTo(0.6, 12);
    expect(lower).toBeCloseTo(0.1705, 4);
    expect(upper).toBeCloseTo(0.809, 4);
  });

  it("is negated by swapping the rounds, and lies within its interval", () => {
    fc.assert(
      fc.property(arm, arm, fc.double({ min: -1, max: 1, noNaN: true }), (one, other, phi) => {
        const there = proportionDifference(one, other, phi, 0.95);
        const back = proportionDifference(other, one, phi, 0.95);
        expect(back.value).toBeCloseTo(-there.value, 12);
        expect(back.lower).toBeCloseTo(-there.upper, 12);
        expect(back.upper).toBeCloseTo(-there.lower, 12);
        expect(there.lower).toBeLessThanOrEqual(there.value + 1e-12);
        expect(there.upper).toBeGreaterThanOrEqual(there.value - 1e-12);
      }),
    );
  });

  it("is widened by a smaller effective sample of either arm", () => {
    const at = (n1: number, n2: number) =>
      proportionDifference({ p: 0.99, n: n1 }, { p: 0.95, n: n2 }, 0, 0.95).lower;
    expect(at(200, 200)).toBeGreaterThan(at(100, 200));
    expect(at(200, 200)).toBeGreaterThan(at(200, 100));
  });

  it("between equal arms is 0 and never better or worse", () => {
    fc.assert(
      fc.property(table, (pairs) => {
        const same = { ...pairs, readOnlyAfter: pairs.readOnlyBefore };
        const { before, after } = armsOf(same);
        const found = proportionDifference(after, before, correctedPhi(same), 0.95);
        expect(found.value).toBe(0);
        expect(changeOf(found, 0.005)).toMatch(/^no-change/);
        expect(differenceP(after, before, correctedPhi(same))).toBe(1);
      }),
    );
  });
});

describe("the corrected correlation of pairs", () => {
  it("of 53 read in both rounds and 1 in neither is 26 of 53", () => {
    const pairs = { readBoth: 53, readOnlyBefore: 0, readOnlyAfter: 0, missedBoth: 1 };
    expect(correctedPhi(pairs)).toBeCloseTo(26 / 53, 12);
  });

  it("lies between nought and the uncorrected one, is the same either way round, and shrinks as counts lose worth", () => {
    fc.assert(
      fc.property(table, fc.double({ min: 1, max: 20, noNaN: true }), (pairs, effect) => {
        const phi = correctedPhi(pairs);
        const swapped = {
          ...pairs,
          readOnlyBefore: pairs.readOnlyAfter,
          readOnlyAfter: pairs.readOnlyBefore,
        };
        expect(correctedPhi(swapped)).toBeCloseTo(phi, 12);
        expect(Math.abs(phi)).toBeLessThanOrEqual(1 + 1e-12);
        expect(correctedPhi(pairs, effect)).toBeLessThanOrEqual(phi);
        if (phi >= 0) expect(correctedPhi(pairs, effect)).toBeGreaterThanOrEqual(0);
      }),
    );
  });

  it("is 0 where a round read everything", () => {
    expect(correctedPhi({ readBoth: 40, readOnlyBefore: 0, readOnlyAfter: 3, missedBoth: 0 })).toBe(0);
  });
});

describe("p of a difference", () => {
  it("of 9 of 10 after 3 of 10 is where the interval touches nought", () => {
    const after = { p: 0.9, n: 10 };
    const before = { p: 0.3, n: 10 };
    const p = differenceP(after, before, 0);
    expect(p).toBeCloseTo(0.004963, 6);
    expect(proportionDifference(after, before, 0, 1 - p).lower).toBeCloseTo(0, 9);
  });

  it("lies below 5 % just where the interval at 95 % excludes nought", () => {
    fc.assert(
      fc.property(table, (pairs) => {
        const { before, after } = armsOf(pairs);
        const phi = correctedPhi(pairs);
        const { lower, upper } = proportionDifference(after, before, phi, 0.95);
        const p = differenceP(after, before, phi);
        fc.pre(Math.abs(p - 0.05) > 1e-9);
        expect(p < 0.05).toBe(lower > 0 || upper < 0);
        expect(p).toBeGreaterThanOrEqual(smallestP);
        expect(p).toBeLessThanOrEqual(1);
      }),
    );
  });

  it("is the same either way round, and never below its floor", () => {
    expect(differenceP({ p: 1, n: 5000 }, { p: 0, n: 5000 }, 0)).toBe(smallestP);
    fc.assert(
      fc.property(arm, arm, (one, other) => {
        expect(differenceP(one, other, 0)).toBeCloseTo(differenceP(other, one, 0), 9);
      }),
    );
  });
});

describe("exact p values", () => {
  it("of Fisher are sums over every table with the same margins", () => {
    const choose = (n: number, k: number) => {
      let product = 1;
      for (let i = 1; i <= k; i += 1) product = (product * (n - k + i)) / i;
      return product;
    };
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 14 }),
        fc.integer({ min: 1, max: 14 }),
        fc.nat(14),
        fc.nat(14),
        (n1, n2, a, b) => {
          const k1 = a % (n1 + 1);
          const k2 = b % (n2 + 1);
          const ways = (x: number) =>
            x < 0 || x > n1 || k1 + k2 - x < 0 || k1 + k2 - x > n2
              ? 0
              : choose(n1, x) * choose(n2, k1 + k2 - x);
          let all = 0;
          let asSurprising = 0;
          for (let x = 0; x <= n1; x += 1) {
            all += ways(x);
            if (ways(x) <= ways(k1) * (1 + 1e-7)) asSurprising += ways(x);
          }
          expect(fisherP(k1, n1, k2, n2)).toBeCloseTo(asSurprising / all, 10);
        },
      ),
    );
  });

  it("of Fisher hold for a hundred thousand presentations, and for one that could not happen", () => {
    expect(fisherP(99_000, 100_000, 99_000, 100_000)).toBeCloseTo(1, 6);
    expect(fisherP(0, 100_000, 100_000, 100_000)).toBe(0);
    expect(fisherP(0, 0, 3, 5)).toBe(1);
    expect(fisherP(5, 5, 7, 7)).toBe(1);
  });

  it("of McNemar are 1 for as many one way as the other", () => {
    fc.assert(fc.property(fc.nat(200), (count) => mcnemarP(count, count) === 1));
  });

  it("of Holm keep the order, are never lower, and one look alone is left as it is", () => {
    fc.assert(
      fc.property(fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { maxLength: 12 }), (p) => {
        const adjusted = holmAdjusted(p);
        p.forEach((one, i) => {
          expect(adjusted[i]).toBeGreaterThanOrEqual(one);
          expect(adjusted[i]).toBeLessThanOrEqual(1);
          p.forEach((other, j) => {
            if (one < other) expect(adjusted[i]).toBeLessThanOrEqual(adjusted[j]!);
          });
        });
        if (p.length === 1) expect(adjusted).toEqual(p);
      }),
    );
  });
});

describe("a standardised rate", () => {
  const cell = fc
    .record({ n: fc.integer({ min: 1, max: 90 }), k: fc.nat(90) })
    .map(({ n, k }) => ({ n, k: Math.min(n, k) }));

  it("of 90 of 100 and 30 of 50, weighted alike, is 0.75, and worth an eighth less", () => {
    const own = [
      { n: 100, k: 90 },
      { n: 50, k: 30 },
    ];
    const other = [
      { n: 100, k: 0 },
      { n: 100, k: 0 },
    ];
    const found = standardisedRate(own, other);
    expect(found.value).toBeCloseTo(0.75, 12);
    expect(found.weightingEffect).toBeCloseTo(1.125, 12);
  });

  it("is the rate itself, exactly, where the mix is the same", () => {
    fc.assert(
      fc.property(
        fc.array(cell, { minLength: 1, maxLength: 6 }),
        fc.integer({ min: 1, max: 5 }),
        (own, times) => {
          const other = own.map(({ n }) => ({ n: n * times, k: 0 }));
          const n = own.reduce((sum, one) => sum + one.n, 0);
          const k = own.reduce((sum, one) => sum + one.k, 0);
          expect(isSameMix(own, other)).toBe(true);
          expect(standardisedRate(own, other)).toEqual({ value: k / n, weightingEffect: 1 });
        },
      ),
    );
  });

  it("lies between the lowest and the highest of its cells, and weighting never adds worth", () => {
    fc.assert(
      fc.property(fc.array(fc.tuple(cell, cell), { minLength: 1, maxLength: 6 }), (pairs) => {
        const own = pairs.map(([one]) => one);
        const { value, weightingEffect } = standardisedRate(
          own,
          pairs.map(([, other]) => other),
        );
        const rates = own.map(({ n, k }) => k / n);
        expect(value).toBeGreaterThanOrEqual(Math.min(...rates) - 1e-12);
        expect(value).toBeLessThanOrEqual(Math.max(...rates) + 1e-12);
        expect(weightingEffect).toBeGreaterThanOrEqual(1 - 1e-12);
      }),
    );
  });
});

describe("what a difference amounts to", () => {
  it.each([
    [0.01, 0.07, "better"],
    [0.001, 0.003, "better"],
    [-0.07, -0.01, "worse"],
    [-0.003, 0.004, "no-change-that-matters"],
    [-0.005, 0.005, "no-change-that-matters"],
    [0, 0.02, "no-change-shown"],
    [-0.01, 0.02, "no-change-shown"],
  ])("%d to %d is %s where 0.005 matters", (lower, upper, change) => {
    expect(changeOf({ lower, upper }, 0.005)).toBe(change);
  });
});
