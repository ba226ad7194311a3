import { clopperPearsonBounds } from "../statistics/clopper-pearson.ts";
import { type ClusteredSample, effectiveSampleSize } from "../statistics/effective-sample.ts";
import { firstThatHolds } from "../statistics/first.ts";
import type { Bounds } from "../statistics/wilson.ts";
import { fails, type Interval, isOnWrongSide, keeps, type Limit, mostFurther } from "./interval.ts";

/** Bounds on a proportion `p` of `n` independent trials. */
type IndependentBounds = (p: number, n: number, confidence: number) => Bounds;

/**
 * An interval for independent trials, made on the effective sample (`effectiveSampleSize`, at the assumed correlation).
 *
 * Met where the interval lies on the good side of the limit. Not met where it lies wholly on the wrong side and the
 * Clopper-Pearson interval of the same effective sample does too; undecided otherwise. The second condition is there
 * because a single miss in a short walk happens to a good read point: 16 of 17 has a Wilson upper bound of 0.9896, below
 * 0.99, and a Clopper-Pearson one of 0.9985 (computed).
 * Example: 588 of 600 with nothing clustered, Wilson at 95 %: 0.9654 to 0.9885 (computed).
 */
export function onEffectiveSample(
  boundsOf: IndependentBounds,
): Pick<Interval, "bounds" | "decide" | "further"> {
  return {
    bounds: (sample, { missCorrelation, confidence }) => {
      const effectiveN = effectiveSampleSize(sample, missCorrelation, confidence);
      return { ...boundsOf(sample.k / sample.n, effectiveN, confidence), effectiveN };
    },
    decide: (sample, limit, { missCorrelation, confidence }) => {
      const p = sample.k / sample.n;
      const effectiveN = effectiveSampleSize(sample, missCorrelation, confidence);
      const bounds = boundsOf(p, effectiveN, confidence);
      if (keeps(bounds, limit)) return "met";
      if (!fails(bounds, limit)) return "undecided";
      return fails(clopperPearsonBounds(p, effectiveN, confidence), limit) ? "not-met" : "undecided";
    },
    further: (sample, limit, { missCorrelation, confidence }) => {
      const effectiveN = effectiveSampleSize(sample, missCorrelation, confidence);
      return furtherAtDesignEffect(sample, limit, {
        designEffect: sample.n / effectiveN,
        boundsOf: (p, n) => boundsOf(p, n, confidence),
      });
    },
  };
}

/**
 * How many further trials without a fault bring the interval to the limit, if the design effect stays what it is.
 * Example: 239 of 240 with nothing clustered, at least 0.99, Wilson at 95 %: 323 further ones (computed).
 */
export function furtherAtDesignEffect(
  sample: ClusteredSample,
  limit: Limit,
  { designEffect, boundsOf }: { designEffect: number; boundsOf: (p: number, n: number) => Bounds },
): number | null {
  if (isOnWrongSide(sample, limit)) return null;
  const { n, k } = sample;
  const reaches = (further: number) => {
    const total = n + further;
    const successes = limit.sense === "at-least" ? k + further : k;
    return keeps(boundsOf(successes / total, total / designEffect), limit);
  };
  return firstThatHolds(reaches, { from: 1, most: mostFurther });
}
