import { countText } from "../../model/number-words.ts";
import { element, frame, ink, textAt } from "./svg.ts";
import { textWidth } from "./text-fit.ts";

export interface MinuteBars {
  id: string;
  title: string;
  description: string;
  /** The session, in minutes of one clock. */
  from: number;
  to: number;
  /** One bar covers so many minutes. */
  step: number;
  /** Bars that are not 0, by the minute in which they begin. */
  bars: { from: number; count: number }[];
  /** When passes were under way. */
  passes: { from: number; to: number }[];
  ticks: { at: number; label: string }[];
  /** What the axis below is. */
  axisText: string;
}

const layouts = [
  { name: "wide", width: 720 },
  { name: "narrow", width: 360 },
] as const;
const left = 40;
const plotHeight = 96;
const top = 12;
const bottom = top + plotHeight;

/** What was heard over a session, minute by minute, and below it when passes were under way. */
export function minuteBarsPicture(picture: MinuteBars): string {
  return layouts.map(({ name, width }) => drawn(picture, name, width)).join("");
}

function drawn(picture: MinuteBars, name: "wide" | "narrow", width: number): string {
  const { from, to, step, bars } = picture;
  const right = width - 8;
  const x = (minute: number) => left + ((right - left) * (minute - from)) / (to - from);
  const most = Math.max(1, ...bars.map(({ count }) => count));
  const shown = bars.map((bar) => {
    const height = (plotHeight * bar.count) / most;
    return element("rect", {
      x: x(bar.from),
      y: bottom - height,
      width: Math.max(1, x(bar.from + step) - x(bar.from) - 0.5),
      height,
      class: "bar",
      fill: "#1f5a7a",
    });
  });
  const quiet = { "font-size": 12, class: "second", fill: ink.second };
  const scale =
    textAt(left - 6, bottom, "0", { ...quiet, "text-anchor": "end" }) +
    textAt(left - 6, top + 9, countText(most), { ...quiet, "text-anchor": "end" }) +
    textAt(left - 6, top + 24, "tags", { ...quiet, "text-anchor": "end" }) +
    textAt(left - 6, bottom + 14, "passes", { ...quiet, "font-size": 11, "text-anchor": "end" });
  const baseline = element("line", {
    x1: left,
    x2: right,
    y1: bottom,
    y2: bottom,
    class: "leader",
    stroke: ink.second,
    "stroke-width": 1,
  });
  return frame(
    {
      id: `${picture.id}-${name}`,
      width,
      height: bottom + 54,
      title: picture.title,
      description: picture.description,
      className: name,
    },
    shown.join("") +
      baseline +
      passStrip(picture.passes, x) +
      tickMarks(picture.ticks, x, right) +
      scale +
      textAt(right, bottom + 49, picture.axisText, { ...quiet, "text-anchor": "end" }),
  );
}

/** Passes closer than half a unit of the picture run into one, so that thousands of them stay a few marks. */
function passStrip(passes: MinuteBars["passes"], x: (minute: number) => number): string {
  const merged: { start: number; end: number }[] = [];
  for (const pass of [...passes].sort((a, b) => a.from - b.from)) {
    const start = x(pass.from);
    const end = Math.max(x(pass.to), start + 0.75);
    const last = merged[merged.length - 1];
    if (last !== undefined && start <= last.end + 0.5) last.end = Math.max(last.end, end);
    else merged.push({ start, end });
  }
  return merged
    .map(({ start, end }) =>
      element("rect", {
        x: start,
        y: bottom + 6,
        width: end - start,
        height: 8,
        class: "pass-time",
        fill: ink.second,
      }),
    )
    .join("");
}

function tickMarks(ticks: MinuteBars["ticks"], x: (minute: number) => number, right: number): string {
  let taken = Number.NEGATIVE_INFINITY;
  return ticks
    .map(({ at, label }) => {
      const half = textWidth(label, 12) / 2;
      const centre = Math.min(x(at), right - half);
      if (centre - half < taken + 8) return "";
      taken = centre + half;
      return textAt(centre, bottom + 31, label, {
        "font-size": 12,
        "text-anchor": "middle",
        class: "second",
        fill: ink.second,
      });
    })
    .join("");
}
