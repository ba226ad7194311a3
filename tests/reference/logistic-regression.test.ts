import { expect, test } from "vitest";
import {
  areIndependent,
  type BinomialCell,
  clusteredCovariance,
  logisticRegression,
  meanOf,
  profiled,
} from "../../src/statistics/regression/logistic-regression.ts";

const quantile = 3.841458820694124;
const errorsOf = (covariance: number[][]) => covariance.map((row, i) => Math.sqrt(row[i]!));

// Data and results of R's logistf(case ~ age + oc + vic + vicl + vis + dia, sex2): urinary infections of 239 women. Provenance:
// both were read in the published tests of another package, the figures to nine digits. A line holds the six predictors, then
// how many were cases and how many were not.
const urinary = [
  "000010 1 1",
  "001000 14 2",
  "001010 3 1",
  "001100 10 8",
  "001110 12 18",
  "001111 1 0",
  "010000 44 42",
  "010001 3 0",
  "010010 0 1",
  "011000 15 1",
  "011001 1 0",
  "011010 2 0",
  "011100 7 5",
  "011110 3 6",
  "101000 2 0",
  "101010 1 0",
  "101011 1 0",
  "101100 1 2",
  "101110 0 4",
  "101111 1 0",
  "110000 5 14",
  "110010 0 1",
  "111000 3 1",
  "111110 0 2",
];
const published: [value: number, lower: number, upper: number][] = [
  [0.12025405, -0.8185591, 1.07315122],
  [-1.10598131, -1.9737884, -0.30742514],
  [-0.06881673, -0.9414363, 0.78920202],
  [2.26887464, 1.2730216, 3.43543273],
  [-2.11140817, -3.2608611, -1.11773495],
  [-0.78831694, -1.6080879, 0.01518468],
  [3.09601166, 0.7745682, 8.03029352],
];

test("Firth's estimates and their profile intervals are those that R's logistf publishes", () => {
  const cells = urinary.map((line): BinomialCell => {
    const [predictors, cases, controls] = line.split(" ");
    return { x: [1, ...[...predictors!].map(Number)], n: Number(cases) + Number(controls), k: Number(cases) };
  });
  expect(cells.reduce((sum, { n }) => sum + n, 0)).toBe(239);
  const fit = logisticRegression({ cells, firth: true })!;
  published.forEach(([value, lower, upper], index) => {
    const found = profiled(fit, { index, quantile });
    expect(found.value).toBeCloseTo(value, 5);
    expect(found.lower).toBeCloseTo(lower, 4);
    expect(found.upper).toBeCloseTo(upper, 4);
  });
  // Its printed chi-squares are 7.51 (age) and 22.93 (vic).
  const age = profiled(fit, { index: 1, quantile });
  expect(age.p).toBeCloseTo(0.0061, 4);
});

// C. I. Bliss (1935), as in A. J. Dobson's book on generalized linear models: beetles killed by eight doses of carbon disulphide.
// Provenance: the table from memory; the figures are a library's, GLM with a binomial family of statsmodels 0.15.0.
test("the beetles of Bliss have the coefficients and standard errors of a library's logistic regression", () => {
  const doses = [1.6907, 1.7242, 1.7552, 1.7842, 1.8113, 1.8369, 1.861, 1.8839];
  const [n, k] = [
    [59, 60, 62, 56, 63, 59, 62, 60],
    [6, 13, 18, 28, 52, 53, 61, 60],
  ];
  const cells = doses.map((dose, i) => ({ x: [1, dose], n: n[i]!, k: k[i]! }));
  const fit = logisticRegression({ cells, firth: false })!;
  expect(fit.coefficients[0]).toBeCloseTo(-60.7174545616, 6);
  expect(fit.coefficients[1]).toBeCloseTo(34.2703257341, 6);
  expect(errorsOf(fit.covariance)[0]).toBeCloseTo(5.1807114633, 5);
  expect(errorsOf(fit.covariance)[1]).toBeCloseTo(2.9121400704, 5);
});

// Library: statsmodels 0.15.0, GLM(y, X, Binomial()).fit(cov_type="cluster", use_correction=False), standard errors times the
// root of 5/4; R's sandwich::vcovCL does the same by default. Invented data: five clusters of 20 in four cells.
test("standard errors clustered by a grouping are those of the sandwich", () => {
  const sizes = [4, 6, 5, 5];
  const events = [
    [0, 1, 1, 3],
    [2, 2, 4, 5],
    [0, 0, 1, 2],
    [1, 2, 3, 3],
    [0, 0, 0, 1],
  ];
  const predictors = [
    [1, 0, 0],
    [1, 0, 1],
    [1, 1, 0],
    [1, 1, 1],
  ];
  const cells = predictors.map((x, cell) => ({
    x,
    n: 5 * sizes[cell]!,
    k: events.reduce((sum, row) => sum + row[cell]!, 0),
  }));
  const observed = events.flatMap((row, cluster) =>
    row.map((k, cell) => ({ cell, cluster, n: sizes[cell]!, k })),
  );
  const columns = {
    length: observed.length,
    cell: observed.map(({ cell }) => cell),
    cluster: observed.map(({ cluster }) => cluster),
    n: observed.map(({ n }) => n),
    k: observed.map(({ k }) => k),
  };
  const fit = logisticRegression({ cells, firth: false })!;
  const close = (found: number[], expected: number[]) =>
    found.forEach((value, i) => {
      expect(value).toBeCloseTo(expected[i]!, 8);
    });
  close(fit.coefficients, [-2.0374632959, 1.5806403092, 0.5860434172]);
  close(errorsOf(fit.covariance), [0.5081840818, 0.4898307602, 0.4739000543]);
  expect(fit.logLikelihood).toBeCloseTo(-55.6971420009, 8);
  close(errorsOf(clusteredCovariance(fit, columns)!), [0.7884360822, 0.2111184742, 0.3217696588]);
});

test("a cell without an event has a finite estimate with Firth's correction, that of half an event more in each", () => {
  const cells = [
    { x: [1, 0], n: 1062, k: 0 },
    { x: [1, 1], n: 118, k: 31 },
  ];
  const fit = logisticRegression({ cells, firth: true })!;
  expect(Math.exp(fit.coefficients[1]!)).toBeCloseTo(31.5 / 87.5 / (0.5 / 1062.5), 6);
  const { value, lower, upper, p } = profiled(fit, { index: 1, quantile });
  expect([value, lower, upper].map((end) => end.toFixed(3))).toEqual(["6.640", "4.668", "11.484"]);
  expect(p).toBeLessThan(1e-20);
});

test("an interval widens with the inflation, and dependent predictors have no fit", () => {
  const cells = [
    { x: [1, 0], n: 40, k: 4 },
    { x: [1, 1], n: 40, k: 12 },
  ];
  const fit = logisticRegression({ cells, firth: true })!;
  const plain = profiled(fit, { index: 1, quantile });
  const wider = profiled(fit, { index: 1, quantile, inflation: 2 });
  expect(wider.lower).toBeLessThan(plain.lower);
  expect(wider.upper).toBeGreaterThan(plain.upper);
  expect(wider.p).toBeGreaterThan(plain.p);
  const dependent = cells.map((cell) => ({ ...cell, x: [...cell.x, cell.x[1]!] }));
  expect(logisticRegression({ cells: dependent, firth: true })).toBeNull();
  expect([areIndependent(cells), areIndependent(dependent)]).toEqual([true, false]);
  expect(areIndependent([{ x: [1, 0], n: 3, k: 1 }])).toBe(false);
  expect(meanOf([1, 2], [0, 0.5])).toBeCloseTo(0.7311, 4);
});

test("an end lies where the penalised likelihood has it, however far away that is", () => {
  const cells = [
    { x: [1, 1], n: 5, k: 2 },
    { x: [1, 0], n: 5, k: 0 },
  ];
  const fit = logisticRegression({ cells, firth: true })!;
  // The second cell has its own predictor left once the constant is held: half a miss and five and a half reads of six.
  const lossAt = (constant: number) => {
    const odds = Math.exp(constant);
    return Math.log(0.5 / 6) + 11 * Math.log(5.5 / 6) - Math.log(odds / (1 + odds)) + 11 * Math.log1p(odds);
  };
  const { lower, upper } = profiled(fit, { index: 0, quantile });
  expect(lossAt(lower)).toBeCloseTo(quantile, 6);
  expect(lossAt(upper)).toBeCloseTo(quantile, 6);
  const inflated = profiled(fit, { index: 0, quantile, inflation: 10 });
  expect(lossAt(inflated.upper)).toBeCloseTo(10 * quantile, 6);
  // So few misses that no double tells the odds from none.
  expect(inflated.lower).toBeLessThan(-25);
});
