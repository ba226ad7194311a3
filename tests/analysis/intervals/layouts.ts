import type { MissLayout } from "../../../src/statistics/beta-binomial-interval.ts";
import type { ClusterSums } from "../../../src/statistics/cluster-sums.ts";
import { clusterSums } from "../../../src/statistics/cluster-sums.ts";
import type { ClusteredCounts } from "../../../src/statistics/effective-sample.ts";

/** A cluster as its presentations and its misses. */
export type Cluster = [size: number, misses: number];

/** Clusters of one size; those without a number miss nothing. */
export function alike(clusters: number, size: number, misses: number[]): Cluster[] {
  return Array.from({ length: clusters }, (_, i) => [size, misses[i] ?? 0]);
}

export function layoutOf(clusters: Cluster[]): MissLayout {
  const sums = sumsOf(clusters);
  const misses = clusters.reduce((total, [, missed]) => total + missed, 0);
  const n = clusters.reduce((total, [size]) => total + size, 0);
  return { n, misses, sizes: sums.sizes, pairs: (sums.missSquares - misses) / 2 };
}

/** A walk whose passes are the clusters; every tag is presented once. */
export function oncePresented(clusters: Cluster[]): ClusteredCounts {
  const { n, misses } = layoutOf(clusters);
  const tags: Cluster[] = Array.from({ length: n }, (_, tag) => [1, tag < misses ? 1 : 0]);
  return { n, k: n - misses, byPass: sumsOf(clusters), byTag: sumsOf(tags) };
}

export function sumsOf(clusters: Cluster[]): ClusterSums {
  return clusterSums(clusters.map(([n, misses]) => ({ n, misses })));
}
