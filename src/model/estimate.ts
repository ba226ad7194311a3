import type { IntervalName } from "./facility.ts";

/**
 * A figure with its uncertainty. For rates `value`, `lower` and `upper` are fractions and `k` of `n` is the count; for
 * RSSI they are dBm, `n` counts presentations and `k` those read. Counts are of valid passes only.
 */
export interface Estimate {
  /** Null where n is 0, or where the quantile falls on a missed presentation. */
  value: number | null;
  k: number;
  n: number;
  /** Null where n is 0 or where the bound does not exist. */
  lower: number | null;
  upper: number | null;
  confidence: number;
  method: IntervalName | "order-statistic" | "poisson";
  /** How many independent presentations (or passes) the n are worth; null where n is 0. */
  effectiveN: number | null;
  /** n / effectiveN. */
  designEffect: number | null;
  /** Only for RSSI: which of the three figures are null because they fall on a missed presentation. */
  onMiss?: { value: boolean; lower: boolean; upper: boolean };
}
