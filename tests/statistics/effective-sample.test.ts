import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  clusterSums,
  clusterVariance,
  effectiveClusterings,
  effectiveSampleSize,
  effectiveSampleSizeAt,
  mirrored,
  samplesWithFewerFailures,
} from "../../src/statistics/effective-sample.ts";
import { alike, sampleOf, sumsOf } from "./clusters.ts";

const confidences = fc.constantFrom(0.8, 0.9, 0.95, 0.99);

/** Trials in rows and columns, each a success or a failure, some cells empty. */
const crossed = fc
  .tuple(fc.integer({ min: 1, max: 6 }), fc.integer({ min: 1, max: 6 }))
  .chain(([rows, columns]) =>
    fc.array(fc.array(fc.constantFrom(0, 1, 1, 1, null), { minLength: columns, maxLength: columns }), {
      minLength: rows,
      maxLength: rows,
    }),
  );

function sampleFrom(cells: (number | null)[][]) {
  const columns = cells[0]!.map((_, column) => cells.map((row) => row[column]!));
  const sums = (groups: (number | null)[][]) =>
    clusterSums(
      groups.map((group) => {
        const trials = group.filter((cell) => cell !== null);
        return { n: trials.length, failures: trials.filter((cell) => cell === 0).length };
      }),
    );
  const trials = cells.flat().filter((cell) => cell !== null);
  const k = trials.filter((cell) => cell === 1).length;
  return { n: trials.length, k, clusterings: [sums(cells), sums(columns)] };
}

describe("the effective sample", () => {
  it("is never more than n, never less than nothing, and n itself without an effective clustering", () => {
    fc.assert(
      fc.property(
        crossed,
        fc.double({ min: 0, max: 0.5, noNaN: true }),
        confidences,
        (cells, rho, confidence) => {
          const counts = sampleFrom(cells);
          const effectiveN = effectiveSampleSize(counts, rho, confidence);
          expect(effectiveN).toBeLessThanOrEqual(counts.n);
          if (counts.n > 0) expect(effectiveN).toBeGreaterThan(0);
          if (effectiveClusterings(counts).length === 0) expect(effectiveN).toBe(counts.n);
        },
      ),
    );
  });

  it("does not grow with the assumed correlation", () => {
    fc.assert(
      fc.property(crossed, fc.double({ min: 0, max: 0.4, noNaN: true }), (cells, rho) => {
        const counts = sampleFrom(cells);
        expect(effectiveSampleSize(counts, rho + 0.05, 0.95)).toBeLessThanOrEqual(
          effectiveSampleSize(counts, rho, 0.95),
        );
      }),
    );
  });

  it("has the worked examples of its documentation", () => {
    const sample = sampleOf(alike(22, 40, []));
    const sizes = [0, 0.02, 0.1].map(effectiveSampleSizeAt(sample, 0.95));
    expect(sizes.map((size) => size.toFixed(1))).toEqual(["880.0", "494.4", "179.6"]);
    const sums = clusterSums([
      { n: 4, failures: 1 },
      { n: 4, failures: 0 },
      { n: 0, failures: 0 },
      { n: 2, failures: 2 },
    ]);
    expect(sums).toMatchObject({ clusters: 3, sizeSquares: 36, failuresTimesSize: 8, failureSquares: 5 });
    expect(clusterVariance(sumsOf(alike(5, 4, [4])), 20, 4)).toBeCloseTo(0.04, 12);
    const uneven = clusterSums([
      { n: 4, failures: 2 },
      { n: 4, failures: 1 },
      { n: 2, failures: 1 },
    ]);
    const fewer = samplesWithFewerFailures({ n: 10, k: 6, clusterings: [uneven] });
    expect(fewer.map(({ k, clusterings: [one] }) => [k, one!.failureSquares])).toEqual([
      [6, 6],
      [7, 5],
      [8, 4],
      [9, 1],
      [10, 0],
    ]);
    const turned = mirrored({ n: 10, k: 6, clusterings: [uneven] });
    expect([turned.k, turned.clusterings[0]!.failureSquares]).toEqual([4, 14]);
  });

  it("counts a clustering with a single cluster, though no scatter can be seen in it", () => {
    const second = clusterSums([{ n: 20, failures: 1 }]);
    const first = clusterSums(Array.from({ length: 20 }, (_, i) => ({ n: 1, failures: i === 0 ? 1 : 0 })));
    expect(effectiveSampleSize({ n: 20, k: 19, clusterings: [first, second] }, 0.02, 0.95)).toBeCloseTo(
      20 / 1.38,
      9,
    );
  });

  it("of five clusters of four, one of them failed throughout, crossed with four of five is 1.73", () => {
    const first = clusterSums([0, 0, 4, 0, 0].map((failures) => ({ n: 4, failures })));
    const second = clusterSums([1, 1, 1, 1].map((failures) => ({ n: 5, failures })));
    expect(effectiveSampleSize({ n: 20, k: 16, clusterings: [first, second] }, 0.02, 0.95)).toBeCloseTo(
      1.73016,
      5,
    );
  });
});
