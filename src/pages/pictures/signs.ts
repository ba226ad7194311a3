import type { Change } from "../../model/result/comparison.ts";
import type { State } from "../../model/state.ts";
import { changeWords } from "../words/comparisons.ts";
import { element, horizontal, ink, rectangle, textAt } from "./svg.ts";

/** How a concession marks a box: not at all, in force, or run out before the report was issued. */
export type Conceded = "none" | "current" | "expired";

/** The mark of a concession beside the finding it is for. */
export function concededOf(concession: { expired: boolean } | null): Conceded {
  if (concession === null) return "none";
  return concession.expired ? "expired" : "current";
}

/**
 * The box of a state as part of a picture: four fillings that survive black-and-white copying. A concession folds the
 * upper right corner; an expired one leaves it whole.
 */
export function stateBoxMark(
  state: State,
  place: { x: number; y: number; size: number },
  conceded: Conceded = "none",
): string {
  const { x, y, size } = place;
  const colour = ink[state];
  const line = size / 9;
  const inset = line / 2;
  const side = size - line;
  const outline = (dashes: string | null) =>
    rectangle(
      { x: x + inset, y: y + inset, width: side, height: side },
      {
        class: "box-outline",
        fill: ink.paper,
        stroke: colour,
        "stroke-width": line,
        "stroke-dasharray": dashes,
      },
    );
  const filled = (from: number) =>
    rectangle({ x, y: y + from, width: size, height: size - from }, { class: "box-fill", fill: colour });
  const parts: string[] = [];
  if (state === "met") parts.push(filled(0));
  if (state === "undecided") parts.push(outline(null), filled(size / 2));
  if (state === "untested") parts.push(outline(`${(side / 5).toFixed(2)} ${(side / 5).toFixed(2)}`));
  if (state === "not-met") {
    const bar = size * 0.16;
    const corner = (dx: number, dy: number) => `${(x + dx).toFixed(2)},${(y + dy).toFixed(2)}`;
    parts.push(
      outline(null),
      element("polygon", {
        class: "box-fill",
        fill: colour,
        points: [
          corner(0, size),
          corner(0, size - 2 * bar),
          corner(size - 2 * bar, 0),
          corner(size, 0),
          corner(size, 2 * bar),
          corner(2 * bar, size),
        ].join(" "),
      }),
    );
  }
  if (conceded === "current") parts.push(foldedCorner(place, colour));
  return element("g", { class: `box ${state}` }, parts.join(""));
}

function foldedCorner({ x, y, size }: { x: number; y: number; size: number }, colour: string): string {
  const fold = size * 0.42;
  const right = x + size;
  const cutAway = `M${(right - fold).toFixed(2)},${(y - 0.5).toFixed(2)}H${(right + 0.5).toFixed(2)}V${(y + fold).toFixed(2)}Z`;
  const flap = `M${(right - fold).toFixed(2)},${y.toFixed(2)}V${(y + fold).toFixed(2)}H${right.toFixed(2)}Z`;
  return (
    element("path", {
      d: cutAway,
      class: "box-paper",
      fill: ink.paper,
      stroke: ink.paper,
      "stroke-width": size / 12,
    }) +
    element("path", {
      d: flap,
      class: "box-flap",
      fill: ink.paper,
      stroke: colour,
      "stroke-width": size / 11,
      "stroke-linejoin": "round",
    })
  );
}

/** The box by itself, for a line of text or a table cell: the word stands beside it, so it says nothing aloud. */
export function stateBox(state: State, conceded: Conceded = "none"): string {
  return standalone(
    { viewBox: "0 0 18 18", width: 16, height: 16 },
    stateBoxMark(state, { x: 1, y: 1, size: 16 }, conceded),
  );
}

function standalone(size: { viewBox: string; width: number; height: number }, content: string): string {
  return element(
    "svg",
    {
      xmlns: "http://www.w3.org/2000/svg",
      class: "state-box",
      ...size,
      "aria-hidden": "true",
      focusable: "false",
    },
    content,
  );
}

/** The colour of a change, which is never shown without its word. */
export const changeInk: Record<Change, string> = {
  worse: ink["not-met"],
  better: ink.met,
  "no-change-that-matters": ink.text,
  "no-change-shown": ink.second,
  "not-comparable": ink.second,
};

/**
 * The shape of a change in a square of 14, by its upper left corner: a wedge downwards or upwards, two bars for no change
 * that matters, an open ring where none was shown, a dashed line where nothing can be compared.
 */
function changeShape(change: Change, x: number, y: number): string {
  const size = 14;
  const fill = changeInk[change];
  const bar = (top: number, dashes: string | null) =>
    horizontal(x + 1, x + size - 1, y + top, {
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
  const ring = () =>
    element("circle", {
      cx: x + size / 2,
      cy: y + size / 2,
      r: 4.75,
      class: "change-stroke",
      fill: "none",
      stroke: fill,
      "stroke-width": 1.75,
    });
  const shapes: Record<Change, () => string> = {
    worse: () => wedge(12.5, 2),
    better: () => wedge(1.5, 12),
    "no-change-that-matters": () => bar(4.5, null) + bar(9.5, null),
    "no-change-shown": ring,
    "not-comparable": () => bar(7, "3 3"),
  };
  return element("g", { class: `change ${change}` }, shapes[change]());
}

/** The shape and the word beside it; `y` is the word's baseline. */
export function changeMark(change: Change, x: number, y: number): string {
  const style = { "font-weight": 600, class: `change-word ${change}`, fill: changeInk[change] };
  return changeShape(change, x, y - 12) + textAt(x + 20, y, changeWords[change], style);
}

/** The shape by itself, like `stateBox`. */
export function changeSign(change: Change): string {
  return standalone({ viewBox: "0 0 16 16", width: 15, height: 15 }, changeShape(change, 1, 1));
}
