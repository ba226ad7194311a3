import { timesAsOften } from "../../measures/rounding.ts";
import type { Ratio } from "../../model/diagnosis/diagnosis.ts";
import { countOfColumns, pColumn } from "../parts/columns.ts";
import type { Column } from "../parts/figure.ts";

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

/** How many of those presented were missed. */
export function missedColumns<Row extends Pick<Missed, "missed" | "presented">>(): Column<Row>[] {
  return countOfColumns({ headers: ["missed", "presented"], label: "Missed" }, ({ missed, presented }) => ({
    k: missed,
    n: presented,
  }));
}

/** The columns of what was missed more often than everything else. */
export function missColumns<Row extends Missed>(): Column<Row>[] {
  return [
    ...missedColumns<Row>(),
    ...countOfColumns<Row>(
      { headers: ["elsewhere_missed", "elsewhere_presented"], label: "Elsewhere" },
      ({ elsewhereMissed, elsewherePresented }) => ({ k: elsewhereMissed, n: elsewherePresented }),
    ),
    { header: "ratio_lower", value: ({ ratio }) => ratio?.[0] ?? null },
    {
      header: "ratio_upper",
      value: ({ ratio }) => ratio?.[1] ?? null,
      label: "How often",
      text: ({ ratio }) => (ratio === null ? "" : timesAsOften(ratio)),
    },
    pColumn("p_adjusted", ({ pAdjusted }) => pAdjusted),
  ];
}
