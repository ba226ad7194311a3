import type { Basis, Decision, Limit } from "../../intervals/interval.ts";
import type { Estimate } from "../../model/estimate.ts";
import type { ToSettle } from "../../model/result/finding.ts";
import type { Remark } from "../../model/result/remark.ts";

/**
 * What a measure found in a selection of the log, and what can be made of it. A file a kind of evidence (rates,
 * levels, events, margins); a measure makes one, and nobody asks which.
 */
export interface Evidence {
  /** Passes counted. */
  readonly passes: number;
  readonly remarks: Remark[];
  /** Those that depend on the basis or the limit; to be asked only where something was counted. */
  remarksAt?(basis: Basis, limit: Limit): Remark[];
  /** Whether its figure is made of the passes themselves, so that it holds only for passes and tags like those counted. */
  readonly isOfPasses: boolean;
  /** Whether it is a rate, so that the interval of the facility makes it. */
  readonly isRate: boolean;
  /** Different tags counted; null where a log does not name them, or none are counted. */
  tags(): number | null;
  /** What each pass came to, by its number; null where passes have no faults of their own. */
  readonly byPass: ReadonlyMap<number, PassCounts> | null;
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
  /** What keeps the figure from being met, however good it is; null where nothing does. */
  bar(limit: Limit, basis: Basis): Bar | null;
  /** What it takes where it is untested and not by passes that are short: so many that the criterion still lacks. */
  whenUntested?(short: number): ToSettle;
}

/** What one pass came to. */
export interface PassCounts {
  n: number;
  failures: number;
}

/** What keeps a figure from being met: said, and what it takes. */
export interface Bar {
  remark: Remark;
  takes: { furtherPasses: number } | { furtherMinutes: number };
  /** The same in the unit of n. */
  further: number;
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
