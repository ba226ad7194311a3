import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { sensitivityOf, stateOf, toSettle } from "../../src/analysis/findings/verdict.ts";
import { fewestPasses } from "../../src/analysis/plan/sample-size.ts";
import { anyTime, correlationAt, sampleSizeAt } from "../../src/intervals/any-time.ts";
import type { Basis } from "../../src/intervals/interval.ts";
import { decideByBounds } from "../../src/measures/evidence/evidence.ts";
import { rateEstimate, rateEvidence } from "../../src/measures/evidence/rates.ts";
import { percent } from "../../src/measures/scales.ts";
import { confidenceSequenceBounds, logMixtureRatio } from "../../src/statistics/confidence-sequence.ts";
import {
  type ClusteredSample,
  effectiveSampleSize,
  effectiveSampleSizeAt,
  extended,
  samplesWithFewerFailures,
} from "../../src/statistics/effective-sample.ts";
import { plannedWalk } from "../analysis/plan/planned.ts";
import { draws } from "../draws.ts";
import { sampleEstimate } from "../pages/sample-result.ts";
import { alike, type Cluster, sampleOf, sumsOf } from "../statistics/clusters.ts";

const basis: Basis = { confidence: 0.95, interval: "any-time", missCorrelation: 0.02 };

/** Walks of passes of several sizes, each tag presented once, and with several shares missed. */
const walks = fc
  .array(
    fc.tuple(fc.integer({ min: 1, max: 60 }), fc.constantFrom(0, 0, 0, 0.02, 0.1, 0.5, 1), fc.nat(1000)),
    { minLength: 1, maxLength: 25 },
  )
  .map((passes) =>
    passes.map(([size, share, draw]): Cluster => [size, Math.floor((size * share * draw) / 1000)]),
  );
const correlations = fc.constantFrom(0, 0.005, 0.02, 0.1);

/** The same with passes and tags exchanged in their roles, and both counting: `times` tags in every pass. */
function sameTags(passes: number, tags: number, misses: [pass: number, tag: number][]): ClusteredSample {
  const by = (count: number, size: number, side: 0 | 1) =>
    sumsOf(
      Array.from({ length: count }, (_, i): Cluster => [size, misses.filter((at) => at[side] === i).length]),
    );
  const n = passes * tags;
  return { n, k: n - misses.length, clusterings: [by(passes, tags, 0), by(tags, passes, 1)] };
}

describe("the correlation that belongs to a rate", () => {
  it("has the worked examples of its documentation", () => {
    expect(correlationAt(0.02, 0.99)).toBeCloseTo(0.06, 12);
    expect(correlationAt(0.02, 0.97)).toBeCloseTo(0.158, 3);
    expect(correlationAt(0.02, 0.95)).toBeCloseTo(0.2345, 4);
    for (const rate of [0.95, 0.97, 0.99]) expect(correlationAt(0.3, rate)).toBe(0.3);
  });

  it("is what was stated at 99 % and above, but 0.06 at the least, and nothing where 0 was stated", () => {
    const anyRate = fc.double({ min: 1e-6, max: 1 - 1e-6, noNaN: true });
    fc.assert(
      fc.property(anyRate, fc.double({ min: 0.001, max: 0.9, noNaN: true }), (rate, stated) => {
        const found = correlationAt(stated, rate);
        expect(correlationAt(0, rate)).toBe(0);
        expect(found).toBeGreaterThanOrEqual(stated);
        expect(found).toBeLessThan(1);
        if (rate >= 0.99) expect(found).toBeCloseTo(Math.max(0.06, stated), 12);
        expect(found).toBeCloseTo(correlationAt(stated, 1 - rate), 9);
        expect(correlationAt(Math.min(0.9, stated + 0.001), rate)).toBeGreaterThanOrEqual(found);
      }),
    );
  });
});

describe("the any-time interval of clustered presentations", () => {
  it("has the worked examples of its documentation", () => {
    const of = (passes: number) => sampleOf(alike(passes, 40, []));
    const { lower, upper, effectiveN } = anyTime.bounds(of(38), basis);
    expect(lower).toBeCloseTo(0.990005, 6);
    expect(upper).toBe(1);
    expect(effectiveN).toBeCloseTo(1520 / 3.34, 6);
    expect(anyTime.decide(of(38), { sense: "at-least", limit: 0.99 }, basis)).toBe("met");
    expect(anyTime.decide(of(37), { sense: "at-least", limit: 0.99 }, basis)).toBe("undecided");
    const sample = sampleSizeAt(of(22), basis);
    expect(sample(0.99)).toBeCloseTo(263.5, 1);
    expect(sample(0.95)).toBeCloseTo(86.8, 1);
    expect([0, 0.02, 0.1].map(effectiveSampleSizeAt(of(22), 0.95)).map((size) => size.toFixed(1))).toEqual([
      "880.0",
      "494.4",
      "179.6",
    ]);
  });

  it("takes fewer presentations for lower rates: 23 passes of 40 show 95 %, not 22", () => {
    const of = (passes: number) => rateEstimate(sampleOf(alike(passes, 40, [])), basis).lower!;
    expect(of(23)).toBeGreaterThan(0.95);
    expect(of(22)).toBeLessThan(0.95);
    expect(of(5)).toBeCloseTo(0.5686, 4);
    const asAt99 = effectiveSampleSize(sampleOf(alike(10, 40, [])), 0.06, 0.95);
    expect(confidenceSequenceBounds(1, asAt99, 0.95).lower).toBeGreaterThan(0.95);
  });

  it("is the one of independent presentations to the digit where nothing is clustered, and for passes", () => {
    const { lower, upper, effectiveN, designEffect } = rateEstimate(sampleOf(alike(60, 1, [1, 1])), basis);
    expect({ lower, upper }).toEqual(confidenceSequenceBounds(58 / 60, 60, 0.95));
    expect([effectiveN, designEffect]).toEqual([60, 1]);
    expect(rateEstimate({ k: 58, n: 60, clusterings: [] }, basis)).toMatchObject({ lower, upper });
  });

  it("without a miss is the one on the effective sample where the correlation is stated as 0, or both ends lie above 99 %", () => {
    fc.assert(
      fc.property(walks, (clusters) => {
        const counts = sampleOf(clusters.map(([size]) => [size, 0]));
        const independent = { ...basis, missCorrelation: 0 };
        const { lower, upper } = rateEstimate(counts, independent);
        const plain = confidenceSequenceBounds(
          counts.k / counts.n,
          effectiveSampleSize(counts, 0, 0.95),
          0.95,
        );
        expect(lower).toBeCloseTo(plain.lower, 12);
        expect(upper).toBeCloseTo(plain.upper, 12);
      }),
    );
    const long = sampleOf(alike(100, 40, []));
    const { lower } = rateEstimate(long, basis);
    expect(lower).toBeGreaterThan(0.99);
    expect(lower).toBeCloseTo(
      confidenceSequenceBounds(1, effectiveSampleSize(long, 0.06, 0.95), 0.95).lower,
      12,
    );
  });

  it("holds k/n, ends exactly at 1 where nothing was missed and at 0 where nothing was read", () => {
    fc.assert(
      fc.property(walks, correlations, (clusters, missCorrelation) => {
        const counts = sampleOf(clusters);
        const { value, lower, upper, effectiveN } = rateEstimate(counts, { ...basis, missCorrelation });
        expect(lower).toBeLessThanOrEqual(value!);
        expect(upper).toBeGreaterThanOrEqual(value!);
        expect(effectiveN).toBeLessThanOrEqual(counts.n);
        if (counts.k === counts.n) expect(upper).toBe(1);
        if (counts.k === 0) expect(lower).toBe(0);
      }),
    );
  });

  it("is nowhere nearer than the effective sample under the stated correlation has it", () => {
    fc.assert(
      fc.property(walks, correlations, (clusters, missCorrelation) => {
        const counts = sampleOf(clusters);
        const { lower, upper } = rateEstimate(counts, { ...basis, missCorrelation });
        const sample = effectiveSampleSize(counts, missCorrelation, 0.95);
        const stated = confidenceSequenceBounds(counts.k / counts.n, sample, 0.95);
        expect(lower).toBeLessThanOrEqual(stated.lower + 1e-9);
        expect(upper).toBeGreaterThanOrEqual(stated.upper - 1e-9);
      }),
    );
  });

  it("is its own mirror: reads and misses exchanged", () => {
    fc.assert(
      fc.property(walks, correlations, (clusters, missCorrelation) => {
        const turned = clusters.map(([size, missed]): Cluster => [size, size - missed]);
        const settings = { confidence: 0.9, missCorrelation };
        const { n, k } = sampleOf(clusters);
        // With exactly half read, neither of the two is the one that is worked out as the mirror of the other.
        fc.pre(2 * k !== n);
        const here = anyTime.bounds(sampleOf(clusters), settings);
        const there = anyTime.bounds(sampleOf(turned), settings);
        expect(here.lower).toBeCloseTo(1 - there.upper, 9);
        expect(here.upper).toBeCloseTo(1 - there.lower, 9);
      }),
    );
  });

  it("never rises at its lower end with a first miss, wherever it lies, also where the tags count", () => {
    const sizes = fc.array(fc.integer({ min: 1, max: 50 }), { minLength: 1, maxLength: 12 });
    fc.assert(
      fc.property(sizes, fc.nat(), correlations, (clusters, where, missCorrelation) => {
        const lowerOf = (missed: number | null) =>
          rateEstimate(sampleOf(clusters.map((size, i) => [size, i === missed ? 1 : 0])), {
            ...basis,
            missCorrelation,
          }).lower!;
        expect(lowerOf(where % clusters.length)).toBeLessThan(lowerOf(null));
      }),
    );
    for (const [passes, tags] of [
      [1, 20],
      [10, 20],
      [50, 4],
    ] as const) {
      const lowerOf = (misses: [number, number][]) =>
        rateEstimate(sameTags(passes, tags, misses), basis).lower!;
      expect(lowerOf([[0, 0]])).toBeLessThan(lowerOf([]));
    }
  });

  it("ends where the evidence against the end reaches 2/alpha with misses or with fewer, and rules out all beyond", () => {
    const needed = Math.log(40);
    const share = fc.double({ min: 0.01, max: 0.99, noNaN: true });
    fc.assert(
      fc.property(walks, correlations, share, (clusters, missCorrelation, part) => {
        const counts = sampleOf(clusters);
        const settings = { confidence: 0.95, missCorrelation };
        const p = counts.k / counts.n;
        fc.pre(p >= 0.5);
        const { lower } = anyTime.bounds(counts, settings);
        fc.pre(lower > 1e-9 && lower < p);
        const evidence = (rate: number) =>
          Math.min(
            ...samplesWithFewerFailures(counts).map((fewer) =>
              logMixtureRatio(fewer.k / fewer.n, sampleSizeAt(fewer, settings)(rate), rate),
            ),
          );
        expect(evidence(lower)).toBeCloseTo(needed, 6);
        expect(evidence(lower * part)).toBeGreaterThan(needed - 1e-6);
        expect(evidence(lower + (p - lower) * part)).toBeLessThan(needed + 1e-6);
      }),
    );
  });

  it("has what it reports as its effective sample: as many independent presentations end at the same place", () => {
    for (const misses of [[], [1, 1, 1], [5, 2, 1]]) {
      const { value, effectiveN, lower } = rateEstimate(sampleOf(alike(20, 40, misses)), basis);
      expect(confidenceSequenceBounds(value!, effectiveN!, 0.95).lower).toBeCloseTo(lower!, 12);
    }
    const missed = rateEstimate(sampleOf(alike(6, 20, [20, 20, 20, 20, 19, 20])), basis);
    expect(confidenceSequenceBounds(missed.value!, missed.effectiveN!, 0.95).upper).toBeCloseTo(
      missed.upper!,
      12,
    );
  });
});

describe("bounds of 0 and 1", () => {
  it("are kept for walks without a read and without a miss, however few independent trials a walk is worth", () => {
    for (const [size, missed] of [
      [1000, 1],
      [40, 1],
      [80, 1],
    ] as const) {
      const { upper } = anyTime.bounds(sampleOf([[size, missed]]), {
        confidence: 0.999,
        missCorrelation: 0.9,
      });
      expect(upper).toBeLessThan(1);
      const { lower } = anyTime.bounds(sampleOf([[size, size - missed]]), {
        confidence: 0.999,
        missCorrelation: 0.9,
      });
      expect(lower).toBeGreaterThan(0);
    }
    const asked = { ...sampleEstimate(79, 80), lower: 2 ** -53, upper: 1 - 2 ** -53 };
    for (const sense of ["at-least", "at-most"] as const) {
      const figures = percent.digits(asked, sense, null);
      expect(percent.text(asked.upper, figures, sense)).not.toMatch(/^100/);
      expect(percent.text(asked.lower, figures, sense)).not.toBe("0");
    }
  });
});

describe("the verdict at any time", () => {
  it("is found without the interval as it is with it, for both senses", () => {
    const limits = fc.constantFrom(0.01, 0.05, 0.2, 0.5, 0.7, 0.8, 0.9, 0.95, 0.97, 0.99);
    const senses = fc.constantFrom("at-least" as const, "at-most" as const);
    const seen = new Set<string>();
    fc.assert(
      fc.property(walks, correlations, limits, senses, (clusters, missCorrelation, limit, sense) => {
        const counts = sampleOf(clusters);
        const one = { ...basis, missCorrelation };
        const estimate = rateEstimate(counts, one);
        fc.pre(Math.min(Math.abs(estimate.lower! - limit), Math.abs(estimate.upper! - limit)) > 1e-9);
        const state = decideByBounds(estimate, { sense, limit });
        expect(anyTime.decide(counts, { sense, limit }, one)).toBe(state);
        seen.add(`${sense} ${state}`);
      }),
      { numRuns: draws(600), seed: 4 },
    );
    expect(seen.size).toBe(6);
  });

  it("leaves a rate on its limit undecided", () => {
    const counts = sampleOf(alike(10, 10, Array<number>(10).fill(1)));
    for (const sense of ["at-least", "at-most"] as const)
      expect(anyTime.decide(counts, { sense: sense, limit: 0.9 }, basis)).toBe("undecided");
  });

  it.each([
    { limit: 0.99, misses: [] as number[] },
    { limit: 0.95, misses: [] as number[] },
    { limit: 0.95, misses: [1, 1] },
  ])("is settled by as many further presentations as it says, and by no fewer: $limit, $misses", (one) => {
    const counts = sampleOf(alike(6, 40, one.misses));
    const limit = { sense: "at-least" as const, limit: one.limit, minimumPasses: 1 };
    const evidence = rateEvidence({ sample: counts, passes: 6, remarks: [] });
    expect(stateOf(evidence, limit, basis)).toBe("undecided");
    const settled = toSettle(evidence, limit, { state: "undecided", unit: "presentations", basis });
    const further = (settled as { furtherWithoutMiss: number }).furtherWithoutMiss;
    const state = (more: number) => anyTime.decide(extended(counts, more), limit, basis);
    expect(state(further)).toBe("met");
    expect(state(further - 1)).toBe("undecided");
    if (one.misses.length > 0) return;
    // Without a miss it is what a plan of the same passes asks for.
    const planned = fewestPasses(plannedWalk({ limit: one.limit, basis }), 0)!;
    expect(6 + Math.ceil(further / 40)).toBe(planned);
  });

  it("hangs on the correlation as the report says that it does", () => {
    const counts = sampleOf(alike(40, 40, []));
    const evidence = rateEvidence({ sample: counts, passes: 40, remarks: [] });
    const limit = { sense: "at-least" as const, limit: 0.99, minimumPasses: 1 };
    const [none, much] = sensitivityOf(evidence, limit, basis);
    expect(none).toMatchObject({ missCorrelation: 0, effectiveN: 1600, state: "met" });
    expect(none!.lower).toBe(confidenceSequenceBounds(1, 1600, 0.95).lower);
    expect(much).toMatchObject({ missCorrelation: 0.1, state: "undecided" });
    expect(stateOf(evidence, limit, basis)).toBe("met");
  });
});
