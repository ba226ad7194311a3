import { describe, expect, it } from "vitest";
import { clopperPearsonBounds } from "../../src/statistics/clopper-pearson.ts";
import { clusterSums, clusterVariance, effectiveSampleSize } from "../../src/statistics/effective-sample.ts";

/** 1 read, 0 missed, null not presented: rows are passes, columns are tags. Invented data. */
type Cells = (0 | 1 | null)[][];

const portal: Cells = [
  [1, 1, 1, 1, 1, 1, 1, 1, 1, 1],
  [1, 1, 1, 1, 1, 1, 1, 1, 1, 1],
  [1, 0, 1, 1, 0, 1, 1, 0, 1, 1],
  [1, 1, 1, 1, 1, 1, 1, 1, 1, 1],
  [1, 1, 1, 1, 1, 1, 1, 1, 1, 1],
  [1, 1, 1, 1, 0, 1, 1, 1, 1, 0],
  [1, 1, 1, 1, 1, 1, 1, 1, 1, 1],
  [1, 1, 1, 1, 0, 1, 1, 1, 1, 1],
];
const badPassBadTag: Cells = [
  [1, 1, 0, 1, 1, 1],
  [1, 1, 0, 1, 1, 1],
  [1, 1, 1, 1, 1, 1],
  [1, 1, 1, 1, 1, 1],
  [0, 0, 0, 0, 0, 0],
  [1, 1, 1, 1, 1, 1],
  [1, 1, 0, 1, 1, 1],
  [1, 1, 0, 1, 1, 1],
  [1, 1, 1, 1, 1, 0],
  [1, 1, 0, 1, 1, 1],
];
const unbalanced: Cells = [
  [1, 1, 1, 1, 1, null],
  [1, 1, 0, 1, null, null],
  [1, 1, 1, 1, 1, 1],
  [0, 1, 0, 1, 1, 1],
  [1, 1, 1, null, 1, 1],
  [1, 0, 0, 1, 1, 0],
  [1, 1, 1, 1, 1, 1],
];
const oneMissEach: Cells = [0, 1, 2, 3, 4, 5].map((miss) =>
  [0, 1, 2, 3, 4, 5].map((tag) => (tag === miss ? 0 : 1)),
);
const allOrNothing: Cells = [0, 1, 2, 3, 4].map((pass) => [0, 0, 0, 0].map(() => (pass === 2 ? 0 : 1)));

// Provenance: library values only. R 4.2.2, sandwich 3.0.2, vcovCL(lm(read ~ 1), ~ pass + tag), type HC1 and
// statsmodels 0.13.5 cluster covariance with its correction; twoWay is V_pass + V_tag - V_cell.
const variances = [
  {
    name: "a portal",
    cells: portal,
    pass: 0.001696428571429,
    tag: 0.001458333333333,
    twoWay: 0.0022765973478,
  },
  {
    name: "a bad pass and a bad tag",
    cells: badPassBadTag,
    pass: 0.008518518518519,
    tag: 0.006666666666667,
    twoWay: 0.01247332077841,
  },
  {
    name: "unequal passes",
    cells: unbalanced,
    pass: 0.006866378659873,
    tag: 0.004530351977041,
    twoWay: 0.007803109314761,
  },
  { name: "one miss in every pass and tag", cells: oneMissEach, pass: 0, tag: 0, twoWay: -0.003968253968254 },
  { name: "all or nothing", cells: allOrNothing, pass: 0.04, tag: 0, twoWay: 0.03157894736842 },
];

describe("the two-way variance of a read rate (Cameron, Gelbach and Miller 2011)", () => {
  it.each(variances)(
    "of $name is that of R's sandwich and of statsmodels",
    ({ cells, pass, tag, twoWay }) => {
      const { n, misses, byPass, byTag } = countsOf(cells);
      const p = (n - misses) / n;
      const found = { pass: clusterVariance(byPass, n, misses), tag: clusterVariance(byTag, n, misses) };
      const cell = ((p * (1 - p)) / n) * (n / (n - 1));
      expect(found.pass).toBeCloseTo(pass, 12);
      expect(found.tag).toBeCloseTo(tag, 12);
      expect(found.pass + found.tag - cell).toBeCloseTo(twoWay, 12);
    },
  );

  it("is exactly 0 in both dimensions where every pass and every tag misses once", () => {
    const { n, misses, byPass, byTag } = countsOf(oneMissEach);
    expect(clusterVariance(byPass, n, misses)).toBe(0);
    expect(clusterVariance(byTag, n, misses)).toBe(0);
  });
});

// Provenance: computed with R 4.2.2, survey 4.1.1: svydesign(ids = ~ pass), svyciprop(~ read, method = "beta"), which is
// the interval of Korn and Graubard (1998); effective sample from vcov(svymean) and degf of the same design.
const surveys = [
  {
    name: "a portal",
    cells: portal,
    effectiveN: 28.9764899287996,
    lower: 0.763978133975718,
    upper: 0.989541572918261,
  },
  {
    name: "a bad pass and a bad tag",
    cells: badPassBadTag,
    effectiveN: 14.6961147216531,
    lower: 0.515678318267271,
    upper: 0.957663061248257,
  },
  {
    name: "unequal passes",
    cells: unbalanced,
    effectiveN: 13.2779499731429,
    lower: 0.544810481995496,
    upper: 0.978764096634919,
  },
];

describe("the effective sample of Korn and Graubard (1998), clustered by pass", () => {
  it.each(surveys)("of $name is that of R's survey, and so is its exact interval", (one) => {
    const { n, misses, byPass } = countsOf(one.cells);
    const counts = { n, k: n - misses, clusterings: [byPass] };
    const effectiveN = effectiveSampleSize(counts, 0, 0.95);
    expect(effectiveN).toBeCloseTo(one.effectiveN, 9);
    const bounds = clopperPearsonBounds((n - misses) / n, effectiveN, 0.95);
    expect(bounds.lower).toBeCloseTo(one.lower, 9);
    expect(bounds.upper).toBeCloseTo(one.upper, 9);
  });
});

/*
 * Survivors of litters of rats: C. S. Weil (1970), as the R package aod has them. The design effects and effective samples of J. N. K. Rao
 * and A. J. Scott (1992). Provenance: library values only, as computed for these litters in R 4.2.2.
 */
describe("the design effect of Rao and Scott (1992)", () => {
  it.each([
    {
      name: "the control litters",
      survived: [13, 12, 9, 9, 8, 8, 12, 11, 9, 9, 8, 11, 4, 5, 7, 7],
      born: [13, 12, 9, 9, 8, 8, 13, 12, 10, 10, 9, 13, 5, 7, 10, 10],
      designEffect: 1.232495394307,
      effectiveN: 128.1952052152,
    },
    {
      name: "the treated litters",
      survived: [12, 11, 10, 9, 10, 9, 9, 8, 8, 4, 7, 4, 5, 3, 3, 0],
      born: [12, 11, 10, 9, 11, 10, 10, 9, 9, 5, 9, 7, 10, 6, 10, 7],
      designEffect: 3.952860625964,
      effectiveN: 36.68229510739,
    },
  ])("of $name is the variance over litters by that of independent pups", (one) => {
    const litters = clusterSums(one.born.map((n, i) => ({ n, failures: n - one.survived[i]! })));
    const n = one.born.reduce((sum, born) => sum + born, 0);
    const died = n - one.survived.reduce((sum, survived) => sum + survived, 0);
    const designEffect = clusterVariance(litters, n, died) / (((died / n) * (1 - died / n)) / n);
    expect(designEffect).toBeCloseTo(one.designEffect, 9);
    expect(n / designEffect).toBeCloseTo(one.effectiveN, 8);
  });
});

describe("without a miss", () => {
  // Closed form: 30 presentations, six passes of five tags, rho 0.1 within a pass: 30 / (1 + 4 x 0.1) = 21.43; the
  // one-sided 95 % bound on that is 0.05^(1/21.43) = 0.869531394521. Library value only (scipy 1.10.1).
  it("the assumed correlation alone sets the effective sample, and a bound exists", () => {
    const byPass = clusterSums(Array.from({ length: 6 }, () => ({ n: 5, failures: 0 })));
    const effectiveN = effectiveSampleSize({ n: 30, k: 30, clusterings: [byPass] }, 0.1, 0.95);
    expect(effectiveN).toBeCloseTo(21.42857142857, 9);
    expect(clopperPearsonBounds(1, effectiveN, 0.9).lower).toBeCloseTo(0.869531394521, 9);
  });

  // The same with rho 0.3; and one trial a pass or a tag, as if each failed as a whole. Library values only, as above.
  it("a larger correlation gives a lower bound, down to that of a single trial in each pass", () => {
    const byPass = clusterSums(Array.from({ length: 6 }, () => ({ n: 5, failures: 0 })));
    const lowerAt = (correlation: number) => {
      const effectiveN = effectiveSampleSize({ n: 30, k: 30, clusterings: [byPass] }, correlation, 0.95);
      return clopperPearsonBounds(1, effectiveN, 0.9).lower;
    };
    expect(lowerAt(0.3)).toBeCloseTo(0.8027699988537, 9);
    expect(lowerAt(1)).toBeCloseTo(0.6069622310029, 9);
    expect(lowerAt(0)).toBeCloseTo(0.9049661471447, 9);
  });
});

function countsOf(cells: Cells) {
  const tags = cells[0]!.map((_, tag) => cells.map((pass) => pass[tag]!));
  const sums = (groups: Cells) =>
    clusterSums(
      groups.map((group) => {
        const presented = group.filter((cell) => cell !== null);
        return { n: presented.length, failures: presented.filter((cell) => cell === 0).length };
      }),
    );
  const presented = cells.flat().filter((cell) => cell !== null);
  return {
    n: presented.length,
    misses: presented.filter((cell) => cell === 0).length,
    byPass: sums(cells),
    byTag: sums(tags),
  };
}
