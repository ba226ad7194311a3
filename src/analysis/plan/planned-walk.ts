import { sequenceState } from "../../intervals/any-time-interval.ts";
import { clusteredState } from "../../intervals/clustered-interval.ts";
import type { Sense } from "../../model/facility.ts";
import type { State } from "../../model/state.ts";
import type { ClusteredSample, ClusterSums } from "../../statistics/effective-sample.ts";
import { type Basis, clusteredRate, plainRate } from "../estimate.ts";
import { rateState } from "../state.ts";

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

/**
 * What a walk of `passes` passes would show, had it `faults` faults in all of which `pairs` pairs share a pass.
 *
 * A fault is a miss for `at-least`; for `at-most` it is what is counted (a stray, a bystander read). Counts are whole,
 * faults at most passes times trials. It is judged by the very rule that judges a walked log. Where the same tags go
 * through in every pass, how the faults lie on the tags is not told by these two numbers: they are taken to lie as they
 * would on average, if every set of tags of a pass were equally likely to be hit.
 * Example: 25 passes of 40 tags with nothing missed, at least 0.99 at 95 %, Wilson, correlation 0.02: met (561.8
 * independent presentations).
 */
export function plannedState(walk: PlannedWalk, passes: number, faults: number, pairs: number): State {
  const { trialsPerPass: trials, sense, limit, unit, basis } = walk;
  if (passes < walk.minimumPasses) return "untested";
  const n = passes * trials;
  const k = sense === "at-least" ? n - faults : faults;
  if (unit === "passes") return rateState(plainRate(k, n, basis), sense, limit);
  const squares = faults + 2 * pairs;
  const counts: ClusteredSample = {
    n,
    k,
    clusterings: [
      sums(passes, trials, faults, squares, sense),
      ...(walk.sameTags ? [sums(trials, passes, faults, tagSquares(trials, faults, squares), sense)] : []),
    ],
  };
  if (basis.interval === "beta-binomial") return clusteredState(counts, sense, limit, basis);
  if (basis.interval === "any-time") return sequenceState(counts, sense, limit, basis);
  return rateState(clusteredRate(counts, basis), sense, limit);
}

/** The sums over clusters of one size; what does not count as read is what `ClusterSums` calls a miss. */
function sums(
  clusters: number,
  size: number,
  faults: number,
  faultSquares: number,
  sense: PlannedWalk["sense"],
): ClusterSums {
  const n = clusters * size;
  const misses = sense === "at-least" ? faults : n - faults;
  const missSquares = sense === "at-least" ? faultSquares : n * size - 2 * size * faults + faultSquares;
  return {
    clusters,
    largest: size,
    sizeSquares: n * size,
    failuresTimesSize: misses * size,
    failureSquares: missSquares,
    sizes: [[size, clusters]],
  };
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
