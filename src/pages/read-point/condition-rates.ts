import { type Figures, rateFigures } from "../../measures/scales.ts";
import type { Estimate } from "../../model/estimate.ts";
import { counted, countText } from "../../model/number-words.ts";
import type { Result, RoundResult } from "../../model/result.ts";
import { isStated } from "../stated-conditions.ts";
import { columnLabel, valueText } from "../words/labels.ts";

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
  /** `edge-on (168 of 192)`; empty where nothing was missed. */
  lowest: string;
  rows: { value: string; passes: string; walked: boolean; rate: RateCell; estimate: Estimate }[];
}

/** The read rate under each value of each stated condition, in the order in which the condition names its values. */
export function conditionRates(result: Result, round: RoundResult): ConditionRates[] {
  const stated = round.byCondition.filter(({ column }) => isStated(round, column));
  return stated.map(({ column, groups }) => {
    const condition = result.conditions.find((entry) => entry.column === column);
    const rows = groups.map((group) => ({
      value: valueText(group.value, condition),
      passes: counted(group.passes, "pass", "passes"),
      walked: group.tagReadRate.n > 0,
      rate: rateCell(group.tagReadRate),
      estimate: group.tagReadRate,
    }));
    return { label: columnLabel(column, result.conditions), lowest: lowestOf(rows), rows };
  });
}

function lowestOf(rows: ConditionRates["rows"]): string {
  const missed = rows.filter(({ estimate }) => estimate.k < estimate.n);
  if (missed.length === 0) return "";
  const rateOf = ({ estimate }: (typeof rows)[number]): number => estimate.k / estimate.n;
  const lowest = missed.reduce((low, row) => (rateOf(row) < rateOf(low) ? row : low));
  return `${lowest.value} (${lowest.rate.count})`;
}
