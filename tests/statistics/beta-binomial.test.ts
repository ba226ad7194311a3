import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  betaBinomialPmf,
  betaBinomialSumCdf,
  type ClusterSizes,
  type CorrelatedClusters,
  saddlepointCdf,
} from "../../src/statistics/beta-binomial.ts";
import {
  betaBinomialBounds,
  correlationPosterior,
  isLowerTailAtMost,
  isUpperTailAtMost,
  lowerTail,
  upperTail,
} from "../../src/statistics/beta-binomial-interval.ts";
import { clopperPearsonBounds } from "../../src/statistics/clopper-pearson.ts";
import { alike, type Cluster, failuresOf } from "./clusters.ts";

const clusters = fc.array(
  fc
    .integer({ min: 1, max: 12 })
    .chain((size): fc.Arbitrary<Cluster> => fc.tuple(fc.constant(size), fc.integer({ min: 0, max: size }))),
  { minLength: 2, maxLength: 8 },
);
const rates = fc.double({ min: 0.005, max: 0.6, noNaN: true });
const correlations = fc.double({ min: 0, max: 0.8, noNaN: true });

type Chances = Omit<CorrelatedClusters, "sizes">;

/** Every combination of failures of the clusters, one by one. */
function bruteForce(most: number, [first, ...rest]: number[], chances: Chances): number {
  if (first === undefined) return 1;
  let total = 0;
  betaBinomialPmf(first, chances.probability, chances.correlation).forEach((chance, failures) => {
    if (failures <= most) total += chance * bruteForce(most - failures, rest, chances);
  });
  return total;
}

/** The chance of each total, cluster after cluster in full. */
function convolved(clusters: number, size: number, { probability, correlation }: Chances): number[] {
  let total = [1];
  for (let cluster = 0; cluster < clusters; cluster += 1) {
    const sum = new Array<number>(total.length + size).fill(0);
    betaBinomialPmf(size, probability, correlation).forEach((chance, failures) => {
      for (const [i, before] of total.entries()) sum[i + failures]! += before * chance;
    });
    total = sum;
  }
  return total;
}

function grouped(sizes: number[]): ClusterSizes {
  return failuresOf(sizes.map((size): Cluster => [size, 0])).sizes;
}

describe("the beta-binomial distribution", () => {
  it("has the worked example of its documentation", () => {
    const [none, one, both] = betaBinomialPmf(2, 0.1, 0.5);
    expect(none).toBeCloseTo(0.855, 12);
    expect(one).toBeCloseTo(0.09, 12);
    expect(both).toBeCloseTo(0.055, 12);
  });

  it("is binomial without a correlation", () => {
    expect(betaBinomialPmf(10, 0.3, 0)[3]).toBeCloseTo(120 * 0.3 ** 3 * 0.7 ** 7, 12);
  });

  it("has the stated mean and correlation, and sums to 1", () => {
    const probabilities = fc.double({ min: 0, max: 1, noNaN: true });
    const alike = fc.double({ min: 0, max: 0.9, noNaN: true });
    fc.assert(
      fc.property(
        fc.integer({ min: 2, max: 60 }),
        probabilities,
        alike,
        (trials, probability, correlation) => {
          const pmf = [...betaBinomialPmf(trials, probability, correlation)];
          const moment = (of: (m: number) => number) =>
            pmf.reduce((sum, chance, m) => sum + chance * of(m), 0);
          expect(moment(() => 1)).toBeCloseTo(1, 9);
          expect(moment((m) => m) / trials).toBeCloseTo(probability, 7);
          const variance = trials * probability * (1 - probability) * (1 + (trials - 1) * correlation);
          expect(moment((m) => (m - trials * probability) ** 2)).toBeCloseTo(variance, 5);
        },
      ),
    );
  });

  it("is certain where nothing, or everything, fails", () => {
    expect([...betaBinomialPmf(3, 0, 0.02)]).toEqual([1, 0, 0, 0]);
    expect([...betaBinomialPmf(3, 1, 0.02)]).toEqual([0, 0, 0, 1]);
  });
});

describe("the total of correlated clusters", () => {
  it("has the worked example of its documentation", () => {
    expect(betaBinomialSumCdf(8, { sizes: [[40, 20]], probability: 0.03, correlation: 0.05 })).toBeCloseTo(
      0.01214,
      5,
    );
    expect(betaBinomialSumCdf(-1, { sizes: [[40, 20]], probability: 0.03, correlation: 0.05 })).toBe(0);
    const example = saddlepointCdf(8, { sizes: [[40, 20]], probability: 0.03, correlation: 0.05 });
    expect(example).toBeCloseTo(0.0121, 4);
    expect(betaBinomialSumCdf(800, { sizes: [[40, 20]], probability: 0.03, correlation: 0.05 })).toBe(1);
  });

  it("is the sum over every way in which the failures may lie", () => {
    const few = fc.array(fc.integer({ min: 1, max: 5 }), { minLength: 1, maxLength: 5 });
    fc.assert(
      fc.property(few, fc.nat(12), rates, correlations, (sizes, most, probability, correlation) => {
        const all = sizes.reduce((sum, size) => sum + size, 0);
        fc.pre(most < all);
        const plainly = bruteForce(most, sizes, { probability, correlation });
        expect(betaBinomialSumCdf(most, { sizes: grouped(sizes), probability, correlation })).toBeCloseTo(
          plainly,
          12,
        );
      }),
    );
  });

  it("is the same whichever totals were asked for before", () => {
    const clusters = (correlation: number) => ({
      sizes: [[40, 20]] as const,
      probability: 0.031,
      correlation,
    });
    for (const failures of [0, 5, 40, 31, 70, 2, 0]) {
      for (const correlation of [0.02, 0.1, 0.02]) {
        const plainly = convolved(20, 40, { probability: 0.031, correlation });
        expect(betaBinomialSumCdf(failures, clusters(correlation))).toBeCloseTo(
          plainly.slice(0, failures + 1).reduce((sum, chance) => sum + chance, 0),
          12,
        );
      }
    }
  });

  it.each([
    [170, [[40, 200]], 0.03, 0.05],
    [120, [[40, 100]], 0.04, 0.1],
    [30, [[40, 20]], 0.06, 0.05],
    [60, [[40, 20]], 0.06, 0.05],
    [
      150,
      [
        [25, 1],
        [40, 200],
      ],
      0.025,
      0.2,
    ],
  ] as [number, ClusterSizes, number, number][])(
    "is approximated to a few thousandths of itself: at most %d",
    (failures, sizes, probability, correlation) => {
      const exact = betaBinomialSumCdf(failures, { sizes, probability, correlation });
      expect(saddlepointCdf(failures, { sizes, probability, correlation }) / exact).toBeCloseTo(1, 2);
    },
  );
});

describe("the approximation in two clusters of 20 000", () => {
  /** The sum over what the first cluster comes to. */
  function exact(most: number, chances: Chances): number {
    const pmf = betaBinomialPmf(20_000, chances.probability, chances.correlation);
    let sum = 0;
    const cdf = pmf.map((chance) => {
      sum += chance;
      return sum;
    });
    return pmf.subarray(0, most + 1).reduce((total, chance, first) => total + chance * cdf[most - first]!, 0);
  }
  const approximate = (most: number, chances: Chances) =>
    saddlepointCdf(most, { sizes: [[20_000, 2]], ...chances });

  it("has the chance of as few failures to 1.5 %, where it is 2.5 %", () => {
    const chances = { probability: 0.3, correlation: 0.2 };
    expect(exact(2507, chances)).toBeCloseTo(0.025, 4);
    expect(Math.abs(approximate(2507, chances) / exact(2507, chances) - 1)).toBeLessThan(0.015);
  });

  it("has that of as many too large, which errs on the side of undecided", () => {
    const chances = { probability: 0.01, correlation: 0.2 };
    expect(1 - exact(4255, chances)).toBeCloseTo(0.025, 4);
    const ratio = (1 - approximate(4255, chances)) / (1 - exact(4255, chances));
    expect(ratio).toBeGreaterThan(1);
    expect(ratio).toBeLessThan(1.65);
  });
});

describe("a cluster of many thousand trials", () => {
  it.each([
    [20_000, 0.05, 0.02, 20],
    [20_000, 0.05, 0.02, 700],
    [50_000, 0.01, 0.05, 30],
    [50_000, 0.2, 0.02, 7000],
    [100_000, 0.05, 0.02, 4000],
  ])(
    "has the chances that its distribution adds up to: %d, %d, %d, at most %d",
    (size, probability, correlation, most) => {
      const pmf = betaBinomialPmf(size, probability, correlation);
      const sum = pmf.subarray(0, most + 1).reduce((total, chance) => total + chance, 0);
      const found = betaBinomialSumCdf(most, { sizes: [[size, 1]], probability, correlation });
      expect(found / sum).toBeCloseTo(1, 9);
    },
  );

  it("is judged within moments: one pass of a hundred thousand with one miss", () => {
    const before = process.cpuUsage().user;
    const { upper } = betaBinomialBounds(failuresOf(alike(1, 100_000, [1])), 0.02, 0.95);
    expect(upper).toBeCloseTo(0.3148, 3);
    expect((process.cpuUsage().user - before) / 1e6).toBeLessThan(2);
  });
});

describe("the correlations tried", () => {
  it("have the worked example of their documentation", () => {
    const found = correlationPosterior(failuresOf(alike(20, 40, [1, 1, 1])), 0.03, 0.02);
    expect(found[0]!.correlation).toBe(0.02);
    expect(found.at(-1)!.correlation).toBeCloseTo(0.2479, 4);
    const mean = found.reduce((sum, { correlation, weight }) => sum + correlation * weight, 0);
    expect(mean).toBeCloseTo(0.1235, 4);
  });

  it("weigh alike with fewer than two failures, and weigh 1 together", () => {
    for (const failures of [[], [1]]) {
      const found = correlationPosterior(failuresOf(alike(20, 40, failures)), 0.03, 0);
      expect(found).toHaveLength(16);
      for (const { weight } of found) expect(weight).toBeCloseTo(1 / 16, 12);
    }
    fc.assert(
      fc.property(clusters, rates, correlations, (cells, probability, floor) => {
        const sample = failuresOf(cells);
        fc.pre(sample.sizes.some(([size]) => size > 1));
        const found = correlationPosterior(sample, probability, floor);
        expect(found.reduce((sum, { weight }) => sum + weight, 0)).toBeCloseTo(1, 9);
        for (const { correlation } of found) expect(correlation).toBeGreaterThanOrEqual(floor);
      }),
    );
  });

  it("lean to the high ones where the failures lie together, and to the low ones where they lie apart", () => {
    const mean = (failures: number[]) =>
      correlationPosterior(failuresOf(alike(20, 40, failures)), 0.03, 0.02).reduce(
        (sum, { correlation, weight }) => sum + correlation * weight,
        0,
      );
    const apart = mean([1, 1, 1, 1, 1, 1, 1, 1]);
    expect(mean([2, 2, 2, 2])).toBeGreaterThan(apart);
    expect(mean([8])).toBeGreaterThan(mean([4, 4]));
    expect(mean([40])).toBeGreaterThan(0.4);
  });
});

describe("the interval for the probability of a failure", () => {
  it("have the worked examples of their documentation", () => {
    const none = failuresOf(alike(20, 40, []));
    expect(betaBinomialBounds(none, 0.02, 0.95).lower).toBe(0);
    expect(betaBinomialBounds(none, 0.02, 0.95).upper).toBeCloseTo(0.01104, 5);
    expect(lowerTail(none, 0.01, 0.02)).toBeCloseTo(0.0315, 4);
    expect(upperTail(failuresOf(alike(20, 40, [1, 1, 1])), 0.001, 0.02)).toBeCloseTo(0.09295, 5);
    expect(upperTail(none, 0.001, 0.02)).toBe(1);
  });

  it("end exactly at 0 without a failure and at 1 with nothing else", () => {
    expect(betaBinomialBounds(failuresOf(alike(3, 4, [])), 0.02, 0.95).lower).toBe(0);
    expect(betaBinomialBounds(failuresOf(alike(3, 4, [4, 4, 4])), 0.02, 0.95).upper).toBe(1);
  });

  it("are those of Clopper and Pearson where every cluster holds one trial", () => {
    fc.assert(
      fc.property(fc.integer({ min: 2, max: 60 }), fc.nat(60), (n, failed) => {
        fc.pre(failed <= n);
        const sample = failuresOf(alike(n, 1, Array<number>(failed).fill(1)));
        const plain = clopperPearsonBounds(failed / n, n, 0.95);
        // No pair shares a cluster, so any correlation is the same.
        const found = betaBinomialBounds({ ...sample, pairs: 0 }, 0, 0.95);
        expect(found.lower).toBeCloseTo(plain.lower, 9);
        expect(found.upper).toBeCloseTo(plain.upper, 9);
      }),
    );
  });

  it("lie where a result as far out has half of the chance that is left, and hold the observed rate", () => {
    fc.assert(
      fc.property(clusters, fc.constantFrom(0, 0.02, 0.1), (cells, floor) => {
        const sample = failuresOf(cells);
        fc.pre(sample.sizes.some(([size]) => size > 1));
        const { lower, upper } = betaBinomialBounds(sample, floor, 0.9);
        const share = sample.failures / sample.n;
        expect(lower).toBeLessThanOrEqual(share);
        expect(upper).toBeGreaterThanOrEqual(share);
        if (lower > 0) {
          const tail = upperTail(sample, lower, floor);
          expect(tail).toBeCloseTo(0.05, 8);
          const isTooMany = (level: number) =>
            isUpperTailAtMost(level, sample, { probability: lower, floor });
          expect([tail / 2, tail, 2 * tail].map(isTooMany)).toEqual([false, true, true]);
        }
        // The upper end is the largest with any of the failures taken as successes.
        const isTooFew = (probability: number, level: number) =>
          isLowerTailAtMost(level, sample, { probability, floor });
        if (upper < 1) {
          expect(isTooFew(upper, 0.05 + 1e-8)).toBe(true);
          expect(isTooFew(upper, 0.05 - 1e-8)).toBe(false);
        }
      }),
      { numRuns: 60 },
    );
  });

  it("make so few failures ever less likely as the probability under test rises", () => {
    fc.assert(
      fc.property(clusters, rates, rates, fc.constantFrom(0, 0.02, 0.1), (cells, one, other, floor) => {
        const sample = failuresOf(cells);
        fc.pre(sample.sizes.some(([size]) => size > 1) && sample.failures * 2 <= sample.n);
        const [low, high] = one < other ? [one, other] : [other, one];
        fc.pre(low > sample.failures / sample.n);
        const chance = (rate: number) => lowerTail(sample, rate, floor);
        expect(chance(high)).toBeLessThanOrEqual(chance(low) + 1e-9);
      }),
    );
  });
});
