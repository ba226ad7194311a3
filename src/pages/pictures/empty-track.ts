import { element, ink } from "./svg.ts";

/** Where a line would run, had anything been counted. */
export function emptyTrack(left: number, right: number, y: number): string {
  return element("line", {
    x1: left,
    x2: right,
    y1: y,
    y2: y,
    class: "track",
    stroke: ink.second,
    "stroke-width": 0.75,
    "stroke-dasharray": "2 4",
  });
}
