import type { ChangePicture } from "./change-rows.ts";
import { small } from "./interval-row-marks.ts";
import { element, ink, textAt } from "./svg.ts";
import { fitText, textWidth } from "./text-fit.ts";

const sample = 26;
const gap = 22;
const size = 12.5;

/** Which line is which round: a thin one with an open circle, and a full one with an upright. */
export function roundKey({ before, after }: ChangePicture, x: number, y: number, width: number): string {
  const lead = sample + 6;
  const room = width - gap - 2 * lead;
  // Half of the room is each one's own; what one leaves the other may take.
  const own = (text: string) => Math.min(textWidth(text, size), room / 2);
  const [first = ""] = fitText(before, room - own(after), size, 1);
  const next = x + lead + textWidth(first, size) + gap;
  const [second = ""] = fitText(after, x + width - next - lead, size, 1);
  const middle = y - 4;
  const line = (from: number, weight: number) =>
    element("line", {
      x1: from,
      x2: from + sample,
      y1: middle,
      y2: middle,
      class: "interval",
      stroke: ink.text,
      "stroke-width": weight,
    });
  const circle = element("circle", {
    cx: x + sample / 2,
    cy: middle,
    r: 3.25,
    class: "interval-open",
    fill: ink.paper,
    stroke: ink.text,
    "stroke-width": 1.25,
  });
  const upright = element("line", {
    x1: next + sample / 2,
    x2: next + sample / 2,
    y1: middle - 6,
    y2: middle + 6,
    class: "interval",
    stroke: ink.text,
    "stroke-width": 2.25,
  });
  return (
    element("g", { class: "line plain" }, line(x, 1.25) + circle + line(next, 3.5) + upright) +
    textAt(x + sample + 6, y, first, small) +
    textAt(next + sample + 6, y, second, small)
  );
}
