/** A figure with its uncertainty. Counts are of valid passes only. */
interface Figure {
  /** Null where n is 0. */
  value: number | null;
  k: number;
  n: number;
  /** Null where n is 0. */
  lower: number | null;
  upper: number | null;
  /** Two-sided. */
  confidence: number;
  /** How many independent presentations (or passes, or minutes) the n are worth; null where n is 0. */
  effectiveN: number | null;
  /** n / effectiveN. */
  designEffect: number | null;
}

/** k of n: `value`, `lower` and `upper` are fractions. */
export interface RateEstimate extends Figure {
  kind: "rate";
  /** The id of the interval. */
  method: string;
}

/**
 * A quantile of the signal strength, in dBm; n counts presentations and k those read. A figure may also be null where it
 * falls on a missed presentation, which ranks below all that were read, and a bound where there is none.
 */
export interface LevelEstimate extends Figure {
  kind: "level";
  method: "order-statistic";
  /** Which of the figures fall on a missed presentation; left out where n is 0. */
  onMiss?: { value: boolean; lower: boolean; upper: boolean };
}

/** Events in a stretch of time: `value`, `lower` and `upper` are events a minute, k counts events and n minutes. */
export interface EventEstimate extends Figure {
  kind: "events";
  method: "poisson";
}

/**
 * How far the transmit power in use lies above the power that a share needs, in dB; n counts tags presented at all powers and k
 * those read. Without a curve there is no value, and without limits no bounds.
 */
export interface MarginEstimate extends Figure {
  kind: "margin";
  method: "fieller";
}

export type Estimate = RateEstimate | LevelEstimate | EventEstimate | MarginEstimate;

const nowhere = { value: false, lower: false, upper: false };

/** Which figures of an estimate are null because they fall on a missed presentation; of levels only. */
export function onMissOf(estimate: Estimate): { value: boolean; lower: boolean; upper: boolean } {
  return (estimate.kind === "level" ? estimate.onMiss : undefined) ?? nowhere;
}
