import tQuantile from "@stdlib/stats-base-dists-t-quantile";
import { type ClusterSums, clusterVariance } from "./cluster-sums.ts";

/** Presentations counted, and how they fall into passes and tags; a dimension that is not known is null. */
export interface ClusteredCounts {
  n: number;
  k: number;
  byPass: ClusterSums | null;
  byTag: ClusterSums | null;
}

/** A dimension counts where any of its clusters holds more than one presentation. */
export function countingDimensions(counts: ClusteredCounts): ClusterSums[] {
  return [counts.byPass, counts.byTag].filter(
    (sums): sums is ClusterSums => sums !== null && sums.largest > 1,
  );
}

/**
 * How many independent presentations the n of a finding are worth.
 *
 * Tags of one pass fail together and one weak tag fails again and again. The answer is the smallest of n itself; n over
 * the design effect that the assumed correlation `missCorrelation` (0..1) gives in each counting dimension; and, where
 * some were missed and some read and a counting dimension has two clusters or more, what the observed scatter gives.
 * With nothing clustered it is n. n = 0 gives 0.
 *
 * Assumed: n / (1 + (sum of n_g² / n - 1) rho). Observed: p(1-p)/V times (t[n-1] / t[df])², with V the largest of
 * p(1-p)/n, V_pass, V_tag and, where both count, V_pass + V_tag - V_cell; df is one less than the smallest number of
 * clusters among those dimensions; t are quantiles at 1 - (1 - confidence)/2.
 *
 * Sources: E. L. Korn and B. I. Graubard (1998), Survey Methodology 24, 193-201 (effective sample and its degrees of
 * freedom); A. C. Cameron, J. B. Gelbach and D. L. Miller (2011), J. Bus. Econ. Stat. 29, 238-249 (two-way variance).
 * Example: five passes of four tags, one pass missed whole, rho 0.02, 95 %: 1.73 (computed).
 */
export function effectiveSampleSize(
  counts: ClusteredCounts,
  missCorrelation: number,
  confidence: number,
): number {
  return effectiveSamples(counts, confidence)(missCorrelation);
}

/**
 * The same for many assumed correlations of one and the same counts: what the observed scatter gives is worked out once.
 * Example: 22 passes of 40 with nothing missed are 880 at 0, 494.4 at 0.02 and 179.6 at 0.1 (computed).
 */
export function effectiveSamples(
  counts: ClusteredCounts,
  confidence: number,
): (missCorrelation: number) => number {
  const { n, k } = counts;
  const counting = countingDimensions(counts);
  if (n === 0 || counting.length === 0) return () => n;
  const most = Math.min(n, observedSampleSize(n, k, counting, confidence));
  return (missCorrelation) =>
    counting.reduce(
      (least, sums) => Math.min(least, n / (1 + (sums.sizeSquares / n - 1) * missCorrelation)),
      most,
    );
}

function observedSampleSize(n: number, k: number, counting: ClusterSums[], confidence: number): number {
  const usable = counting.filter((sums) => sums.clusters > 1);
  if (k === 0 || k === n || usable.length === 0) return n;
  const misses = n - k;
  const spread = (k / n) * (misses / n);
  const oneWay = usable.map((sums) => clusterVariance(sums, n, misses));
  const variances = [spread / n, ...oneWay];
  if (oneWay.length === 2) {
    // A cell is one tag in one pass: one presentation, so V_cell is the variance without clusters, scaled by n/(n-1).
    variances.push(oneWay[0]! + oneWay[1]! - (spread / n) * (n / (n - 1)));
  }
  const variance = Math.max(...variances);
  const degreesOfFreedom = Math.min(...usable.map((sums) => sums.clusters)) - 1;
  const level = 1 - (1 - confidence) / 2;
  const ratio = rememberedT(level, n - 1) / rememberedT(level, degreesOfFreedom);
  return (spread / variance) * ratio * ratio;
}

/** A plan judges thousands of layouts of one size: their quantiles are the same two, and cost more than all the rest. */
const remembered = new Map<string, number>();
const mostRemembered = 1000;

function rememberedT(level: number, degreesOfFreedom: number): number {
  const key = `${level} ${degreesOfFreedom}`;
  let quantile = remembered.get(key);
  if (quantile === undefined) {
    quantile = tQuantile(level, degreesOfFreedom);
    if (remembered.size >= mostRemembered) remembered.clear();
    remembered.set(key, quantile);
  }
  return quantile;
}
