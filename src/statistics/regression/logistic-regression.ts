import normalCdf from "@stdlib/stats-base-dists-normal-cdf";
import { findRoot } from "../numerics/root.ts";

/** Observations that share their predictors: `k` of `n` were events. */
export interface BinomialCell {
  /** The constant first, where there is one. */
  x: readonly number[];
  n: number;
  k: number;
}

/** Observations in columns: each of one cell and one cluster, both numbered from 0, `k` of `n` of them events. */
export interface ClusteredObservations {
  length: number;
  cell: ArrayLike<number>;
  cluster: ArrayLike<number>;
  n: ArrayLike<number>;
  k: ArrayLike<number>;
}

export interface LogisticFit {
  /** Log odds ratios, in the order of the predictors. */
  coefficients: number[];
  /** The inverse of the information. */
  covariance: number[][];
  /** With Firth's penalty where it was asked for. */
  logLikelihood: number;
}

interface Asked {
  cells: readonly BinomialCell[];
  firth: boolean;
}

const mostSteps = 60;
const largestStep = 5;
/** Steps shorter than this are not followed by another. */
const shortest = 1e-10;

/**
 * Logistic regression of binomial counts by iteratively reweighted least squares: log odds = the sum of coefficients times
 * predictors. Null where the predictors are linearly dependent.
 *
 * With `firth` the score of each observation is shifted by h (1/2 - mu), h its leverage, which maximises the likelihood
 * times the root of the determinant of the information: estimates stay finite where a cell has no event or only events.
 * Without it such estimates run off, and the last step is returned. Steps are at most 5, and halved while they lose.
 *
 * Sources: P. McCullagh and J. A. Nelder (1989), Generalized linear models; D. Firth (1993), Biometrika 80, 27-38;
 * G. Heinze and M. Schemper (2002), Stat. Med. 21, 2409-2419; all from memory. Example: 31 of 118 against 0 of 1062 with
 * Firth's correction: an odds ratio of (31.5 / 87.5) / (0.5 / 1062.5) = 765.
 */
export function logisticRegression(asked: Asked): LogisticFit | null {
  const width = asked.cells[0]?.x.length ?? 0;
  if (width === 0) return null;
  return fitted(asked, { start: new Array<number>(width).fill(0), fixed: null });
}

/** Whether no predictor is a sum of the others, so that each has an effect of its own. */
export function areIndependent(cells: readonly BinomialCell[]): boolean {
  const width = cells[0]?.x.length ?? 0;
  return stateAt(cells, new Array<number>(width).fill(0), false) !== null;
}

/**
 * The covariance of a fit's coefficients whose sampling units are clusters: I^-1 (sum of u u') I^-1 G/(G-1), with u the score
 * of each of G clusters. Null with fewer than two clusters.
 *
 * Source: the sandwich of K.-Y. Liang and S. L. Zeger (1986), Biometrika 73, 13-22, with independence as the working
 * correlation; from memory. Where each cluster is a single observation and G is large it nears the fit's own covariance.
 */
export function clusteredCovariance(
  { coefficients, covariance }: Pick<LogisticFit, "coefficients" | "covariance">,
  cells: readonly BinomialCell[],
  observed: ClusteredObservations,
): number[][] | null {
  const width = coefficients.length;
  const means = cells.map(({ x }) => meanOf(x, coefficients));
  let most = -1;
  for (let at = 0; at < observed.length; at += 1) most = Math.max(most, observed.cluster[at]!);
  const scores = new Float64Array((most + 1) * width);
  const isSeen = new Uint8Array(most + 1);
  for (let at = 0; at < observed.length; at += 1) {
    const cell = observed.cell[at]!;
    const { x } = cells[cell]!;
    const residual = observed.k[at]! - observed.n[at]! * means[cell]!;
    const start = observed.cluster[at]! * width;
    isSeen[observed.cluster[at]!] = 1;
    for (let i = 0; i < width; i += 1) scores[start + i]! += residual * x[i]!;
  }
  const clusters = isSeen.reduce((sum, one) => sum + one, 0);
  if (clusters < 2) return null;
  const middle = matrix(width);
  for (let start = 0; start < scores.length; start += width) {
    for (let i = 0; i < width; i += 1) {
      for (let j = 0; j < width; j += 1) middle[i]![j]! += scores[start + i]! * scores[start + j]!;
    }
  }
  const factor = clusters / (clusters - 1);
  return product(product(covariance, middle), covariance).map((row) => row.map((value) => value * factor));
}

/** A coefficient's interval and test by its profile: the likelihood maximised over all other coefficients. */
export interface ProfiledCoefficient {
  value: number;
  lower: number;
  upper: number;
  /** Two-sided, of the coefficient being 0. */
  p: number;
}

/**
 * The profile likelihood interval of one coefficient, and its likelihood ratio test against 0.
 *
 * `quantile` is that of the squared deviate (3.84 at 95 %). `inflation` of 1 or more divides the likelihood ratio, for
 * observations that are not independent: the ratio of the clustered to the plain variance of the coefficient.
 * The ends are where twice the loss of log-likelihood is the quantile times the inflation.
 *
 * Sources: Heinze and Schemper (2002), as above; the scaled likelihood ratio of J. N. K. Rao and A. J. Scott (1992),
 * Biometrics 48, 577-585; from memory.
 */
export function profiled(
  asked: Asked,
  fit: LogisticFit,
  { index, quantile, inflation = 1 }: { index: number; quantile: number; inflation?: number },
): ProfiledCoefficient {
  const value = fit.coefficients[index]!;
  const error = Math.sqrt(fit.covariance[index]![index]! * quantile * inflation);
  let near = fit.coefficients;
  const lossAt = (at: number): number => {
    const start = [...near];
    start[index] = at;
    const held = fitted(asked, { start, fixed: index, tolerance: 1e-6 })!;
    near = held.coefficients;
    return 2 * (fit.logLikelihood - held.logLikelihood);
  };
  const endAt = (side: 1 | -1): number => {
    const left = (distance: number) => quantile * inflation - lossAt(value + side * distance);
    let far = error;
    for (let i = 0; i < 20 && left(far) > 0; i += 1) far *= 1.6;
    return value + side * findRoot(left, { low: 0, high: far, closeEnough: 1e-6 });
  };
  const ratio = Math.max(0, lossAt(0)) / inflation;
  return { value, lower: endAt(-1), upper: endAt(1), p: 2 * normalCdf(-Math.sqrt(ratio), 0, 1) };
}

/** Newton's steps from a start; one coefficient may be held where it is. */
function fitted(
  { cells, firth }: Asked,
  { start, fixed, tolerance = shortest }: { start: number[]; fixed: number | null; tolerance?: number },
): LogisticFit | null {
  const free = start.flatMap((_, i) => (i === fixed ? [] : [i]));
  let coefficients = start;
  let state = stateAt(cells, coefficients, firth);
  if (state === null) return null;
  for (let step = 0; step < mostSteps && free.length > 0; step += 1) {
    const score = scoreAt(cells, state, firth);
    const root = choleskyOf(free.map((i) => free.map((j) => state!.information[i]![j]!)));
    if (root === null) break;
    const move = solved(
      root,
      free.map((i) => score[i]!),
    );
    const longest = Math.max(...move.map(Math.abs));
    let scale = longest > largestStep ? largestStep / longest : 1;
    let next: State | null = null;
    let moved = coefficients;
    for (let halved = 0; halved < 12; halved += 1) {
      moved = [...coefficients];
      free.forEach((i, at) => {
        moved[i]! += scale * move[at]!;
      });
      next = stateAt(cells, moved, firth);
      if (next !== null && next.logLikelihood >= state.logLikelihood - 1e-9) break;
      scale /= 2;
    }
    if (next === null) break;
    coefficients = moved;
    state = next;
    if (longest * scale < tolerance) break;
  }
  return { coefficients, covariance: inverseOf(state.root), logLikelihood: state.logLikelihood };
}

interface State {
  means: number[];
  information: number[][];
  root: number[][];
  logLikelihood: number;
}

function stateAt(cells: readonly BinomialCell[], coefficients: number[], firth: boolean): State | null {
  const width = coefficients.length;
  const information = matrix(width);
  const means: number[] = [];
  let logLikelihood = 0;
  for (const { x, n, k } of cells) {
    const odds = linear(x, coefficients);
    // log(1 + e^odds) without overflow.
    const logNone = -(Math.max(odds, 0) + Math.log1p(Math.exp(-Math.abs(odds))));
    logLikelihood += k * odds + n * logNone;
    const mean = 1 / (1 + Math.exp(-odds));
    means.push(mean);
    const weight = n * mean * (1 - mean);
    for (let i = 0; i < width; i += 1) {
      if (x[i] === 0) continue;
      for (let j = 0; j <= i; j += 1) information[i]![j]! += weight * x[i]! * x[j]!;
    }
  }
  for (let i = 0; i < width; i += 1) for (let j = 0; j < i; j += 1) information[j]![i] = information[i]![j]!;
  const root = choleskyOf(information);
  if (root === null) return null;
  if (firth) for (let i = 0; i < width; i += 1) logLikelihood += Math.log(root[i]![i]!);
  return { means, information, root, logLikelihood };
}

function scoreAt(cells: readonly BinomialCell[], { means, root }: State, firth: boolean): number[] {
  const width = root.length;
  const score = new Array<number>(width).fill(0);
  cells.forEach(({ x, n, k }, cell) => {
    const mean = means[cell]!;
    let residual = k - n * mean;
    if (firth) {
      const half = forward(root, x);
      const leverage = n * mean * (1 - mean) * half.reduce((sum, one) => sum + one * one, 0);
      residual += leverage * (0.5 - mean);
    }
    for (let i = 0; i < width; i += 1) score[i]! += residual * x[i]!;
  });
  return score;
}

function linear(x: readonly number[], coefficients: readonly number[]): number {
  let sum = 0;
  for (let i = 0; i < x.length; i += 1) sum += x[i]! * coefficients[i]!;
  return sum;
}

/** The chance of an event, 0..1, that some coefficients give some predictors. */
export function meanOf(x: readonly number[], coefficients: readonly number[]): number {
  return 1 / (1 + Math.exp(-linear(x, coefficients)));
}

function matrix(width: number): number[][] {
  return Array.from({ length: width }, () => new Array<number>(width).fill(0));
}

function product(a: number[][], b: number[][]): number[][] {
  return a.map((row) => b[0]!.map((_, j) => row.reduce((sum, value, i) => sum + value * b[i]![j]!, 0)));
}

/** The lower triangle whose square is a positive matrix; null where it is none, to a relative 1e-11. */
function choleskyOf(square: number[][]): number[][] | null {
  const width = square.length;
  const root = matrix(width);
  for (let i = 0; i < width; i += 1) {
    for (let j = 0; j <= i; j += 1) {
      let rest = square[i]![j]!;
      for (let m = 0; m < j; m += 1) rest -= root[i]![m]! * root[j]![m]!;
      if (i !== j) root[i]![j] = rest / root[j]![j]!;
      else if (rest <= 1e-11 * square[i]![i]! || rest <= 0) return null;
      else root[i]![i] = Math.sqrt(rest);
    }
  }
  return root;
}

function forward(root: number[][], values: readonly number[]): number[] {
  const found: number[] = [];
  root.forEach((row, i) => {
    let rest = values[i]!;
    for (let j = 0; j < i; j += 1) rest -= row[j]! * found[j]!;
    found.push(rest / row[i]!);
  });
  return found;
}

function solved(root: number[][], values: readonly number[]): number[] {
  const half = forward(root, values);
  const found = [...half];
  for (let i = root.length - 1; i >= 0; i -= 1) {
    let rest = half[i]!;
    for (let j = i + 1; j < root.length; j += 1) rest -= root[j]![i]! * found[j]!;
    found[i] = rest / root[i]![i]!;
  }
  return found;
}

function inverseOf(root: number[][]): number[][] {
  return root.map((_, column) =>
    solved(
      root,
      root.map((__, i) => (i === column ? 1 : 0)),
    ),
  );
}
