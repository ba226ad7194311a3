import type { Basis, Decision, Limit } from "../../intervals/interval.ts";
import type { Estimate } from "../../model/estimate.ts";
import type { Remark } from "../../model/result.ts";

/**
 * What a measure found in a selection of the log, and what can be made of it. A file a kind of evidence (rates,
 * levels, events); a measure makes one, and nobody asks which.
 */
export interface Evidence {
  /** Passes counted. */
  readonly passes: number;
  readonly remarks: Remark[];
  /** Whether nothing was counted, so that there is no figure. */
  readonly isEmpty: boolean;
  /** Whether the assumed correlation of misses has a part in it. */
  readonly assumesCorrelation: boolean;
  /** The figure with its interval; without value and bounds where nothing was counted. */
  estimate(basis: Basis): Estimate;
  /** What it shows of a limit, compared unrounded; to be asked only where something was counted. */
  decide(limit: Limit, basis: Basis): Decision;
  /**
   * The smallest number of further presentations, passes or minutes, all without a fault, for which the longer walk, laid out
   * as it was so far, is met; null beyond ten million. To be asked of an undecided figure.
   */
  further(limit: Limit, basis: Basis): number | null;
  /**
   * How likely a walk laid out like this one shows as many faults or more if the true figure is the limit; null where the
   * value is on the good side of the limit. To be asked of an undecided figure.
   */
  chanceAtLimit(limit: Limit, basis: Basis): number | null;
}

/** The bounds of a figure of which nothing was counted. */
export const noBounds = { lower: null, upper: null, effectiveN: null, designEffect: null };

/** What bounds show of a limit. A bound that does not exist (null) satisfies nothing. */
export function decideByBounds(
  { lower, upper }: { lower: number | null; upper: number | null },
  { sense, limit }: Limit,
): Decision {
  const [near, far] = sense === "at-least" ? [lower, upper] : [upper, lower];
  const above = (bound: number) => (sense === "at-least" ? bound >= limit : bound <= limit);
  if (near !== null && above(near)) return "met";
  return far !== null && !above(far) ? "not-met" : "undecided";
}
