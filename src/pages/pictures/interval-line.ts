import type { Axis } from "./axis.ts";
import { emptyTrack } from "./empty-track.ts";
import type { Plot } from "./interval-axis.ts";
import type { IntervalLine, IntervalRow } from "./interval-rows.ts";
import { element, ink, textAt } from "./svg.ts";

/**
 * One estimate on the shared axis: a line from lower to upper and an upright at the value.
 *
 * A bound that does not exist runs dashed to the end of the track; one that falls on a missed tag runs there whole and ends
 * in an open wedge, since a missed tag lies below every level. Nothing is drawn where nothing was counted: the track is empty
 * and says so.
 */
export function intervalLine(
  line: IntervalLine,
  { state, limit }: Pick<IntervalRow, "state" | "limit">,
  axis: Axis,
  plot: Plot,
  y: number,
): string {
  const { estimate, earlier } = line;
  const colour = state === null ? ink.text : ink[state];
  const at = (value: number) => plot.left + plot.width * axis.position(value);
  const { left } = plot;
  const right = plot.left + plot.width;
  if (estimate.n === 0) {
    // On the roomier side of the limit, so that its rule never crosses the words.
    const rule = limit === null ? left : at(limit);
    const start = rule - left > right - rule ? left : rule;
    return (
      emptyTrack(left, right, y) +
      textAt(start + 7, y - 5, line.emptyWord, { "font-size": 12.5, class: "second", fill: ink.second })
    );
  }
  const weight = earlier || state === "untested" ? 1.25 : 3.5;
  const stroke = (from: number, to: number, dashed: boolean) =>
    element("line", {
      x1: from,
      x2: to,
      y1: y,
      y2: y,
      class: "interval",
      stroke: colour,
      "stroke-width": dashed ? 1.25 : weight,
      "stroke-dasharray": dashed ? "3 3" : null,
    });
  const { value, lower, upper, onMiss } = estimate;
  const low = lower === null ? left : at(lower);
  const high = upper === null ? (onMiss?.upper ? left : right) : at(upper);
  const middle = value === null ? (onMiss?.value ? left : null) : at(value);
  const parts: string[] = [];
  if (state === "untested") parts.push(emptyTrack(left, right, y));
  const solidLow = lower === null && !onMiss?.lower ? (middle ?? high) : low;
  const solidHigh = upper === null && !onMiss?.upper ? (middle ?? low) : high;
  if (solidHigh > solidLow) parts.push(stroke(solidLow, solidHigh, false));
  if (lower === null && !onMiss?.lower) parts.push(stroke(left, solidLow, true));
  if (upper === null && !onMiss?.upper) parts.push(stroke(solidHigh, right, true));
  if (onMiss?.lower) parts.push(wedge(left, y, colour));
  if (value !== null && middle !== null) parts.push(upright(middle, y, colour, earlier));
  return element("g", { class: `line ${state ?? "plain"}` }, parts.join(""));
}

function upright(x: number, y: number, colour: string, earlier: boolean): string {
  return earlier
    ? element("circle", {
        cx: x,
        cy: y,
        r: 3.25,
        class: "interval-open",
        fill: ink.paper,
        stroke: colour,
        "stroke-width": 1.25,
      })
    : element("line", {
        x1: x,
        x2: x,
        y1: y - 7,
        y2: y + 7,
        class: "interval",
        stroke: colour,
        "stroke-width": 2.25,
      });
}

function wedge(x: number, y: number, colour: string): string {
  return element("path", {
    d: `M${(x + 7).toFixed(2)},${(y - 5).toFixed(2)}L${x.toFixed(2)},${y.toFixed(2)}L${(x + 7).toFixed(2)},${(y + 5).toFixed(2)}Z`,
    class: "interval-open",
    fill: ink.paper,
    stroke: colour,
    "stroke-width": 1.25,
  });
}
