import type { Estimate } from "../../model/estimate.ts";
import type { Column } from "./csv.ts";

/** The columns every rate is written out in: full-precision fractions, an empty cell where there is no figure. */
export function rateColumns<Row>(estimateOf: (row: Row) => Estimate, prefix = ""): Column<Row>[] {
  return [
    { header: `${prefix}k`, cell: (row) => estimateOf(row).k },
    { header: `${prefix}n`, cell: (row) => estimateOf(row).n },
    { header: `${prefix}value_fraction`, cell: (row) => estimateOf(row).value },
    { header: `${prefix}lower_fraction`, cell: (row) => estimateOf(row).lower },
    { header: `${prefix}upper_fraction`, cell: (row) => estimateOf(row).upper },
    { header: `${prefix}effective_n`, cell: (row) => estimateOf(row).effectiveN },
    { header: `${prefix}design_effect`, cell: (row) => estimateOf(row).designEffect },
    { header: `${prefix}confidence_fraction`, cell: (row) => estimateOf(row).confidence },
    { header: `${prefix}method`, cell: (row) => estimateOf(row).method },
  ];
}
