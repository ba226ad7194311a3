import type { Settings } from "../../intervals/interval.ts";
import { wilson } from "../../intervals/wilson.ts";
import type { RateEstimate } from "../../model/estimate.ts";
import type { Change, Comparison, PairTable } from "../../model/result/comparison.ts";
import { isSameMix, type Stratum, standardisedRate } from "../../statistics/direct-standardisation.ts";
import { effectiveClusterings, effectiveSampleSize } from "../../statistics/effective-sample.ts";
import { fisherP, mcnemarP } from "../../statistics/exact-tests.ts";
import {
  correctedPhi,
  differenceP,
  type Proportion,
  proportionDifference,
  type TwoProportions,
} from "../../statistics/two-proportions.ts";
import { wilsonBounds } from "../../statistics/wilson.ts";
import type { Counted } from "./walk.ts";

/** What one round gives to a comparison, as a whole and by combination of conditions, both rounds in the same order. */
export interface ComparedRound extends Counted {
  strata: Stratum[];
}

type RateDifference = Pick<
  Comparison,
  "design" | "standardised" | "difference" | "estimates" | "pairs" | "p" | "test"
>;

/**
 * The difference between two rounds over the same combinations of conditions, with its interval and p.
 *
 * Both sides have n > 0. The earlier one is weighted to the later one's mix. Each arm's limits are the score limits of
 * its effective sample, whatever interval the facility's findings use, because the
 * difference is made of those; weighting divides the earlier one's further.
 *
 * A round that happened to miss little shows little of how its misses cluster, and its limits would lie too near: equal
 * rounds would be called changed in up to 8.5 of 100 cases where passes differ by 1.5 units on the logit scale (simulated).
 * If nothing changed both are clustered alike, so each takes the larger of its own design effect and the geometric mean
 * of both, the latter no larger than its own clusters could show, were they read whole or missed whole. Where either round
 * has nothing clustered, each keeps its own. With design effects of 2 and 8 they become 4 and 8.
 * `pairs` is null where the design is independent. p is exact (McNemar for pairs,
 * Fisher else) where every presentation of both rounds stands for itself and nothing is weighted; else it is read from
 * the difference's own interval, which clustering has widened.
 */
export function differenceBetween(
  { before, after, pairs }: { before: ComparedRound; after: ComparedRound; pairs: PairTable | null },
  basis: Settings,
): RateDifference {
  const two = proportionsOf({ before: armOf(before, basis), after: armOf(after, basis), pairs });
  const { first: later, second: earlier } = two;
  const { confidence } = basis;
  const standardised = !isSameMix(before.strata, after.strata);
  const stand = [before, after].every(({ counts }) => effectiveClusterings(counts).length === 0);
  const test = !stand || standardised ? "difference" : pairs === null ? "fisher" : "mcnemar";
  const p = (): number => {
    if (test === "mcnemar") return mcnemarP(pairs!.readOnlyBefore, pairs!.readOnlyAfter);
    if (test === "fisher") return fisherP(before.counts, after.counts);
    return differenceP(two);
  };
  return {
    design: pairs === null ? "independent" : "paired",
    standardised,
    difference: { ...proportionDifference(two, confidence), confidence },
    estimates: {
      before: estimateOf(before, earlier, confidence),
      after: estimateOf(after, later, confidence),
    },
    pairs,
    p: p(),
    test,
  };
}

/** One round of a comparison, with what its clusters do to it. */
interface Arm extends Pick<ComparedRound, "strata"> {
  n: number;
  k: number;
  isClustered: boolean;
  designEffect: number;
  /** What the design effect would be if every cluster were read whole or missed whole. */
  allOrNothing: number;
}

/** A round of a comparison. n is to be above 0; the design effect is n over the effective sample size, at least 1. */
export function armOf({ counts, strata }: Pick<ComparedRound, "counts" | "strata">, basis: Settings): Arm {
  const { n, k } = counts;
  const clusterings = effectiveClusterings(counts);
  return {
    n,
    k,
    strata,
    isClustered: clusterings.length > 0,
    designEffect: n / effectiveSampleSize(counts, basis.missCorrelation, basis.confidence),
    allOrNothing: Math.max(1, ...clusterings.map(({ sizeSquares }) => sizeSquares / n)),
  };
}

/** The rates of two rounds and what they are worth, the later round standing first. */
export function proportionsOf({
  before,
  after,
  pairs,
}: {
  before: Arm;
  after: Arm;
  pairs: PairTable | null;
}): TwoProportions {
  const { value: earlierRate, weightingEffect } = standardisedRate(before.strata, after.strata);
  const [effectBefore, effectAfter] = sharedEffects(before, after);
  const earlier = { p: earlierRate, n: before.n / effectBefore / weightingEffect };
  const later = { p: after.k / after.n, n: after.n / effectAfter };
  const designEffect = Math.max(before.n / earlier.n, after.n / later.n);
  return { first: later, second: earlier, phi: pairs === null ? 0 : phiOf(pairs, designEffect) };
}

/** The correlation of the pairs, the later round standing first. */
function phiOf(pairs: PairTable, designEffect: number): number {
  const { readBoth: both, readOnlyAfter: onlyFirst, readOnlyBefore: onlySecond, missedBoth: neither } = pairs;
  return correctedPhi({ both, onlyFirst, onlySecond, neither }, designEffect);
}

/** The design effects that the two arms take. */
function sharedEffects(before: Arm, after: Arm): [number, number] {
  if (!before.isClustered || !after.isClustered) return [before.designEffect, after.designEffect];
  const both = Math.sqrt(before.designEffect * after.designEffect);
  return [
    Math.max(before.designEffect, Math.min(both, before.allOrNothing)),
    Math.max(after.designEffect, Math.min(both, after.allOrNothing)),
  ];
}

function estimateOf({ counts }: ComparedRound, { p, n }: Proportion, confidence: number): RateEstimate {
  return {
    kind: "rate",
    value: p,
    k: counts.k,
    n: counts.n,
    ...wilsonBounds(p, n, confidence),
    confidence,
    method: wilson.id,
    effectiveN: n,
    designEffect: counts.n / n,
  };
}

/**
 * What a difference amounts to.
 *
 * Better or worse where its interval excludes 0, however small it is; no change that matters where the interval lies
 * within plus and minus `smallestThatMatters` (0..1), ends included; else no change is shown, which is not the same:
 * there may be one that the walk was too short to show.
 * Example: 0.01 to 0.07 is better; -0.003 to 0.004 is no change that matters at 0.005; -0.01 to 0.02 shows none.
 */
export function changeOf(
  { lower, upper }: { lower: number; upper: number },
  smallestThatMatters: number,
): Exclude<Change, "not-comparable"> {
  if (lower > 0) return "better";
  if (upper < 0) return "worse";
  return lower >= -smallestThatMatters && upper <= smallestThatMatters
    ? "no-change-that-matters"
    : "no-change-shown";
}
