import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { fisherP, mcnemarP } from "../../src/statistics/exact-tests.ts";
import { holmAdjusted } from "../../src/statistics/holm.ts";
import {
  correctedPhi,
  differenceP,
  type PairedOutcomes,
  type Proportion,
  proportionDifference,
  smallestP,
  type TwoProportions,
} from "../../src/statistics/two-proportions.ts";

const proportion = fc
  .record({ n: fc.integer({ min: 1, max: 400 }), share: fc.double({ min: 0, max: 1, noNaN: true }) })
  .map(({ n, share }) => ({ p: Math.round(n * share) / n, n }));
const table = fc
  .tuple(...([0, 1, 2, 3] as const).map(() => fc.nat(60)))
  .filter((cells) => cells.some((count) => count > 0))
  .map(
    ([both, onlyFirst, onlySecond, neither]): PairedOutcomes => ({
      both: both!,
      onlyFirst: onlyFirst!,
      onlySecond: onlySecond!,
      neither: neither!,
    }),
  );

/** The two proportions that a table of pairs gives. */
function pairedOf(pairs: PairedOutcomes): TwoProportions {
  const { both, onlyFirst, onlySecond, neither } = pairs;
  const n = both + onlyFirst + onlySecond + neither;
  return {
    first: { p: (both + onlyFirst) / n, n },
    second: { p: (both + onlySecond) / n, n },
    phi: correctedPhi(pairs),
  };
}

const independent = (first: Proportion, second: Proportion, phi = 0): TwoProportions => ({
  first,
  second,
  phi,
});
const example = independent({ p: 0.9, n: 10 }, { p: 0.3, n: 10 });

describe("a difference between two proportions", () => {
  it("is 0.6, 0.1705 to 0.8090, for 9 of 10 less 3 of 10", () => {
    const { value, lower, upper } = proportionDifference(example, 0.95);
    expect(value).toBeCloseTo(0.6, 12);
    expect(lower).toBeCloseTo(0.1705, 4);
    expect(upper).toBeCloseTo(0.809, 4);
  });

  it("is negated by swapping the two, and lies within its interval", () => {
    fc.assert(
      fc.property(proportion, proportion, fc.double({ min: -1, max: 1, noNaN: true }), (one, other, phi) => {
        const there = proportionDifference(independent(one, other, phi), 0.95);
        const back = proportionDifference(independent(other, one, phi), 0.95);
        expect(back.value).toBeCloseTo(-there.value, 12);
        expect(back.lower).toBeCloseTo(-there.upper, 12);
        expect(back.upper).toBeCloseTo(-there.lower, 12);
        expect(there.lower).toBeLessThanOrEqual(there.value + 1e-12);
        expect(there.upper).toBeGreaterThanOrEqual(there.value - 1e-12);
      }),
    );
  });

  it("is widened by a smaller effective sample of either", () => {
    const at = (n1: number, n2: number) =>
      proportionDifference(independent({ p: 0.99, n: n1 }, { p: 0.95, n: n2 }), 0.95).lower;
    expect(at(200, 200)).toBeGreaterThan(at(100, 200));
    expect(at(200, 200)).toBeGreaterThan(at(200, 100));
  });

  it("between equal proportions is 0, and its interval never excludes 0", () => {
    fc.assert(
      fc.property(table, (pairs) => {
        const same = { ...pairs, onlySecond: pairs.onlyFirst };
        const found = proportionDifference(pairedOf(same), 0.95);
        expect(found.value).toBe(0);
        expect(found.lower).toBeLessThanOrEqual(0);
        expect(found.upper).toBeGreaterThanOrEqual(0);
        expect(differenceP(pairedOf(same))).toBe(1);
      }),
    );
  });
});

describe("the corrected correlation of pairs", () => {
  it("of 53 in both and 1 in neither is 26 of 53", () => {
    const pairs = { both: 53, onlyFirst: 0, onlySecond: 0, neither: 1 };
    expect(correctedPhi(pairs)).toBeCloseTo(26 / 53, 12);
  });

  it("lies between 0 and the uncorrected one, is the same either way round, and shrinks as counts lose worth", () => {
    fc.assert(
      fc.property(table, fc.double({ min: 1, max: 20, noNaN: true }), (pairs, effect) => {
        const phi = correctedPhi(pairs);
        const swapped = {
          ...pairs,
          onlyFirst: pairs.onlySecond,
          onlySecond: pairs.onlyFirst,
        };
        expect(correctedPhi(swapped)).toBeCloseTo(phi, 12);
        expect(Math.abs(phi)).toBeLessThanOrEqual(1 + 1e-12);
        expect(correctedPhi(pairs, effect)).toBeLessThanOrEqual(phi);
        if (phi >= 0) expect(correctedPhi(pairs, effect)).toBeGreaterThanOrEqual(0);
      }),
    );
  });

  it("is 0 where one of the two succeeded throughout", () => {
    expect(correctedPhi({ both: 40, onlyFirst: 0, onlySecond: 3, neither: 0 })).toBe(0);
  });
});

describe("p of a difference", () => {
  it("of 9 of 10 and 3 of 10 is where the interval touches 0", () => {
    const p = differenceP(example);
    expect(p).toBeCloseTo(0.004963, 6);
    expect(proportionDifference(example, 1 - p).lower).toBeCloseTo(0, 9);
  });

  it("lies below 5 % just where the interval at 95 % excludes 0", () => {
    fc.assert(
      fc.property(table, (pairs) => {
        const { lower, upper } = proportionDifference(pairedOf(pairs), 0.95);
        const p = differenceP(pairedOf(pairs));
        fc.pre(Math.abs(p - 0.05) > 1e-9);
        expect(p < 0.05).toBe(lower > 0 || upper < 0);
        expect(p).toBeGreaterThanOrEqual(smallestP);
        expect(p).toBeLessThanOrEqual(1);
      }),
    );
  });

  it("is the same either way round, and never below its floor", () => {
    expect(differenceP(independent({ p: 1, n: 5000 }, { p: 0, n: 5000 }))).toBe(smallestP);
    fc.assert(
      fc.property(proportion, proportion, (one, other) => {
        expect(differenceP(independent(one, other))).toBeCloseTo(differenceP(independent(other, one)), 9);
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
          let asExtreme = 0;
          for (let x = 0; x <= n1; x += 1) {
            all += ways(x);
            if (ways(x) <= ways(k1) * (1 + 1e-7)) asExtreme += ways(x);
          }
          expect(fisherP({ k: k1, n: n1 }, { k: k2, n: n2 })).toBeCloseTo(asExtreme / all, 10);
        },
      ),
    );
  });

  it("of Fisher hold for a hundred thousand trials, and for one that could not happen", () => {
    expect(fisherP({ k: 99_000, n: 100_000 }, { k: 99_000, n: 100_000 })).toBeCloseTo(1, 6);
    expect(fisherP({ k: 0, n: 100_000 }, { k: 100_000, n: 100_000 })).toBe(0);
    expect(fisherP({ k: 0, n: 0 }, { k: 3, n: 5 })).toBe(1);
    expect(fisherP({ k: 5, n: 5 }, { k: 7, n: 7 })).toBe(1);
  });

  it("of McNemar are 1 for as many pairs one way as the other", () => {
    fc.assert(fc.property(fc.nat(200), (count) => mcnemarP(count, count) === 1));
  });

  it("of Holm keep the order, are never lower, and a single one is left as it is", () => {
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
