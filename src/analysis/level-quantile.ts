import type { Estimate } from "../model/estimate.ts";
import { type CensoredFigure, type CensoredSample, quantileInterval } from "../statistics/order-statistic.ts";

/**
 * A quantile of the strongest RSSI over all presentations: those read in dBm, those missed below every one of them. A
 * figure that falls on a missed presentation is null and marked in `onMiss`; n = 0 gives no figure at all.
 */
export function levelQuantile(levels: CensoredSample, q: number, confidence: number): Estimate {
  const n = levels.censored + levels.values.length;
  const common = { k: levels.values.length, n, confidence, method: "order-statistic" as const };
  if (n === 0) {
    return { value: null, ...common, lower: null, upper: null, effectiveN: null, designEffect: null };
  }
  const { value, lower, upper } = quantileInterval(levels, q, confidence);
  const numberOf = (figure: CensoredFigure) => (figure === "censored" ? null : figure);
  return {
    value: numberOf(value),
    ...common,
    lower: numberOf(lower),
    upper: numberOf(upper),
    effectiveN: n,
    designEffect: 1,
    onMiss: { value: value === "censored", lower: lower === "censored", upper: upper === "censored" },
  };
}
