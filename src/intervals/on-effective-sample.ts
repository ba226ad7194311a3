import { type ClusteredSample, effectiveSampleSize } from "../statistics/effective-sample.ts";
import type { Bounds } from "../statistics/wilson.ts";
import { type Decision, exactDecision, fails, type Interval, keeps, type Limit } from "./interval.ts";

/** Bounds on a proportion `p` of `n` independent trials. */
type IndependentBounds = (p: number, n: number, confidence: number) => Bounds;

/** What such bounds show of a limit. */
type IndependentDecision = (p: number, n: number, limit: Limit & { confidence: number }) => Decision;

/** What is neither 0 nor 1 comes no nearer to them, so that 1 less it is not 1. */
const nearest = Number.EPSILON / 2;

/** Bounds that are exactly 0 or 1 only where nothing or everything succeeded, however little the sample is worth. */
function between({ lower, upper }: Bounds, { n, k }: ClusteredSample): Bounds {
  return {
    lower: k === 0 ? lower : Math.max(lower, nearest),
    upper: k === n ? upper : Math.min(upper, 1 - nearest),
  };
}

/**
 * An interval for independent trials, made on the effective sample (`effectiveSampleSize`, at the assumed correlation).
 * `decide` is for an interval that finds its decision without its bounds.
 */
export function onEffectiveSample(
  boundsOf: IndependentBounds,
  decide = decisionBy(boundsOf),
): Pick<Interval, "bounds" | "decide"> {
  return {
    bounds: (sample, { missCorrelation, confidence }) => {
      const effectiveN = effectiveSampleSize(sample, missCorrelation, confidence);
      return { ...between(boundsOf(sample.k / sample.n, effectiveN, confidence), sample), effectiveN };
    },
    decide: (sample, { sense, limit }, { missCorrelation, confidence }) => {
      const effectiveN = effectiveSampleSize(sample, missCorrelation, confidence);
      return decide(sample.k / sample.n, effectiveN, { sense, limit, confidence });
    },
  };
}

/**
 * Met where the interval lies on the good side of the limit. Not met where it lies wholly on the wrong side and the
 * Clopper-Pearson interval of the same effective sample does too; undecided otherwise. The second condition is there
 * because a single miss in a short walk happens to a good read point: 16 of 17 has a Wilson upper bound of 0.9896, below
 * 0.99, and a Clopper-Pearson one of 0.9985 (computed).
 * Example: 588 of 600 with nothing clustered, Wilson at 95 %: 0.9654 to 0.9885 (computed).
 */
function decisionBy(boundsOf: IndependentBounds): IndependentDecision {
  return (p, n, limit) => {
    const bounds = boundsOf(p, n, limit.confidence);
    if (keeps(bounds, limit)) return "met";
    return fails(bounds, limit) && exactDecision(p, n, limit) === "not-met" ? "not-met" : "undecided";
  };
}
