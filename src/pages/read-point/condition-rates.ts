import type { Estimate, Result, RoundResult } from "../../analysis/result.ts";
import { columnLabel, valueText } from "../words/groups.ts";
import { counted, countText } from "../words/numbers.ts";
import { type Figures, rateFigures } from "../words/rates.ts";

/** A rate in a table: what was counted, and the estimate between its bounds. */
export interface RateCell {
  count: string;
  figures: Figures;
}

export function rateCell(estimate: Estimate): RateCell {
  return {
    count: `${countText(estimate.k)} of ${countText(estimate.n)}`,
    figures: rateFigures(estimate, "at-least"),
  };
}

export interface ConditionRates {
  label: string;
  sentence: string;
  rows: { value: string; passes: string; walked: boolean; rate: RateCell; estimate: Estimate }[];
}

/** The read rate under each value of each condition, in the order in which the condition names its values. */
export function conditionRates(result: Result, round: RoundResult): ConditionRates[] {
  return round.byCondition.map(({ column, groups }) => {
    const condition = result.conditions.find((entry) => entry.column === column);
    const rows = groups.map((group) => ({
      value: valueText(group.value, condition),
      passes: counted(group.passes, "pass", "passes"),
      walked: group.tagReadRate.n > 0,
      rate: rateCell(group.tagReadRate),
      estimate: group.tagReadRate,
    }));
    return { label: columnLabel(column, result.conditions), sentence: weakestSentence(rows), rows };
  });
}

function weakestSentence(rows: ConditionRates["rows"]): string {
  if (rows.length === 0) return "No value of this condition is known.";
  const walked = rows.filter((row) => row.walked);
  if (walked.length === 0) return "Nobody walked this round under any of its values.";
  const gaps = rows.filter((row) => !row.walked).map((row) => row.value);
  const gap = gaps.length === 0 ? "" : ` Not walked: ${gaps.join(", ")}.`;
  const rateOf = (row: (typeof rows)[number]): number => row.estimate.value ?? 1;
  const lowest = walked.reduce((low, row) => (rateOf(row) < rateOf(low) ? row : low));
  if (walked.length === 1)
    return `Walked under one value only: ${lowest.value}, ${lowest.rate.count} read.${gap}`;
  if (walked.every((row) => row.estimate.k === row.estimate.n))
    return `No tag was missed under any value.${gap}`;
  return `The lowest rate was seen at ${lowest.value}: ${lowest.rate.count} read.${gap}`;
}
