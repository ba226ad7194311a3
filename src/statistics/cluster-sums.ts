import type { ClusterSizes } from "./cluster-total.ts";

/**
 * What the design of a finding comes down to in one dimension (its passes, or its tags): how many clusters, how large,
 * and how the misses lie in them. Whole numbers only, so the order of the rows cannot change them.
 */
export interface ClusterSums {
  /** Clusters with at least one presentation. */
  clusters: number;
  /** Presentations in the largest one. */
  largest: number;
  /** Sum of n_g², of m_g n_g and of m_g² over the clusters, m_g being the misses of cluster g. */
  sizeSquares: number;
  missTimesSize: number;
  missSquares: number;
  /** How many clusters there are of each size, by rising size. */
  sizes: ClusterSizes;
}

/** Sums over clusters given as pairs of presentations and misses; clusters without presentations are passed over. */
export function clusterSums(clusters: Iterable<{ n: number; misses: number }>): ClusterSums {
  const sums = { clusters: 0, largest: 0, sizeSquares: 0, missTimesSize: 0, missSquares: 0 };
  const ofSize = new Map<number, number>();
  for (const { n, misses } of clusters) {
    if (n === 0) continue;
    sums.clusters += 1;
    sums.largest = Math.max(sums.largest, n);
    sums.sizeSquares += n * n;
    sums.missTimesSize += misses * n;
    sums.missSquares += misses * misses;
    ofSize.set(n, (ofSize.get(n) ?? 0) + 1);
  }
  return { ...sums, sizes: [...ofSize].sort(([a], [b]) => a - b) };
}

/**
 * The variance of an observed proportion when whole clusters, not single presentations, are what was drawn:
 * G/(G-1) times the sum of squared cluster residuals over n².
 *
 * `n` presentations with `misses` among them, G >= 2 clusters. The sum is worked out in whole numbers of any length,
 * so clusters that all miss alike give exactly 0.
 *
 * Source: the one-way cluster-robust variance of a mean, A. C. Cameron, J. B. Gelbach and D. L. Miller (2011), J. Bus.
 * Econ. Stat. 29, 238-249, with the G/(G-1) correction. Example: five passes of four tags, one pass missed whole:
 * 0.8 read, variance 0.04.
 */
export function clusterVariance(sums: ClusterSums, n: number, misses: number): number {
  const size = BigInt(n);
  const missed = BigInt(misses);
  const residuals =
    size * size * BigInt(sums.missSquares) -
    2n * size * missed * BigInt(sums.missTimesSize) +
    missed * missed * BigInt(sums.sizeSquares);
  return ((sums.clusters / (sums.clusters - 1)) * (Number(residuals) / (n * n))) / (n * n);
}
