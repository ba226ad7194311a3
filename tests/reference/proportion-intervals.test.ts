import binomialCdf from "@stdlib/stats-base-dists-binomial-cdf";
import { describe, expect, it } from "vitest";
import { clopperPearsonBounds } from "../../src/statistics/clopper-pearson.ts";
import { wilsonBounds } from "../../src/statistics/wilson.ts";

interface Case {
  x: number;
  n: number;
  confidence: number;
  lower: number;
  upper: number;
  tolerance: number;
}

const newcombe = { confidence: 0.95, tolerance: 5e-5 };

// R. G. Newcombe (1998), Two-sided confidence intervals for the single proportion, Stat. Med. 17, 857-872, Table I,
// method 3. Provenance: quoted by another public source.
const newcombeWilson: Case[] = [
  { x: 81, n: 263, lower: 0.2553, upper: 0.3662, ...newcombe },
  { x: 0, n: 20, lower: 0, upper: 0.1611, ...newcombe },
  { x: 1, n: 29, lower: 0.0061, upper: 0.1718, ...newcombe },
];

// The same table, method 5. Provenance: from memory; agrees with the value of statsmodels 0.13.5.
const newcombeExact: Case[] = [
  { x: 81, n: 263, lower: 0.2527, upper: 0.3676, ...newcombe },
  { x: 15, n: 148, lower: 0.0578, upper: 0.1617, ...newcombe },
  { x: 0, n: 20, lower: 0, upper: 0.1684, ...newcombe },
  { x: 1, n: 29, lower: 0.0009, upper: 0.1776, ...newcombe },
];

// Provenance: read in the published test output of the packages named.
const packageWilson: Case[] = [
  // R package binom 1.0, printed in statsmodels' results_proportion.py
  {
    x: 18,
    n: 20,
    confidence: 0.95,
    lower: 0.6989663547715128,
    upper: 0.972133518786232,
    tolerance: 1e-12,
  },
  {
    x: 4,
    n: 20,
    confidence: 0.95,
    lower: 0.0806576625797981,
    upper: 0.4160174322518935,
    tolerance: 1e-12,
  },
  // statsmodels test_proportion.py
  {
    x: 19,
    n: 38,
    confidence: 0.95,
    lower: 0.348499283643951,
    upper: 0.651500716356049,
    tolerance: 1e-12,
  },
  // R prop.test(73, 86, p = 0.9, correct = FALSE), recorded in statsmodels test_proportion.py
  {
    x: 73,
    n: 86,
    confidence: 0.95,
    lower: 0.758364348004061,
    upper: 0.9094787701686766,
    tolerance: 1e-12,
  },
];

const packageExact: Case[] = [
  // NIST/SEMATECH e-Handbook 7.2.4.1, 4 defectives in 20, two-sided 90 %. It prints .401029 for .4010281, so the
  // tolerance is 1e-6. Provenance: read in the source.
  { x: 4, n: 20, confidence: 0.9, lower: 0.071354, upper: 0.401029, tolerance: 1e-6 },
  // Fagerland, Lydersen and Laake (2017), ch. 2, printed by CRAN contingencytables 3.0.1. Provenance: read there.
  { x: 13, n: 16, confidence: 0.95, lower: 0.5435, upper: 0.9595, tolerance: 5e-5 },
  // R package binom 1.0, printed in statsmodels' results_proportion.py. Provenance: read there.
  {
    x: 18,
    n: 20,
    confidence: 0.95,
    lower: 0.6830172859809176,
    upper: 0.9876514728297052,
    tolerance: 1e-12,
  },
];

function expectBounds(found: { lower: number; upper: number }, wanted: Case): void {
  expect(Math.abs(found.lower - wanted.lower)).toBeLessThanOrEqual(wanted.tolerance);
  expect(Math.abs(found.upper - wanted.upper)).toBeLessThanOrEqual(wanted.tolerance);
}

describe("the Wilson interval", () => {
  it.each([...newcombeWilson, ...packageWilson])("of $x of $n is the published one", (one) => {
    expectBounds(wilsonBounds(one.x / one.n, one.n, one.confidence), one);
  });
});

describe("the Clopper-Pearson interval", () => {
  it.each([...newcombeExact, ...packageExact])("of $x of $n is the published one", (one) => {
    expectBounds(clopperPearsonBounds(one.x / one.n, one.n, one.confidence), one);
  });
});

// Provenance: closed form and scipy 1.10.1, library values only, at 1e-9; 10 of 10 also printed to four digits by
// contingencytables 3.0.1 (exact) and public test suites (Wilson).
const edges = [
  { x: 0, n: 1, wilson: [0, 0.7934506856228], exact: [0, 0.975] },
  { x: 10, n: 10, wilson: [0.7224672001371, 1], exact: [0.6915028921812, 1] },
  { x: 59, n: 59, wilson: [0.9388706294732, 1], exact: [0.9393910990497, 1] },
  { x: 299, n: 299, wilson: [0.9873152809538, 1], exact: [0.9877384040925, 1] },
  { x: 1_000_000, n: 1_000_000, wilson: [0.9999961585559, 1], exact: [0.9999963111273, 1] },
  {
    x: 500_000,
    n: 1_000_000,
    wilson: [0.49902001989, 0.50097998011],
    exact: [0.4990195191955, 0.5009804808045],
  },
];

describe("at the edges", () => {
  it.each(edges)("$x of $n keeps inside 0 and 1 and agrees to nine digits", ({ x, n, wilson, exact }) => {
    const score = wilsonBounds(x / n, n, 0.95);
    const beta = clopperPearsonBounds(x / n, n, 0.95);
    expect(score.lower).toBeCloseTo(wilson[0]!, 9);
    expect(score.upper).toBeCloseTo(wilson[1]!, 9);
    expect(beta.lower).toBeCloseTo(exact[0]!, 9);
    expect(beta.upper).toBeCloseTo(exact[1]!, 9);
  });

  it("no miss has an upper end of exactly 1, no read a lower end of exactly 0", () => {
    for (const make of [wilsonBounds, clopperPearsonBounds]) {
      expect(make(1, 7.3, 0.95).upper).toBe(1);
      expect(make(0, 7.3, 0.95).lower).toBe(0);
    }
  });
});

// Success-run sizes: the smallest n without a failure whose one-sided exact lower bound reaches the rate. 59 for
// 95/95 and 299 for 99/95 as printed by jfa 0.7.4 test-statistical-tables.R (the AICPA guide's table, attribution from
// memory), read there; 2995 from the documentation of the Python package reliability, read there; 45 for 95/90 is
// ceil(ln 0.1 / ln 0.95), computed.
const successRuns = [
  { rate: 0.95, oneSided: 0.9, n: 45 },
  { rate: 0.95, oneSided: 0.95, n: 59 },
  { rate: 0.99, oneSided: 0.95, n: 299 },
  { rate: 0.9, oneSided: 0.95, n: 29 },
  { rate: 0.99, oneSided: 0.99, n: 459 },
  { rate: 0.999, oneSided: 0.95, n: 2995 },
];

describe("the well-known success-run sizes", () => {
  it.each(successRuns)(
    "$n without a failure shows $rate at one-sided $oneSided, one fewer does not",
    (one) => {
      const twoSided = 1 - 2 * (1 - one.oneSided);
      expect(clopperPearsonBounds(1, one.n, twoSided).lower).toBeGreaterThanOrEqual(one.rate);
      expect(clopperPearsonBounds(1, one.n - 1, twoSided).lower).toBeLessThan(one.rate);
    },
  );

  it("are one-sided: at two-sided 95 % none of 59 and 299 is enough", () => {
    expect(clopperPearsonBounds(1, 59, 0.95).lower).toBeLessThan(0.95);
    expect(clopperPearsonBounds(1, 299, 0.95).lower).toBeLessThan(0.99);
  });
});

// One-sided at 95 %, which is the lower end of a two-sided interval at 90 %. Provenance: library values only; closed forms, and the
// quantiles of scipy 1.10.1.
describe("one-sided lower bounds of a read rate", () => {
  it("without a miss are the success-run bound, 0.05 to the power of 1 / n", () => {
    const bounds = [5, 10, 22, 29, 45, 59, 93, 149, 299, 459, 2995].map(
      (n) => clopperPearsonBounds(1, n, 0.9).lower,
    );
    const published = [
      0.5492802716531, 0.7411344491069, 0.8726945683452, 0.9018553723227, 0.9355957111922, 0.9504923901118,
      0.9683011110089, 0.9800951837793, 0.9900308532071, 0.993494602485, 0.9990002555791,
    ];
    for (const [i, bound] of bounds.entries()) expect(Math.abs(bound - published[i]!)).toBeLessThan(1e-9);
  });

  it.each([
    [59, 59, 0.9504923901118, 0.9561539644148],
    [58, 59, 0.9221020784812, 0.9275323166169],
    [93, 93, 0.9683011110089, 0.9717305460431],
    [92, 93, 0.950006021612, 0.9532356227224],
    [100, 100, 0.970486950393, 0.9736572792168],
    [99, 100, 0.9534401885465, 0.9564182264659],
    [97, 100, 0.9242892062502, 0.9272896567131],
    [298, 299, 0.9842332168724, 0.9851500051746],
    [299, 299, 0.9900308532071, 0.9910325033371],
    [999, 1000, 0.9952650064245, 0.9955302770906],
  ])("%d of %d read", (k, n, exact, wilson) => {
    expect(clopperPearsonBounds(k / n, n, 0.9).lower).toBeCloseTo(exact, 9);
    expect(wilsonBounds(k / n, n, 0.9).lower).toBeCloseTo(wilson, 9);
  });
});

// R binom.test(51, 235, 1/6, alternative = "less"), recorded in statsmodels' test_proportion.py. Provenance: read.
it("the exact one-sided upper bound and the p of 51 of 235 are R's", () => {
  expect(clopperPearsonBounds(51 / 235, 235, 0.9).upper).toBeCloseTo(0.2659460862574313, 12);
  expect(binomialCdf(51, 235, 1 / 6)).toBeCloseTo(0.982022657605858, 12);
});
