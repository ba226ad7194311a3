import type { Axis } from "./axis.ts";
import { changeInk } from "./change-mark.ts";
import type { ChangePicture, ChangeRow } from "./change-rows.ts";
import { differenceAxis } from "./difference-axis.ts";
import { limitRule, type Plot } from "./interval-axis.ts";
import { small } from "./interval-row-marks.ts";
import { element, ink, textAt } from "./svg.ts";

/** How far apart the three figures stand. */
const figureStep = 50;

/** The axis that all rows of a picture share, its parts too. */
export function sharedDifferenceAxis({ rows, smallestChangeThatMatters }: ChangePicture): Axis {
  const reaches = rows.flatMap(({ difference }) => (difference === null ? [] : [difference]));
  return differenceAxis(reaches, smallestChangeThatMatters);
}

/** The band of differences that do not matter, and the rule at 0 through the whole height. */
export function bandAndZero(axis: Axis, plot: Plot, smallestThatMatters: number): string {
  const at = (value: number) => plot.left + plot.width * axis.position(value);
  const left = at(-smallestThatMatters);
  return (
    element("rect", {
      x: left,
      y: plot.top,
      width: at(smallestThatMatters) - left,
      height: plot.bottom - plot.top,
      class: "band",
      fill: ink.hair,
      "fill-opacity": 0.5,
    }) + limitRule(axis, plot, 0)
  );
}

/** One difference on the shared axis: a line from lower to upper and an upright at the value. */
export function differenceTrack(
  { change, difference }: ChangeRow,
  axis: Axis,
  plot: Plot,
  y: number,
): string {
  if (difference === null) {
    const { left, width } = plot;
    return element("line", {
      x1: left,
      x2: left + width,
      y1: y,
      y2: y,
      class: "track",
      stroke: ink.second,
      "stroke-width": 0.75,
      "stroke-dasharray": "2 4",
    });
  }
  const at = (value: number) => plot.left + plot.width * axis.position(value);
  const stroke = changeInk[change];
  const shape = { class: "change-stroke", stroke };
  const line = element("line", {
    x1: at(difference.lower),
    x2: at(difference.upper),
    y1: y,
    y2: y,
    ...shape,
    "stroke-width": 3.5,
  });
  const middle = at(difference.value);
  const upright = element("line", {
    x1: middle,
    x2: middle,
    y1: y - 7,
    y2: y + 7,
    ...shape,
    "stroke-width": 2.25,
  });
  return element("g", { class: `change ${change}` }, line + upright);
}

/** Lower, value and upper of a difference in columns that end at `right`, the value heavier. */
export function differenceColumns({ difference }: ChangeRow, right: number, y: number): string {
  if (difference === null) return textAt(right, y, "no figure", { ...small, "text-anchor": "end" });
  const { lower, value, upper } = difference.figures;
  const column = (text: string, place: number, heavy: boolean) =>
    textAt(right - figureStep * place, y, text, {
      "text-anchor": "end",
      "font-size": text.length > 6 ? 11.5 : 13.5,
      "font-weight": heavy ? 700 : null,
      class: heavy ? "figure ink" : "figure second",
      fill: heavy ? ink.text : ink.second,
    });
  return column(lower, 2, false) + column(value, 1, true) + column(upper, 0, false);
}
