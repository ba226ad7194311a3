import { countText } from "../../model/number-words.ts";
import type { Spread } from "../../model/result.ts";
import { numberCell, type TableView, textCell } from "../figure-view.ts";

/** Five figures a row, with how many values they are of. */
export function spreadTable(
  caption: string,
  named: string,
  of: string,
  rows: { label: string; spread: Spread }[],
  text: (value: number) => string,
): TableView {
  const labels = [of, "Least", "5\u202f%", "Median", "95\u202f%", "Most"];
  return {
    caption,
    columns: [{ label: named, numeric: false }, ...labels.map((label) => ({ label, numeric: true }))],
    rows: rows.map(({ label, spread }) => [
      textCell(label),
      numberCell(countText(spread.n)),
      numberCell(text(spread.min)),
      numberCell(text(spread.q05)),
      numberCell(text(spread.median), true),
      numberCell(text(spread.q95)),
      numberCell(text(spread.max)),
    ]),
  };
}
