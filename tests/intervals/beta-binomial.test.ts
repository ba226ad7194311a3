import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { sensitivityOf, stateOf } from "../../src/analysis/findings/verdict.ts";
import { fewestPasses } from "../../src/analysis/plan/sample-size.ts";
import { betaBinomial } from "../../src/intervals/beta-binomial.ts";
import type { Basis } from "../../src/intervals/interval.ts";
import { decideByBounds } from "../../src/measures/evidence/evidence.ts";
import { rateEstimate, rateEvidence } from "../../src/measures/evidence/rates.ts";
import { clopperPearsonBounds } from "../../src/statistics/clopper-pearson.ts";
import type { ClusteredSample } from "../../src/statistics/effective-sample.ts";
import { plannedWalk } from "../analysis/plan/planned.ts";
import { alike, type Cluster, sampleOf, sumsOf } from "../statistics/clusters.ts";

const basis: Basis = { confidence: 0.95, interval: "beta-binomial", missCorrelation: 0.02 };

/** Passes by tags, the same tags in every pass; true is read. */
function walked(reads: boolean[][]): ClusteredSample {
  const tags = reads[0]!.map((_, tag) => reads.map((pass) => pass[tag]!));
  const clusters = (groups: boolean[][]) =>
    groups.map((group): Cluster => [group.length, group.filter((read) => !read).length]);
  const cells = reads.flat();
  const k = cells.filter((read) => read).length;
  return { n: cells.length, k, clusterings: [sumsOf(clusters(reads)), sumsOf(clusters(tags))] };
}

const walks = fc
  .tuple(fc.integer({ min: 2, max: 6 }), fc.integer({ min: 2, max: 6 }))
  .chain(([passes, tags]) =>
    fc.array(fc.array(fc.boolean(), { minLength: tags, maxLength: tags }), {
      minLength: passes,
      maxLength: passes,
    }),
  );

describe("the beta-binomial interval", () => {
  it("of 22 passes of 40 without a miss just shows 99 %, of 21 does not", () => {
    const of = (passes: number) => rateEstimate(sampleOf(alike(passes, 40, [])), basis);
    expect(of(22).lower).toBeCloseTo(0.99031, 5);
    expect(of(22).upper).toBe(1);
    expect(of(22).effectiveN).toBeCloseTo(378.8, 1);
    expect(of(22).designEffect).toBeCloseTo(880 / 378.847, 3);
    expect(of(21).lower).toBeLessThan(0.99);
    expect(of(22).method).toBe("beta-binomial");
  });

  it("is Clopper-Pearson to the digit where nothing is clustered, and for passes", () => {
    const counts = sampleOf(alike(60, 1, [1, 1]));
    const { lower, upper, effectiveN, designEffect } = rateEstimate(counts, basis);
    expect({ lower, upper }).toEqual(clopperPearsonBounds(58 / 60, 60, 0.95));
    expect([effectiveN, designEffect]).toEqual([60, 1]);
    expect(rateEstimate({ k: 58, n: 60, clusterings: [] }, basis)).toMatchObject({ lower, upper });
  });

  it("is nowhere nearer than Clopper-Pearson, holds k/n, and takes the worse of passes and tags", () => {
    fc.assert(
      fc.property(walks, (reads) => {
        const counts = walked(reads);
        const both = betaBinomial.bounds(counts, basis);
        const plain = clopperPearsonBounds(counts.k / counts.n, counts.n, 0.95);
        expect(both.lower).toBeLessThanOrEqual(plain.lower);
        expect(both.upper).toBeGreaterThanOrEqual(plain.upper);
        const passes = betaBinomial.bounds({ ...counts, clusterings: [counts.clusterings[0]!] }, basis);
        const tags = betaBinomial.bounds({ ...counts, clusterings: [counts.clusterings[1]!] }, basis);
        expect(both.lower).toBe(Math.min(passes.lower, tags.lower));
        expect(both.upper).toBe(Math.max(passes.upper, tags.upper));
        const { value, effectiveN } = rateEstimate(counts, basis);
        expect(effectiveN).toBeLessThanOrEqual(counts.n);
        expect(both.lower).toBeLessThanOrEqual(value!);
        expect(both.upper).toBeGreaterThanOrEqual(value!);
      }),
      { numRuns: 60 },
    );
  });

  it("is its own mirror: reads and misses exchanged", () => {
    fc.assert(
      fc.property(walks, (reads) => {
        const here = walked(reads);
        fc.pre(here.k * 2 !== here.n);
        const there = walked(reads.map((pass) => pass.map((read) => !read)));
        const [one, other] = [betaBinomial.bounds(here, basis), betaBinomial.bounds(there, basis)];
        expect(one.lower).toBeCloseTo(1 - other.upper, 9);
        expect(one.upper).toBeCloseTo(1 - other.lower, 9);
      }),
      { numRuns: 60 },
    );
  });

  it("never rises at its lower end with a first miss, wherever it lies, nor with any at one correlation", () => {
    const sizes = fc.array(fc.integer({ min: 1, max: 9 }), { minLength: 2, maxLength: 8 });
    fc.assert(
      fc.property(sizes, fc.nat(), fc.constantFrom(0, 0.02, 0.3), (clusters, where, missCorrelation) => {
        const lowerOf = (missed: number | null) =>
          betaBinomial.bounds(sampleOf(clusters.map((size, i) => [size, i === missed ? 1 : 0])), {
            confidence: 0.95,
            missCorrelation,
          }).lower;
        expect(lowerOf(where % clusters.length)).toBeLessThanOrEqual(lowerOf(null) + 1e-12);
      }),
    );
    // From 0.94 up to 0.95 at the most: how the misses lie cannot move the correlation.
    const lowers = Array.from({ length: 41 }, (_, misses) => {
      const clusters = alike(
        10,
        4,
        Array.from({ length: 10 }, (_, i) => Math.min(4, Math.max(0, misses - 4 * i))),
      );
      return betaBinomial.bounds(sampleOf(clusters), { confidence: 0.95, missCorrelation: 0.94 }).lower;
    });
    for (const [i, lower] of lowers.entries())
      if (i > 0) expect(lower).toBeLessThanOrEqual(lowers[i - 1]! + 1e-9);
  });

  it("has what it reports as its effective sample: Clopper-Pearson on it ends at the same place", () => {
    for (const misses of [[], [1, 1, 1], [5, 2, 1]]) {
      const { value, effectiveN, lower } = rateEstimate(sampleOf(alike(20, 40, misses)), basis);
      expect(clopperPearsonBounds(value!, effectiveN!, 0.95).lower).toBeCloseTo(lower!, 9);
    }
  });

  it("judges a million presentations with thousands of misses", () => {
    const passes = Array.from({ length: 25_000 }, (_, i): Cluster => [40, i % 3 === 0 ? 1 : 0]);
    const tags = Array.from({ length: 40 }, (_, i): Cluster => [25_000, i < 14 ? 209 : 208]);
    const n = 1_000_000;
    const k = n - passes.reduce((sum, [, misses]) => sum + misses, 0);
    const started = process.cpuUsage();
    const { lower, upper } = betaBinomial.bounds(
      { n, k, clusterings: [sumsOf(passes), sumsOf(tags)] },
      basis,
    );
    expect(process.cpuUsage(started).user).toBeLessThan(5e6);
    expect(lower).toBeGreaterThan(0.985);
    expect(lower).toBeLessThan(k / n);
    expect(upper).toBeGreaterThan(k / n);
  });
});

describe("the state by the beta-binomial interval", () => {
  it("is found without the interval as it is with it", () => {
    fc.assert(
      fc.property(walks, fc.double({ min: 0.02, max: 0.98, noNaN: true }), (reads, limit) => {
        const counts = walked(reads);
        const estimate = rateEstimate(counts, basis);
        for (const sense of ["at-least", "at-most"] as const) {
          expect(betaBinomial.decide(counts, { sense, limit }, basis)).toBe(
            decideByBounds(estimate, { sense, limit }),
          );
        }
      }),
      { numRuns: 60 },
    );
  });

  it("changes with the correlation that is assumed at the least", () => {
    const counts = sampleOf(alike(22, 40, []));
    const evidence = rateEvidence({ sample: counts, passes: 22, remarks: [] });
    const limit = { sense: "at-least" as const, limit: 0.99, minimumPasses: 1 };
    expect(stateOf(evidence, limit, basis)).toBe("met");
    const [none, tenth] = sensitivityOf(evidence, limit, basis);
    expect(none).toMatchObject({ missCorrelation: 0, state: "met" });
    expect(tenth).toMatchObject({ missCorrelation: 0.1, state: "undecided" });
    expect(none!.lower).toBeGreaterThan(tenth!.lower!);
  });

  it("is not met where the misses leave no doubt, and undecided after one miss in a short walk", () => {
    const state = (misses: number[]) =>
      betaBinomial.decide(sampleOf(alike(20, 40, misses)), { sense: "at-least", limit: 0.99 }, basis);
    expect(state(Array<number>(20).fill(3))).toBe("not-met");
    expect(state([40])).toBe("undecided");
    const short = sampleOf(alike(17, 1, [1]));
    expect(betaBinomial.decide(short, { sense: "at-least", limit: 0.99 }, basis)).toBe("undecided");
  });

  it("is planned for by the same rule", () => {
    const walk = plannedWalk({ basis });
    expect([0, 1, 2, 3].map((faults) => fewestPasses(walk, faults))).toEqual([22, 29, 35, 40]);
    expect([20, 40].map((trialsPerPass) => fewestPasses({ ...walk, trialsPerPass, limit: 0.97 }, 0))).toEqual(
      [14, 10],
    );
  });
});
