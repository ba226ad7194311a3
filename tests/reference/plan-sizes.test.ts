import { describe, expect, it } from "vitest";
import { FaultDistribution } from "../../src/analysis/plan/fault-distribution.ts";
import type { PlannedWalk } from "../../src/analysis/plan/planned-walk.ts";
import { fewestPasses } from "../../src/analysis/plan/sample-size.ts";
import { betaBinomialPmf } from "../../src/statistics/beta-binomial.ts";
import { fewestTrialsToSee } from "../../src/statistics/clopper-pearson.ts";
import { logLikelihood } from "../../src/statistics/confidence-sequence.ts";
import { poissonUpperTail } from "../../src/statistics/poisson.ts";

/** A walk judged by the exact interval whose lower end is a one-sided claim at `oneSided`. */
function walk(
  limit: number,
  oneSided: number,
  said: Partial<PlannedWalk> = {},
  missCorrelation = 0.02,
): PlannedWalk {
  // 2 x 0.95 - 1 in decimals, not in binary: the sizes are compared to the pass.
  const confidence = Number((2 * oneSided - 1).toFixed(6));
  return {
    trialsPerPass: 1,
    unit: "presentations",
    sameTags: false,
    sense: "at-least",
    limit,
    minimumPasses: 1,
    basis: { confidence, interval: "exact", missCorrelation },
    ...said,
  };
}

const sizes = (limit: number, oneSided: number, faults: number) =>
  Array.from({ length: faults + 1 }, (_, k) => fewestPasses(walk(limit, oneSided), k));

describe("the sizes that acceptance plans name come out for one tag a pass", () => {
  it("45, 59 and 299 without a miss", () => {
    expect(fewestPasses(walk(0.95, 0.9), 0)).toBe(45);
    expect(fewestPasses(walk(0.95, 0.95), 0)).toBe(59);
    expect(fewestPasses(walk(0.99, 0.95), 0)).toBe(299);
  });

  // Zero-failure sizes ceil(ln(1 - C) / ln R). Read in the published test output of the R package jfa 0.7.4, tables
  // "Statistical Sample Sizes based on the Binomial Distribution".
  it.each([
    [0.95, [299, 149, 99, 74, 59, 49, 42, 36, 32, 29, 19, 14]],
    [0.99, [459, 228, 152, 113, 90, 75, 64, 56, 49, 44, 29, 21]],
  ])("without a miss at one-sided %d", (confidence, published) => {
    const limits = [0.99, 0.98, 0.97, 0.96, 0.95, 0.94, 0.93, 0.92, 0.91, 0.9, 0.85, 0.8];
    expect(limits.map((limit) => fewestPasses(walk(limit, confidence), 0))).toEqual(published);
  });

  // With failures allowed: the same tables; 95/99 as quoted by another public source.
  it.each([
    [0.95, 0.95, [59, 93, 124, 153, 181, 208, 234]],
    [0.9, 0.95, [29, 46, 61, 76, 89, 103, 116]],
    [0.9, 0.9, [22, 38, 52, 65, 78, 91, 104]],
    [0.99, 0.95, [299, 473, 628, 773, 913, 1049]],
  ])("with misses allowed: %d at one-sided %d", (limit, confidence, published) => {
    expect(sizes(limit, confidence, published.length - 1)).toEqual(published);
  });

  // The documentation of the Python package reliability, sample_size_no_failures(0.999).
  it("2995 for 99.9 %", () => {
    expect(fewestPasses(walk(0.999, 0.95), 0)).toBe(2995);
  });

  // S. S. Wilks (1941), Ann. Math. Stat. 12, 91-96; 59 quoted in several public texts.
  it("59, 93 and 124: the tolerance limits of Wilks, one-sided, orders one to three", () => {
    expect(sizes(0.95, 0.95, 2)).toEqual([59, 93, 124]);
  });

  it("and in passes of many tags where their misses are not alike", () => {
    const many = (tags: number) => fewestPasses(walk(0.99, 0.95, { trialsPerPass: tags }, 0), 0);
    expect([1, 10, 40, 299].map(many)).toEqual([299, 30, 8, 1]);
  });
});

// NIST/SEMATECH e-Handbook of Statistical Methods, 6.2.3.2, table of the single plan n = 52, c = 3. Quoted by another
// public source. The entries .845 and .739 are printed so; exact binomial values are .84599 and .73832.
describe("the operating characteristic of NIST 6.2.3.2", () => {
  const published = [0.998, 0.98, 0.93, 0.845, 0.739, 0.62, 0.502, 0.394, 0.3, 0.223, 0.162, 0.115];

  it.each([
    [1, 52],
    [13, 4],
    [52, 1],
  ])("is the chance of three misses or fewer, in passes of %d tags, %d of them", (tags, passes) => {
    for (const [i, accepted] of published.entries()) {
      const distribution = new FaultDistribution(betaBinomialPmf(tags, (i + 1) / 100, 0), passes);
      expect(Math.abs(distribution.chanceUpTo(3) - accepted)).toBeLessThan(0.0011);
    }
  });
});

describe("the risks of published single plans", () => {
  const accepted = (n: number, c: number, rate: number) =>
    new FaultDistribution(betaBinomialPmf(1, rate, 0), n).chanceUpTo(c);

  // A. Kiermeier (2008), J. Stat. Softw. 26(6), vignette of the R package AcceptanceSampling, section 3.1. Provenance: read.
  it("20 without a fault, and 80 with up to 7, the fewest for 95 % at 5 % and 7.5 % at 15 %", () => {
    expect(accepted(20, 0, 0.05)).toBeCloseTo(0.35848592, 8);
    expect(accepted(20, 0, 0.15)).toBeCloseTo(0.03875953, 8);
    const keeps = (n: number, c: number) => accepted(n, c, 0.05) >= 0.95 && accepted(n, c, 0.15) <= 0.075;
    expect(keeps(80, 7)).toBe(true);
    for (let c = 0; c <= 7; c += 1) expect(keeps(79, c)).toBe(false);
  });

  // The vignette of the R package AccSamplingDesign. Provenance: quoted by another public source.
  it("144 with up to 4: 1.5 % of the producer's risk at 1 %, 14.9 % of the consumer's at 5 %", () => {
    expect(1 - accepted(144, 4, 0.01)).toBeCloseTo(0.01534843, 7);
    expect(accepted(144, 4, 0.05)).toBeCloseTo(0.1487162, 6);
  });

  // 7 CFR 42.140(c), as read in the law, from a curve: 26 of 100 lots with 1 defect per hundred units, about 99 with 0.1.
  it("500 with up to 3 defects: as many lots as the law says", () => {
    const passes = (perHundred: number) => 1 - poissonUpperTail(4, 5 * perHundred);
    expect(Math.abs(passes(1) - 0.26)).toBeLessThan(0.006);
    expect(passes(0.1)).toBeGreaterThan(0.99);
    expect(passes(0.1)).toBeCloseTo(0.9982, 4);
  });
});

// NIST/SEMATECH e-Handbook 6.2.6, the example p1 = 0.01, p2 = 0.10, alpha = 0.05, beta = 0.10; decision table as read in
// the documentation of the Python package reliability. The confidence sequence averages this same likelihood ratio.
describe("the lines of the sequential plan of NIST 6.2.6", () => {
  const accept = Math.log(0.1 / (1 - 0.05));
  const reject = Math.log((1 - 0.1) / 0.05);
  const walked = (misses: number, n: number) =>
    logLikelihood(1 - misses / n, n, 0.9) - logLikelihood(1 - misses / n, n, 0.99);
  const first = (from: number, reached: (n: number) => boolean) => {
    let n = from;
    while (!reached(n)) n += 1;
    return n;
  };

  it("accept first after 24, 49, 74 and 100", () => {
    const found = [0, 1, 2, 3].map((misses) =>
      first(Math.max(1, misses), (n) => walked(misses, n) <= accept),
    );
    expect(found).toEqual([24, 49, 74, 100]);
  });

  it("reject last before 20, 46, 71 and 96 ask for one miss more", () => {
    const needed = (n: number) => first(0, (misses) => misses > n || walked(misses, n) >= reject);
    const starts = [2, 3, 4, 5, 6].map((misses) => first(2, (n) => needed(n) === misses));
    expect(starts).toEqual([2, 20, 46, 71, 96]);
  });
});

// The same tables: the passes after which a kind of pass that makes up so much of all has come up.
describe("the fewest trials that show something rare are the sizes of acceptance plans without a fault", () => {
  it.each([
    [0.95, [299, 149, 99, 74, 59, 49, 42, 36, 32, 29]],
    [0.99, [459, 228, 152, 113, 90, 75, 64, 56, 49, 44]],
  ])("at one-sided %d", (confidence, published) => {
    const shares = [0.01, 0.02, 0.03, 0.04, 0.05, 0.06, 0.07, 0.08, 0.09, 0.1];
    const twoSided = Number((2 * confidence - 1).toFixed(6));
    expect(shares.map((share) => fewestTrialsToSee(share, twoSided))).toEqual(published);
  });
});
