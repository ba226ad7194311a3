import type { Axis } from "./axis.ts";
import { changeInk } from "./change-mark.ts";
import type { ChangePicture, ChangeRow } from "./change-rows.ts";
import { differenceAxis } from "./difference-axis.ts";
import { emptyTrack } from "./empty-track.ts";
import { figureTriple } from "./figure-triple.ts";
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
  if (difference === null) return emptyTrack(plot.left, plot.left + plot.width, y);
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
  return figureTriple(difference.figures, right, figureStep, y);
}
