import { type Figures, rateFigures } from "../../measures/scales.ts";
import type { Estimate } from "../../model/estimate.ts";
import { countText } from "../../model/number-words.ts";
import type { Column } from "./figure.ts";

/** A rate in a table: what was counted, and the estimate between its bounds. */
export interface RateCell {
  count: string;
  figures: Figures;
  /** The text where there is no figure; else empty. */
  nothing: string;
}

/** `171 of 200`. */
export function countOf({ k, n }: Pick<Estimate, "k" | "n">): string {
  return `${countText(k)} of ${countText(n)}`;
}

export function rateCell(estimate: Estimate): RateCell {
  return { count: countOf(estimate), figures: rateFigures(estimate, "at-least"), nothing: "" };
}

/**
 * The columns in which a rate is written out in full: fractions in full precision, an empty cell where there is no figure.
 */
export function rateColumns<Row>(estimateOf: (row: Row) => Estimate, prefix = ""): Column<Row>[] {
  return [
    { header: `${prefix}k`, value: (row) => estimateOf(row).k },
    { header: `${prefix}n`, value: (row) => estimateOf(row).n },
    { header: `${prefix}value_fraction`, value: (row) => estimateOf(row).value },
    { header: `${prefix}lower_fraction`, value: (row) => estimateOf(row).lower },
    { header: `${prefix}upper_fraction`, value: (row) => estimateOf(row).upper },
    { header: `${prefix}effective_n`, value: (row) => estimateOf(row).effectiveN },
    { header: `${prefix}design_effect`, value: (row) => estimateOf(row).designEffect },
    { header: `${prefix}confidence_fraction`, value: (row) => estimateOf(row).confidence },
    { header: `${prefix}method`, value: (row) => estimateOf(row).method },
  ];
}

/** The same rate as a page shows it: the count, and the estimate between its bounds in per cent. */
export function shownRateColumns<Row>(
  estimateOf: (row: Row) => Estimate,
  isWalked: (row: Row) => boolean,
): Column<Row>[] {
  const figuresOf = (row: Row) => rateFigures(estimateOf(row), "at-least");
  return [
    {
      label: "Tags read",
      text: (row) => (isWalked(row) ? countOf(estimateOf(row)) : "not walked"),
      as: "number",
    },
    { label: "Lower, %", text: (row) => figuresOf(row).lower, as: "number" },
    { label: "Rate, %", text: (row) => figuresOf(row).value, as: "strong number" },
    { label: "Upper, %", text: (row) => figuresOf(row).upper, as: "number" },
  ];
}
