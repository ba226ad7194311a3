import type { State } from "../../model/result.ts";
import { element, ink } from "./svg.ts";

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
export function stateBoxMark(state: State, x: number, y: number, size: number, conceded: Conceded): string {
  const colour = ink[state];
  const line = size / 9;
  const inset = line / 2;
  const side = size - line;
  const outline = (dashes: string | null) =>
    element("rect", {
      x: x + inset,
      y: y + inset,
      width: side,
      height: side,
      class: "box-outline",
      fill: ink.paper,
      stroke: colour,
      "stroke-width": line,
      "stroke-dasharray": dashes,
    });
  const filled = (from: number) =>
    element("rect", {
      x,
      y: y + from,
      width: size,
      height: size - from,
      class: "box-fill",
      fill: colour,
    });
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
  if (conceded === "current") parts.push(foldedCorner(x, y, size, colour));
  return element("g", { class: `box ${state}` }, parts.join(""));
}

function foldedCorner(x: number, y: number, size: number, colour: string): string {
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
  return element(
    "svg",
    {
      xmlns: "http://www.w3.org/2000/svg",
      class: "state-box",
      viewBox: "0 0 18 18",
      width: 16,
      height: 16,
      "aria-hidden": "true",
      focusable: "false",
    },
    stateBoxMark(state, 1, 1, 16, conceded),
  );
}
