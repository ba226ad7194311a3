import { stateWord } from "../words/states.ts";
import { figureTriple } from "./figure-triple.ts";
import type { IntervalLine, IntervalRow } from "./interval-rows.ts";
import { stateBoxMark } from "./state-box.ts";
import { element, ink, textAt } from "./svg.ts";

/** Of everything that is not the finding itself. */
export const small = { "font-size": 12.5, class: "second", fill: ink.second };

export function hairline(y: number, width: number): string {
  return element("line", {
    x1: 0,
    x2: width,
    y1: y,
    y2: y,
    class: "hair",
    stroke: ink.hair,
    "stroke-width": 0.75,
  });
}

export function stateMark(row: IntervalRow, x: number, y: number): string {
  if (row.state === null) return "";
  return (
    stateBoxMark(row.state, x, y - 12, 14, row.conceded) +
    textAt(x + 20, y, stateWord(row.state), {
      "font-weight": 600,
      class: `word ${row.state}`,
      fill: ink[row.state],
    })
  );
}

/** Where the upper bound ends, and how far apart the three figures stand. */
export function figurePlaces(
  unit: IntervalLine["figures"]["unit"],
  right: number,
): { step: number; end: number } {
  switch (unit) {
    case "%":
      return { step: 50, end: right - 16 };
    case "dBm":
      return { step: 48, end: right - 30 };
    case "tags a minute":
      // The axis says it: beside every row it would push the figures into the count.
      return { step: 50, end: right - 2 };
  }
}

/** `98.9  99.7  99.9 %`, the estimate heavier: three columns that end at `right`. */
export function figureColumns(line: IntervalLine, right: number, y: number): string {
  const { figures, estimate } = line;
  if (estimate.n === 0) return textAt(right, y, "no figure", { ...small, "text-anchor": "end" });
  const { step, end } = figurePlaces(figures.unit, right);
  return (
    figureTriple(figures, end, step, y) +
    (figures.unit === "tags a minute"
      ? ""
      : textAt(right, y, figures.unit, { ...small, "text-anchor": "end" }))
  );
}
