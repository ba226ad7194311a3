import { type ClusterSizes, chanceOfAtMost, type TotalChance } from "./cluster-total.ts";

/** How the misses of a walk lie in one dimension: in its passes, or on its tags. */
export interface MissLayout {
  /** Presentations, and how many of them were missed. */
  n: number;
  misses: number;
  sizes: ClusterSizes;
  /** Pairs of misses that share a cluster. */
  pairs: number;
}

/** Correlations that are tried, evenly spread. */
const correlationsTried = 16;
/** The largest of them over sqrt(miss rate times read rate), unless the log itself shows more. */
const widest = 1.5;
/** What a pair of misses counts for, since the pairs of one cluster are not independent of each other. */
const pairWeight = 0.25;
const largestCorrelation = 0.95;

interface Weighed {
  correlation: number;
  weight: number;
}

/**
 * The correlations that misses of one cluster may have if the true miss rate is `missRate`, with their weights, which
 * sum to 1.
 *
 * Tried are 16 evenly spread ones from 0 up to 1.5 sqrt(missRate (1 - missRate)), or up to the one that the log itself
 * shows where that is larger, none of them below `floor` (0 to below 1). A scatter of two units on the logit scale
 * between clusters gives a correlation of about sqrt(missRate), so the spread holds far more scatter than is common.
 * Each is weighed with how well it explains the share of the pairs of misses that lie in one cluster, out of all pairs
 * of misses: a correlation r makes a pair of presentations of one cluster 1 + r (1 - missRate)/missRate times as likely
 * to be missed together as two of different ones. Without two misses nothing is known and all weigh alike, so that
 * a first miss never helps.
 *
 * The weights are a composite likelihood of pairs (C. Varin, N. Reid and D. Firth, 2011, Statistica Sinica 21, 5-42,
 * from memory), raised to a quarter. The numbers 1.5 and one quarter are our choice, made by simulation.
 * Example: 20 passes of 40, 3 misses in 3 passes, floor 0.02, miss rate 0.03: from 0.02 to 0.248, mean 0.1235 (computed).
 */
export function weighedCorrelations(layout: MissLayout, missRate: number, floor: number): Weighed[] {
  const { n, misses, pairs } = layout;
  const together = layout.sizes.reduce(
    (sum, [size, clusters]) => sum + (clusters * size * (size - 1)) / 2,
    0,
  );
  const apart = (n * (n - 1)) / 2 - together;
  const otherPairs = (misses * (misses - 1)) / 2 - pairs;
  const share = misses / n;
  const shown =
    together === 0 || misses === 0 || misses === n
      ? 0
      : (pairs / together - share * share) / (share * (1 - share));
  const top = Math.min(largestCorrelation, Math.max(widest * Math.sqrt(missRate * (1 - missRate)), shown));
  const tried: { correlation: number; log: number; times: number }[] = [];
  for (let i = 0; i < correlationsTried; i += 1) {
    const correlation = Math.max(floor, (top * (i + 0.5)) / correlationsTried);
    const last = tried.at(-1);
    if (last?.correlation === correlation) {
      last.times += 1;
      continue;
    }
    const likelier = together * (1 + (correlation * (1 - missRate)) / missRate);
    const inOne = pairs > 0 ? pairs * Math.log(likelier / (likelier + apart)) : 0;
    const inTwo = otherPairs > 0 && apart > 0 ? otherPairs * Math.log(apart / (likelier + apart)) : 0;
    tried.push({ correlation, log: pairWeight * (inOne + inTwo), times: 1 });
  }
  const highest = Math.max(...tried.map(({ log }) => log));
  const weights = tried.map(({ log, times }) => times * Math.exp(log - highest));
  const all = weights.reduce((sum, weight) => sum + weight, 0);
  return tried.map(({ correlation }, i) => ({ correlation, weight: weights[i]! / all }));
}

/** Correlations that weigh less than this are passed over: the chance moves by less than it. */
const negligible = 1e-9;

/**
 * How likely so few misses are, or fewer, if the true miss rate is `missRate` (strictly between 0 and 1): the mean
 * over the correlations that are possible. `floor` as in `weighedCorrelations`.
 * Example: 20 passes of 40, nothing missed, miss rate 0.01, floor 0.02: 0.0315 (computed).
 */
export function chanceOfSoFew(
  layout: MissLayout,
  missRate: number,
  floor: number,
  chanceOf: TotalChance = chanceOfAtMost,
): number {
  return meanChance(layout, missRate, floor, (correlation) =>
    chanceOf(layout.misses, layout.sizes, missRate, correlation),
  );
}

/** How likely so many misses are, or more: what `chanceOfSoFew` is to the other side. */
export function chanceOfSoMany(
  layout: MissLayout,
  missRate: number,
  floor: number,
  chanceOf: TotalChance = chanceOfAtMost,
): number {
  return meanChance(
    layout,
    missRate,
    floor,
    (correlation) => 1 - chanceOf(layout.misses - 1, layout.sizes, missRate, correlation),
  );
}

function meanChance(
  layout: MissLayout,
  missRate: number,
  floor: number,
  chanceAt: (correlation: number) => number,
): number {
  let mean = 0;
  for (const { correlation, weight } of weighedCorrelations(layout, missRate, floor)) {
    if (weight >= negligible) mean += weight * chanceAt(correlation);
  }
  return mean;
}

/**
 * The highest and the lowest miss rate that a layout of misses is compatible with: each is the rate at which a result as
 * far out as the observed one would still happen with a chance of alpha/2. `confidence` is two-sided, 0..1.
 *
 * Without a miss the lowest is exactly 0, with nothing read the highest is exactly 1. It is the exact interval of Clopper
 * and Pearson with the beta-binomial distribution of the clusters in the place of the binomial one; with clusters of
 * one presentation the two are the same. Where more was missed than read the reads are taken for the misses and the
 * result is turned round, so the rule is its own mirror.
 *
 * Example: 20 passes of 40 with nothing missed, floor 0.02, 95 %: 0 to 0.01104 (computed).
 */
export function missRateBounds(
  layout: MissLayout,
  floor: number,
  confidence: number,
): { lower: number; upper: number } {
  const half = (1 - confidence) / 2;
  const { n, misses } = layout;
  const share = misses / n;
  const tooFew = (rate: number) => chanceOfSoFew(layout, rate, floor) - half;
  const tooMany = (rate: number) => half - chanceOfSoMany(layout, rate, floor);
  return {
    lower: misses === 0 ? 0 : crossing(tooMany, 0, share),
    upper: misses === n ? 1 : crossing(tooFew, share, 1),
  };
}

/** A chance is known to about so much. */
const closeEnough = 1e-13;

/** Where a function that falls from above nought to below it crosses it, between the two ends. */
function crossing(height: (x: number) => number, from: number, to: number): number {
  let low = from;
  let high = to;
  let above: number | null = null;
  let below: number | null = null;
  let kept: "low" | "high" | null = null;
  for (let step = 0; step < 200 && high - low > 1e-13 * high; step += 1) {
    const straight: number =
      above === null || below === null ? (low + high) / 2 : (low * below - high * above) / (below - above);
    const next = straight > low && straight < high ? straight : (low + high) / 2;
    const found = height(next);
    if (Math.abs(found) < closeEnough) return next;
    if (found > 0) {
      low = next;
      above = found;
      if (kept === "low" && below !== null) below /= 2;
      kept = "low";
    } else {
      high = next;
      below = found;
      if (kept === "high" && above !== null) above /= 2;
      kept = "high";
    }
  }
  return (low + high) / 2;
}
