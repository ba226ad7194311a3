import binomialCdf from "@stdlib/stats-base-dists-binomial-cdf";
import type { LevelEstimate } from "../../model/estimate.ts";
import type { Remark } from "../../model/result/remark.ts";
import {
  type CensoredFigure,
  type CensoredSample,
  furtherAbove,
  furtherBelow,
  quantileInterval,
} from "../../statistics/order-statistic.ts";
import { decideByBounds, type Evidence, noBounds } from "./evidence.ts";
import { isOnWrongSide, mostFurther } from "./settling.ts";

/**
 * A quantile (strictly between 0 and 1) of the signal strength of presentations, in dBm: those read by their strongest read,
 * those missed below every one of them. Presentations are taken as independent. A bound that falls on a missed
 * presentation lies below every limit.
 */
export function levelEvidence({
  levels,
  quantile,
  tags = () => null,
  ...counted
}: {
  levels: CensoredSample;
  quantile: number;
  passes: number;
  remarks: Remark[];
  tags?: Evidence["tags"];
}): Evidence {
  const n = levels.censored + levels.values.length;
  const count = (isCounted: (level: number) => boolean) =>
    levels.censored + levels.values.filter(isCounted).length;
  return {
    ...counted,
    isOfPasses: true,
    isRate: false,
    tags,
    byPass: null,
    bar: () => null,
    isEmpty: n === 0,
    assumesCorrelation: false,
    estimate: ({ confidence }) => levelEstimate(levels, quantile, confidence),
    decide: (limit, { confidence }) => {
      const { lower, upper } = quantileInterval(levels, quantile, confidence);
      return decideByBounds({ lower: rankedLevel(lower), upper: rankedLevel(upper) }, limit);
    },
    further: ({ sense, limit }, { confidence }) => {
      const sample = { n, q: quantile, confidence };
      return sense === "at-least"
        ? furtherAbove({ ...sample, below: count((level) => level < limit) }, mostFurther)
        : furtherBelow({ ...sample, atOrBelow: count((level) => level <= limit) }, mostFurther);
    },
    chanceAtLimit: ({ sense, limit }, { confidence }) => {
      const value = rankedLevel(quantileInterval(levels, quantile, confidence).value);
      if (value === null || !isOnWrongSide(value, { sense, limit })) return null;
      return sense === "at-least"
        ? 1 - binomialCdf(count((level) => level < limit) - 1, n, quantile)
        : binomialCdf(
            count((level) => level <= limit),
            n,
            quantile,
          );
    },
  };
}

function rankedLevel(figure: CensoredFigure): number | null {
  return figure === "censored" ? Number.NEGATIVE_INFINITY : figure;
}

function levelEstimate(levels: CensoredSample, quantile: number, confidence: number): LevelEstimate {
  const k = levels.values.length;
  const n = levels.censored + k;
  const common = { k, n, confidence, method: "order-statistic" } as const;
  if (n === 0) return { kind: "level", value: null, ...common, ...noBounds };
  const { value, lower, upper } = quantileInterval(levels, quantile, confidence);
  const readLevel = (figure: CensoredFigure) => (figure === "censored" ? null : figure);
  return {
    kind: "level",
    value: readLevel(value),
    ...common,
    lower: readLevel(lower),
    upper: readLevel(upper),
    effectiveN: n,
    designEffect: 1,
    onMiss: { value: value === "censored", lower: lower === "censored", upper: upper === "censored" },
  };
}
