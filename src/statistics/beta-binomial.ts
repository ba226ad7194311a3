import logBeta from "@stdlib/math-base-special-betaln";
import pow from "@stdlib/math-base-special-pow";
import normalCdf from "@stdlib/stats-base-dists-normal-cdf";
import { findRoot } from "./numerics/root.ts";

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
  const r = correlation / (1 - correlation);
  const pmf = new Float64Array(trials + 1);
  // From the middle outwards, so that no chance of many trials vanishes before it is scaled.
  const middle = Math.round(trials * probability);
  pmf[middle] = 1;
  const up = (m: number) => (trials - m) * (probability + m * r);
  const down = (m: number) => (m + 1) * (1 - probability + (trials - m - 1) * r);
  for (let m = middle; m < trials; m += 1) pmf[m + 1] = pmf[m]! * (up(m) / down(m));
  for (let m = middle - 1; m >= 0; m -= 1) pmf[m] = pmf[m + 1]! * (down(m) / up(m));
  const sum = pmf.reduce((total, chance) => total + chance, 0);
  return pmf.map((chance) => chance / sum);
}

/**
 * The chance of at most `failures` failures in all clusters together.
 *
 * `failures` is whole; below 0 the chance is 0, and 1 where all trials may fail. The distribution of the total is the
 * convolution of those of the clusters, cut off past `failures`; clusters of one size are convolved by repeated
 * squaring. All terms are positive, so nothing cancels, and a single cluster needs none. Where the convolution would take more than a
 * few milliseconds, with hundreds of failures in two clusters or more, `saddlepointCdf` stands in.
 *
 * Source: the sum of independent beta-binomial counts, `betaBinomialPmf`.
 * Example: 20 clusters of 40, probability 0.03, correlation 0.05: at most 8 failures with a chance of 0.01214 (computed).
 */
export function betaBinomialSumCdf(failures: number, clusters: CorrelatedClusters): number {
  if (failures < 0) return 0;
  const { sizes } = clusters;
  const trials = sizes.reduce((sum, [size, count]) => sum + size * count, 0);
  if (failures >= trials) return 1;
  if (isTooMuch(failures, sizes)) return saddlepointCdf(failures, clusters);
  const known = remembered(clusters);
  if (known !== undefined && failures < known.length) return known[failures]!;
  // Whoever asks again about the same clusters will ask for larger totals too; of none, most ask once.
  const further = failures === 0 ? 0 : Math.min(trials - 1, Math.max(7, 2 * failures));
  const cdf = sumCdf(known === undefined || isTooMuch(further, sizes) ? failures : further, clusters);
  remember(clusters, cdf);
  return cdf[failures]!;
}

/** Past so many multiplications the distribution of a total is approximated. */
const mostWork = 4e5;

function isTooMuch(failures: number, sizes: ClusterSizes): boolean {
  // The first cluster is there already.
  const squarings = sizes.reduce((sum, [, clusters]) => sum + Math.log2(clusters) + 1, -1);
  return squarings * failures * failures > mostWork;
}

/**
 * Distributions worked out lately, by the text of their clusters, probability and correlation: a search for a sample size
 * asks for the same ones thousands of times.
 */
const distributions = new Map<string, Map<number, Map<number, Float64Array>>>();
const mostDistributions = 1000;
let distributionsHeld = 0;

const texts = new WeakMap<ClusterSizes, string>();

function textOf(sizes: ClusterSizes): string {
  let text = texts.get(sizes);
  if (text === undefined) {
    text = sizes.flat().join(" ");
    texts.set(sizes, text);
  }
  return text;
}

function remembered({ sizes, probability, correlation }: CorrelatedClusters): Float64Array | undefined {
  return distributions.get(textOf(sizes))?.get(probability)?.get(correlation);
}

function remember({ sizes, probability, correlation }: CorrelatedClusters, cdf: Float64Array): void {
  if (distributionsHeld >= mostDistributions) {
    distributions.clear();
    distributionsHeld = 0;
  }
  distributionsHeld += 1;
  const byProbability = entry(
    distributions,
    textOf(sizes),
    () => new Map<number, Map<number, Float64Array>>(),
  );
  entry(byProbability, probability, () => new Map<number, Float64Array>()).set(correlation, cdf);
}

function entry<Key, Value>(map: Map<Key, Value>, key: Key, made: () => Value): Value {
  let value = map.get(key);
  if (value === undefined) {
    value = made();
    map.set(key, value);
  }
  return value;
}

/** The chance of at most each total up to `last`. */
function sumCdf(last: number, { sizes, probability, correlation }: CorrelatedClusters): Float64Array {
  const buffers = Array.from({ length: 4 }, () => new Float64Array(last + 1));
  let [total, power, spare, cluster] = buffers as [Float64Array, Float64Array, Float64Array, Float64Array];
  total[0] = 1;
  let degree = 0;
  for (const [size, clusters] of sizes) {
    let powerDegree = fewFailures(cluster, size, { probability, correlation });
    [power, cluster] = [cluster, power];
    for (let rest = clusters; rest > 0; rest = Math.floor(rest / 2)) {
      if (rest % 2 === 1) {
        degree = convolve(spare, [total, degree], [power, powerDegree]);
        [total, spare] = [spare, total];
      }
      if (rest > 1) {
        powerDegree = square(spare, power, powerDegree);
        [power, spare] = [spare, power];
      }
    }
  }
  for (let sum = 0, k = 0; k <= last; k += 1) {
    sum = Math.min(1, sum + total[k]!);
    total[k] = sum;
  }
  return total;
}

/**
 * Writes the chances of up to as many failures in one cluster as the array holds, and returns how many failures the last of
 * them stands for.
 *
 * They are worked out from the chance of none, which spares all the others: P(0) is the product over the trials
 * j = 0, 1, ... of (1 - probability + j r) / (1 + j r), r = correlation / (1 - correlation). Where P(0) is too small for
 * that, the whole distribution is worked out.
 */
function fewFailures(
  pmf: Float64Array,
  trials: number,
  { probability, correlation }: { probability: number; correlation: number },
): number {
  const r = correlation / (1 - correlation);
  const none = 1 - probability;
  const last = Math.min(pmf.length - 1, trials);
  let chance = 1;
  if (trials <= mostKept) for (let j = 0; j < trials; j += 1) chance *= (none + j * r) / (1 + j * r);
  else if (r === 0) chance = pow(none, trials);
  else chance = Math.exp(logBeta(probability / r, none / r + trials) - logBeta(probability / r, none / r));
  if (chance < 1e-250) {
    pmf.set(betaBinomialPmf(trials, probability, correlation).subarray(0, last + 1));
    return last;
  }
  for (let m = 0; m <= last; m += 1) {
    pmf[m] = chance;
    chance *= ((trials - m) * (probability + m * r)) / ((m + 1) * (none + (trials - m - 1) * r));
  }
  return last;
}

/** The chances of a sum of two counts, as far as the array holds them; each count comes with its largest number. */
function convolve(
  sum: Float64Array,
  [a, lastA]: [Float64Array, number],
  [b, lastB]: [Float64Array, number],
): number {
  const last = Math.min(lastA + lastB, sum.length - 1);
  for (let k = 0; k <= last; k += 1) {
    let chance = 0;
    for (let i = Math.max(0, k - lastB), end = Math.min(k, lastA); i <= end; i += 1)
      chance += a[i]! * b[k - i]!;
    sum[k] = chance;
  }
  return last;
}

/** The chances of the sum of two counts with one distribution. */
function square(sum: Float64Array, a: Float64Array, lastA: number): number {
  const last = Math.min(2 * lastA, sum.length - 1);
  for (let k = 0; k <= last; k += 1) {
    let half = 0;
    for (let i = Math.max(0, k - lastA); 2 * i < k; i += 1) half += a[i]! * a[k - i]!;
    sum[k] = k % 2 === 0 ? 2 * half + a[k / 2]! * a[k / 2]! : 2 * half;
  }
  return last;
}

/**
 * `betaBinomialSumCdf` by the saddlepoint approximation for whole numbers; `failures` from 0 to below all trials.
 *
 * With K the sum of the clusters' cumulant generating functions, x = failures + 1/2 and s where K'(s) = x:
 * Phi(r) - phi(r) (1/u - 1/r), r = sign(s) sqrt(2 (s x - K(s))), u = 2 sinh(s/2) sqrt(K''(s)).
 * At the mean itself, where it is not defined, 0.5.
 *
 * Where it stands in for the convolution (correlations to 0.2, probabilities from 0.01 to 0.3): a chance of 2.5 % of as few
 * failures is off by at most 1.5 % of itself. That of as many is off by 2 % with fifteen clusters, 4 % with eight, and comes out
 * too large by up to 16 % with four and 60 % with two, which errs on the side of undecided. Higher correlations in few clusters make
 * it worse.
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
