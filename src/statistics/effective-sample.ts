import tQuantile from "@stdlib/stats-base-dists-t-quantile";
import type { ClusterSizes } from "./beta-binomial.ts";
import { remembered } from "./numerics/remembered.ts";
import { criticalValue } from "./wilson.ts";

/**
 * How trials and failures fall into the clusters of one clustering. Whole numbers only, so that the order in which the
 * trials were counted cannot change them.
 */
export interface ClusterSums {
  /** Clusters with at least one trial. */
  clusters: number;
  /** Trials in the largest one. */
  largest: number;
  /** Sums of n_g², of m_g n_g and of m_g² over the clusters: n_g trials in cluster g, m_g of them failed. */
  sizeSquares: number;
  failuresTimesSize: number;
  failureSquares: number;
  /** Worked out when it is asked for: most intervals take the sums alone. */
  layout(): ClusterLayout;
}

/** How many clusters are alike. */
export interface ClusterLayout {
  sizes: ClusterSizes;
  /** Clusters by how many of their trials failed. */
  failing: ClusterCounts;
  /** Clusters by how many of their trials succeeded. */
  succeeding: ClusterCounts;
}

/** How many clusters have each number of trials of one kind, by rising number; those without any are left out. */
export type ClusterCounts = readonly (readonly [trials: number, clusters: number])[];

/**
 * Trials counted, and how they fall into clusters, by none, one or two crossed clusterings. A pair of clusters of two
 * clusterings has at most one trial in common.
 */
export interface ClusteredSample {
  /** Trials, and how many of them succeeded. */
  n: number;
  k: number;
  clusterings: readonly ClusterSums[];
}

/**
 * The sums of clusters given as trials and failures; clusters without a trial are passed over.
 * Example: clusters of 4, 4 and 2 trials with 1, 0 and 2 failures: sizes squared 36, failures times size 8, failures
 * squared 5.
 */
export function clusterSums(clusters: readonly { n: number; failures: number }[]): ClusterSums {
  let count = 0;
  let largest = 0;
  let sizeSquares = 0;
  let failuresTimesSize = 0;
  let failureSquares = 0;
  for (let i = 0; i < clusters.length; i += 1) {
    const { n, failures } = clusters[i]!;
    if (n === 0) continue;
    count += 1;
    if (n > largest) largest = n;
    sizeSquares += n * n;
    failuresTimesSize += failures * n;
    failureSquares += failures * failures;
  }
  return {
    clusters: count,
    largest,
    sizeSquares,
    failuresTimesSize,
    failureSquares,
    layout: () => ({
      sizes: counted(clusters, ({ n }) => n),
      failing: counted(clusters, ({ failures }) => failures),
      succeeding: counted(clusters, ({ n, failures }) => n - failures),
    }),
  };
}

function counted<Cluster>(
  clusters: readonly Cluster[],
  numberOf: (cluster: Cluster) => number,
): ClusterCounts {
  const counts = new Map<number, number>();
  for (const cluster of clusters) {
    const number = numberOf(cluster);
    if (number > 0) counts.set(number, (counts.get(number) ?? 0) + 1);
  }
  return rising(counts);
}

function rising(counts: ReadonlyMap<number, number>): ClusterCounts {
  return [...counts].sort(([a], [b]) => a - b);
}

/** How many failures are left where some are taken as successes, and the largest sum of their squares over clusters. */
export interface FewerFailures {
  failures: number;
  squares: number;
}

/**
 * What may be left of `failures` failures if some of them are taken as successes: for each number of them, the largest
 * sum of squares over clusters, which is where those taken are the isolated ones, then those of the clusters with the next
 * fewest. The failures of a sample with one failure more include all of these or worse ones.
 *
 * Every number is taken up to 40; beyond, each is a quarter larger than the one before, since so many hardly differ.
 * `squares` is the sum of squares of all of them, first in the list.
 * Example: clusters with 2, 1 and 1 failures: 4 failures with squares 6, 3 with 5, 2 with 4, 1 with 1 and none.
 */
export function fewerFailures({ failures, squares }: FewerFailures, failing: ClusterCounts): FewerFailures[] {
  const found: FewerFailures[] = [{ failures, squares }];
  for (let taken = 1; taken < failures; taken = taken < 40 ? taken + 1 : Math.floor(taken * 1.25)) {
    const left = failures - taken;
    found.push({ failures: left, squares: Math.min(squares, mostSquares(left, failing)) });
  }
  if (failures > 0) found.push({ failures: 0, squares: 0 });
  return found;
}

/** The largest sum of squares of so many failures: those of the clusters with the most. */
function mostSquares(failures: number, failing: ClusterCounts): number {
  let left = failures;
  let squares = 0;
  for (let i = failing.length - 1; i >= 0 && left > 0; i -= 1) {
    const [each, clusters] = failing[i]!;
    const whole = Math.min(clusters, Math.floor(left / each));
    squares += whole * each * each;
    left -= whole * each;
    if (whole < clusters) return squares + left * left;
  }
  return squares + left;
}

/** The clusterings that make a difference: those with a cluster of more than one trial. */
export function effectiveClusterings({ clusterings }: ClusteredSample): ClusterSums[] {
  return clusterings.filter(({ largest }) => largest > 1);
}

/**
 * The samples in which some of the failures are taken as successes (`fewerFailures`, in each clustering on its own); the
 * sample itself comes first. Where clusters differ in size, failures are taken to lie in clusters of the mean size of
 * those that have any.
 * Example: clusters of 4, 4 and 2 trials with 2, 1 and 1 failures: 6 successes with squares 6, then 7 with 5, 8 with 4, 9 with 1 and 10.
 */
export function samplesWithFewerFailures(sample: ClusteredSample): ClusteredSample[] {
  const { n, k, clusterings } = sample;
  const failures = n - k;
  const fewer = clusterings.map((sums) =>
    fewerFailures({ failures, squares: sums.failureSquares }, sums.layout().failing),
  );
  return fewerFailures({ failures, squares: failures }, []).map((left, i) => ({
    n,
    k: n - left.failures,
    clusterings: clusterings.map((sums, side) => ({
      ...sums,
      failureSquares: fewer[side]![i]!.squares,
      failuresTimesSize: failures === 0 ? 0 : Math.round((sums.failuresTimesSize * left.failures) / failures),
    })),
  }));
}

/**
 * A sample that went on for so many further trials, all of which succeeded: in further clusters as large as those so far on
 * average, the last one smaller where they do not come out even.
 * Example: 20 clusters of 40 and 52 more are 21 clusters of 40 and one of 12.
 */
export function extended(sample: ClusteredSample, further: number): ClusteredSample {
  const longer = (sums: ClusterSums): ClusterSums => {
    const size = Math.max(1, Math.round(sample.n / sums.clusters));
    const longest: ClusterCounts = [
      [size, Math.floor(further / size)],
      [further % size, 1],
    ];
    const added = longest.filter(([each, times]) => each > 0 && times > 0);
    const grown = { ...sums };
    for (const [each, times] of added) {
      grown.clusters += times;
      grown.largest = Math.max(grown.largest, each);
      grown.sizeSquares += times * each * each;
    }
    const withAdded = (counts: ClusterCounts) => {
      const all = new Map(counts);
      for (const [each, times] of added) all.set(each, (all.get(each) ?? 0) + times);
      return rising(all);
    };
    grown.layout = () => {
      const { sizes, failing, succeeding } = sums.layout();
      return { sizes: withAdded(sizes), failing, succeeding: withAdded(succeeding) };
    };
    return grown;
  };
  return { n: sample.n + further, k: sample.k + further, clusterings: sample.clusterings.map(longer) };
}

/**
 * The same trials with successes and failures exchanged.
 * Example: 6 of 10 in clusters of 4, 4 and 2 with 2, 1 and 1 failures: 4 of 10, failures squared 14.
 */
export function mirrored({ n, k, clusterings }: ClusteredSample): ClusteredSample {
  return {
    n,
    k: n - k,
    clusterings: clusterings.map((sums) => ({
      ...sums,
      failuresTimesSize: sums.sizeSquares - sums.failuresTimesSize,
      failureSquares: sums.sizeSquares - 2 * sums.failuresTimesSize + sums.failureSquares,
      layout: () => {
        const { sizes, failing, succeeding } = sums.layout();
        return { sizes, failing: succeeding, succeeding: failing };
      },
    })),
  };
}

/**
 * The variance of an observed proportion whose sampling units are clusters: G/(G-1) times the sum of squared cluster
 * residuals over n².
 *
 * `n` trials of which `failures` failed, in G >= 2 clusters. The sum is worked out in whole numbers of any length, so
 * clusters with equal shares of failures give exactly 0.
 *
 * Source: the one-way cluster-robust variance of a mean, A. C. Cameron, J. B. Gelbach and D. L. Miller (2011), J. Bus.
 * Econ. Stat. 29, 238-249, with the G/(G-1) correction. Example: five clusters of four trials, one of them failed
 * throughout: variance 0.04 at a proportion of 0.8.
 */
export function clusterVariance(sums: ClusterSums, n: number, failures: number): number {
  const size = BigInt(n);
  const failed = BigInt(failures);
  const residuals =
    size * size * BigInt(sums.failureSquares) -
    2n * size * failed * BigInt(sums.failuresTimesSize) +
    failed * failed * BigInt(sums.sizeSquares);
  return ((sums.clusters / (sums.clusters - 1)) * (Number(residuals) / (n * n))) / (n * n);
}

/**
 * How many independent trials a clustered sample is worth, if the correlation within clusters is at least `correlation`.
 *
 * The smallest of n itself; n over the design effect that `correlation` (0..1) gives in each effective clustering; and,
 * where some trials failed and some succeeded and an effective clustering has two clusters or more, what the observed
 * scatter gives. Without an effective clustering it is n. n = 0 gives 0. `confidence` is that of the two-sided interval
 * which will be made of it, 0..1.
 *
 * Assumed: n / (1 + (sum of n_g² / n - 1) correlation). Observed: p(1-p)/V times (t[n-1] / t[df])², with V the largest of
 * p(1-p)/n, V1, V2 and, with two effective clusterings, V1 + V2 - V12; df is one less than the smallest number of
 * clusters among those clusterings; t are quantiles at 1 - (1 - confidence)/2.
 *
 * Sources: E. L. Korn and B. I. Graubard (1998), Survey Methodology 24, 193-201 (effective sample and its degrees of
 * freedom); A. C. Cameron, J. B. Gelbach and D. L. Miller (2011), J. Bus. Econ. Stat. 29, 238-249 (two-way variance).
 * Example: five clusters of four trials, one of them failed throughout, crossed with four clusters of five, correlation
 * 0.02, 95 %: 1.73 (computed).
 */
export function effectiveSampleSize(
  sample: ClusteredSample,
  correlation: number,
  confidence: number,
): number {
  return effectiveSampleSizeAt(sample, confidence)(correlation);
}

/**
 * `effectiveSampleSize` as a function of the correlation, for many of them: the observed scatter is worked out once.
 * Example: 22 clusters of 40 without a failure are worth 880 at 0, 494.4 at 0.02 and 179.6 at 0.1 (computed).
 */
export function effectiveSampleSizeAt(
  sample: ClusteredSample,
  confidence: number,
): (correlation: number) => number {
  const { n, k } = sample;
  const clusterings = effectiveClusterings(sample);
  if (n === 0 || clusterings.length === 0) return () => n;
  const observed = observedSampleSize(n, k, { clusterings, confidence });
  return (correlation) => {
    const assumed = clusterings.reduce(
      (least, { sizeSquares }) => Math.min(least, n / (1 + (sizeSquares / n - 1) * correlation)),
      n,
    );
    return assumed <= observed.atLeast ? assumed : Math.min(assumed, observed.size());
  };
}

/** What the observed scatter gives, and what it gives at the least, which is had for less. */
interface ObservedSize {
  atLeast: number;
  size(): number;
}

function observedSampleSize(
  n: number,
  k: number,
  { clusterings, confidence }: { clusterings: ClusterSums[]; confidence: number },
): ObservedSize {
  const usable = clusterings.filter(({ clusters }) => clusters > 1);
  if (k === 0 || k === n || usable.length === 0) return { atLeast: n, size: () => n };
  const failures = n - k;
  const spread = (k / n) * (failures / n);
  const oneWay = usable.map((sums) => clusterVariance(sums, n, failures));
  const variances = [spread / n, ...oneWay];
  if (oneWay.length === 2) {
    // Two clusters have one trial in common, so V12 is the variance without clusters, scaled by n/(n-1).
    variances.push(oneWay[0]! + oneWay[1]! - (spread / n) * (n / (n - 1)));
  }
  const degreesOfFreedom = Math.min(...usable.map(({ clusters }) => clusters)) - 1;
  const level = 1 - (1 - confidence) / 2;
  const quantileAt = tQuantiles(level);
  const scaled = (quantile: number) => {
    const ratio = quantile / quantileAt(degreesOfFreedom);
    return (spread / Math.max(...variances)) * ratio * ratio;
  };
  // The normal quantile is smaller than any of t.
  return { atLeast: scaled(criticalValue(confidence)), size: () => scaled(quantileAt(n - 1)) };
}

/** By level, then degrees of freedom: they cost more than all the rest. */
const tQuantiles = remembered((level: number) =>
  remembered((degreesOfFreedom: number) => tQuantile(level, degreesOfFreedom)),
);
