import { describe, expect, it } from "vitest";
import { betaBinomialSumCdf, type ClusterSizes } from "../../src/statistics/beta-binomial.ts";
import { betaBinomialBounds } from "../../src/statistics/beta-binomial-interval.ts";
import { alike, failuresOf } from "../statistics/clusters.ts";

// Provenance: computed with base R 4.2.2, independently of this code: the beta-binomial chances of each cluster from lchoose
// and lbeta, the total by convolving cluster after cluster in full, the ends by uniroot.
describe("the chance of at most so many misses in all clusters is that of R", () => {
  const values: [number, ClusterSizes, number, number, number][] = [
    [8, [[40, 20]], 0.03, 0.05, 0.012137175214],
    [0, [[40, 22]], 0.01, 0.02, 0.001491286106],
    [
      5,
      [
        [10, 3],
        [25, 4],
      ],
      0.05,
      0.2,
      0.530378335885,
    ],
    [12, [1, 2, 3, 4, 5, 6, 7].map((size) => [size, 1] as const), 0.4, 0.3, 0.637683224355],
    [2, [[7, 3]], 0.1, 0.001, 0.648409158707],
  ];
  it.each(values)("at most %d misses", (misses, sizes, missRate, correlation, chance) => {
    expect(betaBinomialSumCdf(misses, { sizes, probability: missRate, correlation })).toBeCloseTo(chance, 11);
  });
});

describe("the ends of the miss rate are those of R", () => {
  const unequal: [number, number][] = [1, 0, 2, 0, 3, 0, 0, 1, 0, 4].map((misses, i) => [
    i < 4 ? 10 : 25,
    misses,
  ]);
  it.each([
    ["nothing missed in 20 passes of 40", alike(20, 40, []), 0.02, 0, 0.011043275354],
    ["three misses in three passes", alike(20, 40, [1, 1, 1]), 0.02, 0.000387088253, 0.024028212962],
    ["misses of 5, 2 and 1", alike(20, 40, [5, 2, 1]), 0.02, 0.002394017435, 0.04736555023],
    ["one pass of ten missed whole", alike(10, 20, [20]), 0.02, 0.005541784381, 0.3853103627],
    ["unequal passes", unequal, 0.1, 0.014431523446, 0.19726782984],
    ["no correlation assumed", alike(30, 10, [2, 1, 1]), 0, 0.00277909314, 0.048506577167],
  ])("%s", (_, clusters, floor, lower, upper) => {
    const found = betaBinomialBounds(failuresOf(clusters), floor, 0.95);
    expect(found.lower).toBeCloseTo(lower, 9);
    expect(found.upper).toBeCloseTo(upper, 9);
  });
});
