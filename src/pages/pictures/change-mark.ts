import type { Change } from "../../model/comparison.ts";
import { changeWords } from "../words/comparison-sentence.ts";
import { element, ink, textAt } from "./svg.ts";

/** What a change is drawn in; the word always stands beside. */
export const changeInk: Record<Change, string> = {
  worse: ink["not-met"],
  better: ink.met,
  "no-change-that-matters": ink.text,
  "no-change-shown": ink.second,
  "not-comparable": ink.second,
};

const size = 14;

/**
 * The shape of a change in a square of 14, by its upper left corner: a wedge downwards or upwards, two bars for no change
 * that matters, an open ring where none was shown, a dashed line where nothing can be compared.
 */
function changeShape(change: Change, x: number, y: number): string {
  const fill = changeInk[change];
  const bar = (top: number, dashes: string | null) =>
    element("line", {
      x1: x + 1,
      x2: x + size - 1,
      y1: y + top,
      y2: y + top,
      class: "change-stroke",
      stroke: fill,
      "stroke-width": 2,
      "stroke-dasharray": dashes,
    });
  const wedge = (tip: number, base: number) =>
    element("polygon", {
      points: `${x + 1},${y + base} ${x + size - 1},${y + base} ${x + size / 2},${y + tip}`,
      class: "change-fill",
      fill,
    });
  const shapes: Record<Change, string> = {
    worse: wedge(12.5, 2),
    better: wedge(1.5, 12),
    "no-change-that-matters": bar(4.5, null) + bar(9.5, null),
    "no-change-shown": element("circle", {
      cx: x + size / 2,
      cy: y + size / 2,
      r: 4.75,
      class: "change-stroke",
      fill: "none",
      stroke: fill,
      "stroke-width": 1.75,
    }),
    "not-comparable": bar(7, "3 3"),
  };
  return element("g", { class: `change ${change}` }, shapes[change]);
}

/** The shape and the word beside it; `y` is the word's baseline. */
export function changeMark(change: Change, x: number, y: number): string {
  return (
    changeShape(change, x, y - 12) +
    textAt(x + 20, y, changeWords[change], {
      "font-weight": 600,
      class: `change-word ${change}`,
      fill: changeInk[change],
    })
  );
}

/** The shape by itself, for a line of text or a table cell: the word stands beside it, so it says nothing aloud. */
export function changeSign(change: Change): string {
  return element(
    "svg",
    {
      xmlns: "http://www.w3.org/2000/svg",
      class: "state-box",
      viewBox: "0 0 16 16",
      width: 15,
      height: 15,
      "aria-hidden": "true",
      focusable: "false",
    },
    changeShape(change, 1, 1),
  );
}
