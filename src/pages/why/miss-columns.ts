import { timesAsOften } from "../../measures/rounding.ts";
import type { Ratio } from "../../model/diagnosis/diagnosis.ts";
import type { Column } from "../parts/figure.ts";
import { countOf } from "../parts/rate-columns.ts";
import { pText } from "../words/figures.ts";

/** How often something was missed, and everything else of the read point. */
interface Missed {
  missed: number;
  presented: number;
  elsewhereMissed: number;
  elsewherePresented: number;
  /** Null where it was never missed. */
  ratio: Ratio | null;
  pAdjusted: number;
}

/** The columns of what was missed more often than everything else. */
export function missColumns<Row extends Missed>(): Column<Row>[] {
  return [
    {
      header: "missed",
      value: ({ missed }) => missed,
      label: "Missed",
      text: ({ missed, presented }) => countOf({ k: missed, n: presented }),
      as: "number",
    },
    { header: "presented", value: ({ presented }) => presented },
    {
      header: "elsewhere_missed",
      value: ({ elsewhereMissed }) => elsewhereMissed,
      label: "Elsewhere",
      text: ({ elsewhereMissed, elsewherePresented }) =>
        countOf({ k: elsewhereMissed, n: elsewherePresented }),
      as: "number",
    },
    { header: "elsewhere_presented", value: ({ elsewherePresented }) => elsewherePresented },
    { header: "ratio_lower", value: ({ ratio }) => ratio?.[0] ?? null },
    {
      header: "ratio_upper",
      value: ({ ratio }) => ratio?.[1] ?? null,
      label: "How often",
      text: ({ ratio }) => (ratio === null ? "" : timesAsOften(ratio)),
    },
    {
      header: "p_adjusted",
      value: ({ pAdjusted }) => pAdjusted,
      label: "p",
      text: ({ pAdjusted }) => pText(pAdjusted),
      as: "number",
    },
  ];
}
