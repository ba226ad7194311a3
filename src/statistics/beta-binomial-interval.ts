import { betaBinomialSumCdf, type ClusterSizes } from "./beta-binomial.ts";
import { type ClusterCounts, fewerFailures } from "./effective-sample.ts";
import { findRoot } from "./numerics/root.ts";
import type { Bounds } from "./wilson.ts";

/** Failures among clustered trials: all that the interval looks at. */
export interface ClusteredFailures {
  /** Trials, and how many of them failed. */
  n: number;
  failures: number;
  sizes: ClusterSizes;
  /** Pairs of failures that share a cluster. */
  pairs: number;
  /** Clusters by how many of their trials failed. */
  failing: ClusterCounts;
}

/** A correlation within clusters, and how much it counts. */
interface WeightedCorrelation {
  correlation: number;
  weight: number;
}

/** Correlations that are tried, evenly spread. */
const correlationsTried = 16;
/** The largest of them over sqrt(probability (1 - probability)), unless the sample itself shows more. */
const widest = 1.5;
/** The power of the composite likelihood: the pairs of one cluster are not independent of each other. */
const pairWeight = 0.25;
const largestCorrelation = 0.95;

/**
 * How plausible each correlation within clusters is after the sample, if the probability of a failure is `probability`
 * (strictly between 0 and 1). The weights sum to 1.
 *
 * The prior is uniform on 16 evenly spread correlations from 0 up to 1.5 sqrt(probability (1 - probability)), or up to
 * the one that the sample itself shows where that is larger, none of them below `floor` (0 to below 1). Cluster
 * probabilities that scatter by two units on the logit scale have a correlation of about sqrt(probability), so the
 * spread holds far more scatter than is common. The likelihood is that of the share of the pairs of failures that lie
 * in one cluster, out of all pairs of failures: a correlation rho makes two trials of one cluster
 * 1 + rho (1 - probability)/probability times as likely to fail together as two of different clusters. With fewer than
 * two failures there is no pair, and the posterior is the prior.
 *
 * Source: a composite likelihood of pairs, C. Varin, N. Reid and D. Firth (2011), Statistica Sinica 21, 5-42, from
 * memory, raised to the power 1/4. The numbers 16, 1.5 and 1/4 are our choice, made by simulation.
 * Example: 20 clusters of 40, 3 failures in 3 clusters, floor 0.02, probability 0.03: from 0.02 to 0.248, mean 0.1235
 * (computed).
 */
export function correlationPosterior(
  sample: ClusteredFailures,
  probability: number,
  floor: number,
): WeightedCorrelation[] {
  const { n, failures, pairs } = sample;
  const pairsWithin = sample.sizes.reduce(
    (sum, [size, clusters]) => sum + (clusters * size * (size - 1)) / 2,
    0,
  );
  const pairsBetween = (n * (n - 1)) / 2 - pairsWithin;
  const otherPairs = (failures * (failures - 1)) / 2 - pairs;
  const share = failures / n;
  const observed =
    pairsWithin === 0 || failures === 0 || failures === n
      ? 0
      : (pairs / pairsWithin - share * share) / (share * (1 - share));
  const top = Math.min(
    largestCorrelation,
    Math.max(widest * Math.sqrt(probability * (1 - probability)), observed),
  );
  const tried: { correlation: number; logLikelihood: number; times: number }[] = [];
  for (let i = 0; i < correlationsTried; i += 1) {
    const correlation = Math.max(floor, (top * (i + 0.5)) / correlationsTried);
    const last = tried.at(-1);
    if (last?.correlation === correlation) {
      last.times += 1;
      continue;
    }
    const within = pairsWithin * (1 + (correlation * (1 - probability)) / probability);
    const inOne = pairs > 0 ? pairs * Math.log(within / (within + pairsBetween)) : 0;
    const inTwo =
      otherPairs > 0 && pairsBetween > 0 ? otherPairs * Math.log(pairsBetween / (within + pairsBetween)) : 0;
    tried.push({ correlation, logLikelihood: pairWeight * (inOne + inTwo), times: 1 });
  }
  const highest = Math.max(...tried.map(({ logLikelihood }) => logLikelihood));
  const weights = tried.map(({ logLikelihood, times }) => times * Math.exp(logLikelihood - highest));
  const all = weights.reduce((sum, weight) => sum + weight, 0);
  return tried.map(({ correlation }, i) => ({ correlation, weight: weights[i]! / all }));
}

/**
 * The chance of as few failures as the sample has, or fewer, if the probability of a failure is `probability` (strictly
 * between 0 and 1): `betaBinomialSumCdf` averaged over the `correlationPosterior` with the same `floor`.
 * Example: 20 clusters of 40, no failure, probability 0.01, floor 0.02: 0.0315 (computed).
 */
export function lowerTail(sample: ClusteredFailures, probability: number, floor: number): number {
  return posteriorMean(correlationPosterior(sample, probability, floor), asFew(sample, probability));
}

/** The chance of as few failures as the sample has, or fewer, at each correlation. */
function asFew({ failures, sizes }: ClusteredFailures, probability: number): ChanceAt {
  return (correlation) => betaBinomialSumCdf(failures, { sizes, probability, correlation });
}

/**
 * The chance of as many failures as the sample has, or more: the mirror of `lowerTail`, exactly 1 without a failure.
 * Example: 20 clusters of 40, 3 failures in 3 clusters, probability 0.001, floor 0.02: 0.09295 (computed).
 */
export function upperTail(sample: ClusteredFailures, probability: number, floor: number): number {
  return posteriorMean(correlationPosterior(sample, probability, floor), asMany(sample, probability));
}

function asMany({ failures, sizes }: ClusteredFailures, probability: number): ChanceAt {
  return (correlation) => 1 - betaBinomialSumCdf(failures - 1, { sizes, probability, correlation });
}

/** Whether `upperTail` is at most a level: what lies far above it is not worked out to the end. */
export function isUpperTailAtMost(
  level: number,
  sample: ClusteredFailures,
  { probability, floor }: { probability: number; floor: number },
): boolean {
  const posterior = correlationPosterior(sample, probability, floor);
  return posteriorMean(posterior, asMany(sample, probability), level) <= level;
}

/**
 * Whether `lowerTail` is at most a level, and stays so where any of the failures are taken as successes.
 *
 * A failure that lies apart from the others shows that failures cluster less, which makes every correlation smaller: it
 * can make a sample with one failure more look the better one. Here it cannot, since the sample without it is among those
 * looked at (`fewerFailures`).
 * Example: 8 clusters of 100, probability 0.05, floor 0.02: with 2, 1, 1, 1, 1, 1 and 1 failures the tail is at most
 * 0.025, but not with one single failure less, so it is not in either (computed).
 */
export function isLowerTailAtMost(
  level: number,
  sample: ClusteredFailures,
  { probability, floor }: { probability: number; floor: number },
): boolean {
  return samplesWithFewer(sample).every((fewer) => {
    const posterior = correlationPosterior(fewer, probability, floor);
    return posteriorMean(posterior, asFew(fewer, probability), level) <= level;
  });
}

/** The samples in which some of the failures are taken as successes; the sample itself comes first. */
function samplesWithFewer(sample: ClusteredFailures): ClusteredFailures[] {
  const { failures, pairs, failing } = sample;
  const all = { failures, squares: failures + 2 * pairs };
  return fewerFailures(all, failing).map((fewer) => ({
    ...sample,
    failures: fewer.failures,
    pairs: (fewer.squares - fewer.failures) / 2,
  }));
}

/** Correlations that weigh less than this are passed over: the mean moves by less than it. */
const negligible = 1e-9;

type ChanceAt = (correlation: number) => number;

/** A mean beyond `enough` is not worked out to its end, since it can only grow. */
function posteriorMean(
  posterior: WeightedCorrelation[],
  chanceAt: ChanceAt,
  enough = Number.POSITIVE_INFINITY,
): number {
  let mean = 0;
  for (const { correlation, weight } of posterior) {
    if (weight >= negligible) mean += weight * chanceAt(correlation);
    if (mean > enough) break;
  }
  return mean;
}

/**
 * The interval for the probability of a failure when failures of one cluster may be correlated: each end is the
 * probability at which a result as extreme as the observed one, or more extreme, has a chance of alpha/2.
 *
 * `floor` (0 to below 1) is the smallest correlation considered; `confidence` is two-sided, 0..1. Without a failure the
 * lower end is exactly 0, with nothing but failures the upper end is exactly 1. It is the interval of Clopper and
 * Pearson with `lowerTail` and `upperTail` in the place of the binomial tails; with clusters of one trial the two are
 * the same. The upper end is the largest with any of the failures taken as successes (`fewerFailures`), so that one failure
 * more never lowers it. Give it successes in the place of failures where those are fewer, and turn the result round.
 *
 * Example: 20 clusters of 40, no failure, floor 0.02, 95 %: 0 to 0.01104 (computed).
 */
export function betaBinomialBounds(sample: ClusteredFailures, floor: number, confidence: number): Bounds {
  const half = (1 - confidence) / 2;
  const { n, failures } = sample;
  const share = failures / n;
  const tooMany = (probability: number) => half - upperTail(sample, probability, floor);
  return {
    lower: failures === 0 ? 0 : findRoot(tooMany, { low: 0, high: share }),
    upper: failures === n ? 1 : upperEnd(sample, floor, half),
  };
}

/** The largest end of the samples without some of the failures: from the end of one on to any that lies beyond it. */
function upperEnd(sample: ClusteredFailures, floor: number, level: number): number {
  const endFrom = (fewer: ClusteredFailures, low: number) =>
    findRoot((probability) => lowerTail(fewer, probability, floor) - level, { low, high: 1 });
  let end = endFrom(sample, sample.failures / sample.n);
  const others = samplesWithFewer(sample).slice(1);
  for (;;) {
    const tails = others.map((fewer) => lowerTail(fewer, end, floor));
    const largest = Math.max(...tails);
    if (!(largest > level + 1e-12)) return end;
    end = endFrom(others[tails.indexOf(largest)]!, end);
  }
}
