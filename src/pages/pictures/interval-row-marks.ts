import type { Scale } from "../../measures/scales.ts";
import { stateWord } from "../words/states.ts";
import { figureTriple } from "./figure-triple.ts";
import type { IntervalLine, IntervalRow } from "./interval-rows.ts";
import { stateBoxMark } from "./state-box.ts";
import { element, ink, textAt } from "./svg.ts";
import { textWidth } from "./text-fit.ts";

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

/** How far apart the three figures stand. */
export const figureStep = 50;

/** Where the upper bound ends: a short unit stands behind it, a long one would push the figures into the count. */
export function figuresEnd({ unit, hasWordUnit }: Scale, right: number): number {
  return right - (hasWordUnit ? 2 : Math.round(textWidth(unit, 12.5) + 5.4));
}

/** `98.9  99.7  99.9 %`, the estimate heavier: three columns that end at `right`. */
export function figureColumns(
  { figures, estimate }: IntervalLine,
  scale: Scale,
  { right, y }: { right: number; y: number },
): string {
  if (estimate.n === 0) return textAt(right, y, "no figure", { ...small, "text-anchor": "end" });
  const unit = scale.hasWordUnit ? "" : textAt(right, y, scale.unit, { ...small, "text-anchor": "end" });
  return figureTriple(figures, figuresEnd(scale, right), figureStep, y) + unit;
}
