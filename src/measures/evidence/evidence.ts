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
   * How many further presentations, passes or minutes, all without a fault, bring an undecided figure to its limit; null
   * where the value is on the wrong side of the limit or on it, or where no walk is long enough.
   */
  further(limit: Limit, basis: Basis): number | null;
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
