import logBeta from "@stdlib/math-base-special-betaln";
import normalCdf from "@stdlib/stats-base-dists-normal-cdf";
import { findRoot } from "./root.ts";

/** How many clusters there are of each size, by rising size; whole numbers. */
export type ClusterSizes = readonly (readonly [size: number, clusters: number])[];

/** Clusters of trials that are correlated within a cluster and independent between clusters. */
export interface CorrelatedClusters {
  sizes: ClusterSizes;
  /** Of a failure at one trial; strictly between 0 and 1. */
  probability: number;
  /** Between two trials of one cluster; 0 to below 1. */
  correlation: number;
}

/**
 * The beta-binomial distribution: the chance of each number of failures, from 0 to `trials`, in one cluster.
 *
 * `trials` is 1 or more, `probability` (0..1) that of a failure, `correlation` (0 to below 1) that between two trials.
 * The chances sum to 1. With correlation 0 it is the binomial distribution, with probability 0 or 1 a certainty.
 *
 * The cluster has a probability of its own, drawn from a beta distribution with mean `probability` whose width gives the
 * correlation. With r = correlation / (1 - correlation), neighbouring chances have the ratio
 * P(m+1) / P(m) = (trials - m)/(m + 1) (probability + m r) / (1 - probability + (trials - m - 1) r).
 *
 * Source: J. G. Skellam (1948), J. R. Stat. Soc. B 10, 257-261, from memory. Example: two trials, one in ten fails,
 * correlation 0.5: 0.855, 0.09, 0.055.
 */
export function betaBinomialPmf(trials: number, probability: number, correlation: number): Float64Array {
  const pmf = new Float64Array(trials + 1);
  const sum = fillUnscaled(pmf, probability, correlation);
  for (let m = 0; m <= trials; m += 1) pmf[m]! /= sum;
  return pmf;
}

/** Fills in all chances but for their sum, which is returned. */
function fillUnscaled(pmf: Float64Array, probability: number, correlation: number): number {
  const trials = pmf.length - 1;
  const r = correlation / (1 - correlation);
  // From the middle outwards, so that no chance of many trials vanishes before it is scaled.
  const middle = Math.round(trials * probability);
  pmf[middle] = 1;
  const up = (m: number) => (trials - m) * (probability + m * r);
  const down = (m: number) => (m + 1) * (1 - probability + (trials - m - 1) * r);
  for (let m = middle; m < trials; m += 1) pmf[m + 1] = pmf[m]! * (up(m) / down(m));
  for (let m = middle - 1; m >= 0; m -= 1) pmf[m] = pmf[m + 1]! * (down(m) / up(m));
  let sum = 0;
  for (let m = 0; m <= trials; m += 1) sum += pmf[m]!;
  return sum;
}

/**
 * The chance of at most `failures` failures in all clusters together.
 *
 * `failures` is whole; below 0 the chance is 0, and 1 where all trials may fail. The distribution of the total is the
 * convolution of those of the clusters, cut off past `failures`; clusters of one size are convolved by repeated
 * squaring. All terms are positive, so nothing cancels. Where the convolution would take more than a few milliseconds,
 * with hundreds of failures, `saddlepointCdf` stands in, which is good to a few thousandths of the chance there.
 *
 * Source: the sum of independent beta-binomial counts, `betaBinomialPmf`.
 * Example: 20 clusters of 40, probability 0.03, correlation 0.05: at most 8 failures with a chance of 0.01214 (computed).
 */
export function betaBinomialSumCdf(failures: number, clusters: CorrelatedClusters): number {
  if (failures < 0) return 0;
  const { sizes, probability, correlation } = clusters;
  const trials = sizes.reduce((sum, [size, count]) => sum + size * count, 0);
  if (failures >= trials) return 1;
  if (isTooMuch(failures, sizes)) return saddlepointCdf(failures, clusters);
  const ofClusters = cumulatedOf(sizes, probability);
  const known = ofClusters.get(correlation);
  if (known !== undefined && failures < known.length) return known[failures]!;
  // Whoever asks again about the same clusters will ask for larger totals too.
  const further = Math.min(trials - 1, Math.max(31, 2 * failures));
  const cdf = sumCdf(known === undefined || isTooMuch(further, sizes) ? failures : further, clusters);
  ofClusters.set(correlation, cdf);
  return cdf[failures]!;
}

/** Past so many multiplications the distribution of a total is approximated. */
const mostWork = 4e5;

function isTooMuch(failures: number, sizes: ClusterSizes): boolean {
  const squarings = sizes.reduce((sum, [, clusters]) => sum + Math.log2(clusters) + 1, 0);
  return squarings * failures * failures > mostWork;
}

/**
 * Distributions worked out lately, by sizes, probability and correlation: a search for a sample size asks for the same ones
 * thousands of times.
 */
const cumulated = new Map<string, Map<number, Map<number, Float64Array>>>();
const textOfSizes = new WeakMap<ClusterSizes, string>();
/** Sizes with a probability. */
const mostCumulated = 100;
let countCumulated = 0;

/** What is known of some clusters, by correlation. */
function cumulatedOf(sizes: ClusterSizes, probability: number): Map<number, Float64Array> {
  let text = textOfSizes.get(sizes);
  if (text === undefined) {
    text = sizes.flat().join(" ");
    textOfSizes.set(sizes, text);
  }
  const known = cumulated.get(text)?.get(probability);
  if (known !== undefined) return known;
  if (countCumulated >= mostCumulated) {
    cumulated.clear();
    countCumulated = 0;
  }
  countCumulated += 1;
  const byCorrelation = new Map<number, Float64Array>();
  const byProbability = cumulated.get(text) ?? new Map<number, Map<number, Float64Array>>();
  cumulated.set(text, byProbability.set(probability, byCorrelation));
  return byCorrelation;
}

/** The chance of at most each total up to `last`. */
function sumCdf(last: number, { sizes, probability, correlation }: CorrelatedClusters): Float64Array {
  let total: Float64Array | null = null;
  for (const [size, clusters] of sizes) {
    let power: Float64Array = fewFailures(last, size, { probability, correlation });
    for (let rest = clusters; rest > 0; rest = Math.floor(rest / 2)) {
      if (rest % 2 === 1) total = total === null ? power : convolution(total, power, last);
      if (rest > 1) power = convolution(power, power, last);
    }
  }
  const cdf = new Float64Array(total?.length ?? 1).fill(1);
  let sum = 0;
  for (let i = 0; total !== null && i < total.length; i += 1) {
    sum = Math.min(1, sum + total[i]!);
    cdf[i] = sum;
  }
  return cdf;
}

/**
 * The chances of up to `last` failures in one cluster. Of a very large one they are worked out from that of none, which spares
 * all the others: P(0) = B(a, b + trials) / B(a, b), a = probability (1 - correlation) / correlation, b = its complement's.
 */
function fewFailures(
  last: number,
  trials: number,
  { probability, correlation }: { probability: number; correlation: number },
): Float64Array {
  if (trials <= mostKept || last > trials / 4 || correlation === 0) {
    const unscaled = trials < scratch.length ? scratch.subarray(0, trials + 1) : new Float64Array(trials + 1);
    const sum = fillUnscaled(unscaled, probability, correlation);
    const few = unscaled.slice(0, last + 1);
    for (let m = 0; m < few.length; m += 1) few[m]! /= sum;
    return few;
  }
  const r = correlation / (1 - correlation);
  const [a, b] = [probability / r, (1 - probability) / r];
  const pmf = new Float64Array(last + 1);
  let log = logBeta(a, b + trials) - logBeta(a, b);
  for (let m = 0; m <= last; m += 1) {
    pmf[m] = Math.exp(log);
    const up = (trials - m) * (probability + m * r);
    log += Math.log(up / ((m + 1) * (1 - probability + (trials - m - 1) * r)));
  }
  return pmf;
}

/** Where the chances of one cluster are worked out, most of which are not kept. */
const scratch = new Float64Array(2048);

function convolution(a: Float64Array, b: Float64Array, last: number): Float64Array {
  const sum = new Float64Array(Math.min(a.length + b.length - 1, last + 1));
  for (let i = 0; i < a.length; i += 1) {
    const chance = a[i]!;
    const end = Math.min(b.length, sum.length - i);
    for (let j = 0; j < end; j += 1) sum[i + j]! += chance * b[j]!;
  }
  return sum;
}

/**
 * `betaBinomialSumCdf` by the saddlepoint approximation for whole numbers; `failures` from 0 to below all trials.
 *
 * With K the sum of the clusters' cumulant generating functions, x = failures + 1/2 and s where K'(s) = x:
 * Phi(r) - phi(r) (1/u - 1/r), r = sign(s) sqrt(2 (s x - K(s))), u = 2 sinh(s/2) sqrt(K''(s)).
 * At the mean itself, where it is not defined, 0.5.
 *
 * Sources: R. Lugannani and S. Rice (1980), Adv. Appl. Prob. 12, 475-490; the form for whole numbers, H. E. Daniels
 * (1987), Int. Stat. Rev. 55, 37-48 (both from memory; checked against the convolution).
 * Example: the 0.01214 of `betaBinomialSumCdf` comes out as 0.0121 (computed).
 */
export function saddlepointCdf(
  failures: number,
  { sizes, probability, correlation }: CorrelatedClusters,
): number {
  const groups = sizes.map(([size, clusters]) =>
    chancesOf(clusters, betaBinomialPmf(size, probability, correlation)),
  );
  const x = failures + 0.5;
  const excess = (s: number) => x - cumulants(groups, s).mean;
  const towards = Math.sign(excess(0));
  let far = towards;
  while (towards !== 0 && excess(far) * towards > 0 && Math.abs(far) < 700) far *= 2;
  const s = findRoot(excess, {
    low: Math.min(0, far),
    high: Math.max(0, far),
    closeEnough: 1e-9 * (1 + x),
  });
  const { log, variance } = cumulants(groups, s);
  const r = Math.sign(s) * Math.sqrt(Math.max(0, 2 * (s * x - log)));
  if (Math.abs(r) < 1e-4) return 0.5;
  const u = 2 * Math.sinh(s / 2) * Math.sqrt(variance);
  const density = Math.exp((-r * r) / 2) / Math.sqrt(2 * Math.PI);
  return Math.min(1, Math.max(0, normalCdf(r, 0, 1) - density * (1 / u - 1 / r)));
}

/** The numbers of failures of one cluster, with the logarithms of their chances. */
interface Chances {
  clusters: number;
  failures: Float64Array;
  logs: Float64Array;
}

/** Up to so many trials every number of failures is kept; beyond, numbers are taken together where they hardly differ. */
const mostKept = 2000;
/** Numbers taken together differ by at most one part in so many. */
const parts = 256;

/**
 * The distribution of one cluster for the cumulants. Of a large cluster, neighbouring numbers of failures are taken together at
 * their mean: runs as long as a 256th of where they begin, so that a cluster of a hundred thousand has some 1800 of them.
 */
function chancesOf(clusters: number, pmf: Float64Array): Chances {
  if (pmf.length <= mostKept)
    return { clusters, failures: Float64Array.from(pmf.keys()), logs: pmf.map((chance) => Math.log(chance)) };
  const failures: number[] = [];
  const logs: number[] = [];
  for (let from = 0; from < pmf.length; ) {
    const end = Math.min(pmf.length, from + Math.max(1, Math.floor(from / parts)));
    let chance = 0;
    let first = 0;
    for (let m = from; m < end; m += 1) {
      chance += pmf[m]!;
      first += pmf[m]! * m;
    }
    if (chance > 0) {
      failures.push(first / chance);
      logs.push(Math.log(chance));
    }
    from = end;
  }
  return { clusters, failures: Float64Array.from(failures), logs: Float64Array.from(logs) };
}

/** The cumulant generating function of the total at `s`, and its first two derivatives. */
function cumulants(groups: readonly Chances[], s: number): { log: number; mean: number; variance: number } {
  const total = { log: 0, mean: 0, variance: 0 };
  for (const { clusters, failures, logs } of groups) {
    // The tilted chances are scaled to their peak, wherever it lies, so that nothing overflows.
    let peak = Number.NEGATIVE_INFINITY;
    for (let i = 0; i < logs.length; i += 1) peak = Math.max(peak, logs[i]! + s * failures[i]!);
    let sum = 0;
    let first = 0;
    let second = 0;
    for (let i = 0; i < logs.length; i += 1) {
      const m = failures[i]!;
      const weight = Math.exp(logs[i]! + s * m - peak);
      sum += weight;
      first += weight * m;
      second += weight * m * m;
    }
    const mean = first / sum;
    total.log += clusters * (peak + Math.log(sum));
    total.mean += clusters * mean;
    total.variance += clusters * (second / sum - mean * mean);
  }
  return total;
}
