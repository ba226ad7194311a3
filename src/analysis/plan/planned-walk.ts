import { intervals } from "../../intervals/index.ts";
import type { Basis } from "../../intervals/interval.ts";
import type { Sense } from "../../model/facility.ts";
import type { State } from "../../model/state.ts";
import { betaBinomialPmf } from "../../statistics/beta-binomial.ts";
import type { ClusterCounts, ClusteredSample, ClusterSums } from "../../statistics/effective-sample.ts";

/** What a planned walk will be judged by. */
export interface PlannedWalk {
  /** Trials of one pass: its tags, or 1 where whole passes are counted. */
  trialsPerPass: number;
  /** Whether the trials of a pass are presentations, which lie in passes, or whole passes, which stand for themselves. */
  unit: "presentations" | "passes";
  /** Whether the same tags go through in every pass; else each is presented once. */
  sameTags: boolean;
  sense: Sense;
  /** A rate strictly between 0 and 1. */
  limit: number;
  minimumPasses: number;
  basis: Basis;
}

/** How a walk came out: all that the judging rule looks at where every pass is alike. */
export interface WalkedFaults {
  passes: number;
  /** Whole; at most passes times trials. A miss for `at-least`; for `at-most` what is counted: a stray, a bystander read. */
  faults: number;
  /** Pairs of faults that share a pass. */
  pairs: number;
}

/**
 * What a planned walk would show, judged by the very rule that judges a walked log. Where the same tags go through in every
 * pass, how the faults lie on the tags is not told by their number and pairs: they are taken to lie as they would on
 * average, if every set of tags of a pass were equally likely to be hit.
 * Example: 25 passes of 40 tags with nothing missed, at least 0.99 at 95 %, Wilson, correlation 0.02: met (561.8
 * independent presentations).
 */
export function plannedState(walk: PlannedWalk, walked: WalkedFaults): State {
  if (walked.passes < walk.minimumPasses) return "untested";
  return intervals.get(walk.basis.interval).decide(plannedSample(walk, walked), walk, walk.basis);
}

/** What a planned walk would count, as the rules take it. */
export function plannedSample(
  { trialsPerPass: trials, sense, unit, sameTags }: PlannedWalk,
  { passes, faults, pairs }: WalkedFaults,
): ClusteredSample {
  const n = passes * trials;
  const k = sense === "at-least" ? n - faults : faults;
  const squares = faults + 2 * pairs;
  const byPass = () => sumsOf({ clusters: passes, size: trials, faults, squares }, sense);
  const byTag = () =>
    sumsOf({ clusters: trials, size: passes, faults, squares: tagSquares(trials, faults, squares) }, sense);
  return { n, k, clusterings: unit === "passes" ? [] : sameTags ? [byPass(), byTag()] : [byPass()] };
}

/** The sums over clusters of one size; for `at-most` a fault is a success, and what is no fault a failure. */
function sumsOf(
  { clusters, size, faults, squares }: { clusters: number; size: number; faults: number; squares: number },
  sense: Sense,
): ClusterSums {
  const n = clusters * size;
  const failures = sense === "at-least" ? faults : n - faults;
  return {
    clusters,
    largest: size,
    sizeSquares: n * size,
    failuresTimesSize: failures * size,
    failureSquares: sense === "at-least" ? squares : n * size - 2 * size * faults + squares,
    layout: () => {
      const counts = worstCounts(faults, squares);
      const [failing, succeeding] = sense === "at-least" ? [counts, []] : [[], counts];
      return { sizes: [[size, clusters]], failing, succeeding };
    },
  };
}

/**
 * Clusters by their faults, as the verdict is the worst for: all pairs in one cluster, and every other fault alone. A walk
 * whose pairs are spread is judged no worse.
 */
function worstCounts(faults: number, squares: number): ClusterCounts {
  const pairs = (squares - faults) / 2;
  const together = pairs === 0 ? 0 : Math.min(faults, Math.ceil((1 + Math.sqrt(1 + 8 * pairs)) / 2));
  const counts: ClusterCounts = [
    [1, faults - together],
    [together, 1],
  ];
  return counts.filter(([each, clusters]) => each > 0 && clusters > 0);
}

/** Faults of two different passes meet on the same tag once in `tags` times. */
function tagSquares(tags: number, faults: number, squares: number): number {
  return Math.min(faults + Math.round((faults * faults - squares) / tags), faults * faults);
}

/** The fewest pairs that share a pass: faults spread as evenly as they can be. */
export function fewestPairs(passes: number, faults: number): number {
  const each = Math.floor(faults / passes);
  return (passes * each * (each - 1)) / 2 + (faults - passes * each) * each;
}

/** The most: all faults in one pass, were it large enough. */
export function mostPairs(faults: number): number {
  return (faults * (faults - 1)) / 2;
}

/** The chance of each number of faults in one pass, if the long-run share of faults is `faultRate` (0..1). */
export function faultsOfOnePass(
  { trialsPerPass, unit, basis }: PlannedWalk,
  faultRate: number,
): Float64Array {
  return betaBinomialPmf(trialsPerPass, faultRate, unit === "passes" ? 0 : basis.missCorrelation);
}
