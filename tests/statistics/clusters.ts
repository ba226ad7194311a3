import type { ClusteredFailures } from "../../src/statistics/beta-binomial-interval.ts";
import {
  type ClusteredSample,
  type ClusterSums,
  clusterSums,
} from "../../src/statistics/effective-sample.ts";

/** A cluster as its trials and its failures. */
export type Cluster = [size: number, failures: number];

/** Clusters of one size; those without a number have no failure. */
export function alike(clusters: number, size: number, failures: number[]): Cluster[] {
  return Array.from({ length: clusters }, (_, i) => [size, failures[i] ?? 0]);
}

export function failuresOf(clusters: Cluster[]): ClusteredFailures {
  const sums = sumsOf(clusters);
  const failures = clusters.reduce((total, [, failed]) => total + failed, 0);
  const n = clusters.reduce((total, [size]) => total + size, 0);
  const pairs = (sums.failureSquares - failures) / 2;
  const { sizes, failing } = sums.layout();
  return { n, failures, sizes, pairs, failing };
}

/** A sample of these clusters, crossed with a clustering in which every trial stands alone. */
export function sampleOf(clusters: Cluster[]): ClusteredSample {
  const { n, failures } = failuresOf(clusters);
  const alone: Cluster[] = Array.from({ length: n }, (_, i) => [1, i < failures ? 1 : 0]);
  return { n, k: n - failures, clusterings: [sumsOf(clusters), sumsOf(alone)] };
}

/** Sums with their layout worked out, to be compared. */
export function laidOut({ layout, ...sums }: ClusterSums) {
  return { ...sums, ...layout() };
}

export function sumsOf(clusters: Cluster[]): ClusterSums {
  return clusterSums(clusters.map(([n, failures]) => ({ n, failures })));
}
