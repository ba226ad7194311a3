import type { Spread } from "../../model/heard.ts";
import type { Axis } from "./axis.ts";
import { axisMarks, type Plot } from "./interval-axis.ts";
import { hairline, small } from "./interval-row-marks.ts";
import { element, frame, ink, textAt } from "./svg.ts";
import { fitText } from "./text-fit.ts";

interface SpreadRow {
  label: string;
  spread: Spread;
}

export interface SpreadPicture {
  id: string;
  title: string;
  description: string;
  rows: SpreadRow[];
  axis: Axis;
  unit: string;
  /** A value as it is printed. */
  text: (value: number) => string;
}

interface Layout {
  name: "wide" | "narrow";
  width: number;
  labelWidth: number;
  plotLeft: number;
  plotWidth: number;
  /** Where the three printed figures end. */
  figures: [number, number, number];
}

const wide: Layout = {
  name: "wide",
  width: 720,
  labelWidth: 130,
  plotLeft: 142,
  plotWidth: 370,
  figures: [596, 656, 716],
};
const narrow: Layout = {
  name: "narrow",
  width: 360,
  labelWidth: 150,
  plotLeft: 12,
  plotWidth: 300,
  figures: [232, 294, 356],
};

/**
 * Five figures as a strip, one row a group on one axis: a line from the least to the most, a bar over the middle nine tenths,
 * an upright at the median. For a page's width and for a phone.
 */
export function spreadPicture(picture: SpreadPicture): string {
  return drawn(picture, wide) + drawn(picture, narrow);
}

function drawn({ id, title, description, rows, axis, unit, text }: SpreadPicture, layout: Layout): string {
  const top = 22;
  const height = layout.name === "wide" ? 34 : 56;
  const parts = headings(layout);
  rows.forEach((row, index) => {
    const y = top + index * height;
    const middle = y + (layout.name === "wide" ? height / 2 : 40);
    const baseline = layout.name === "wide" ? middle + 5 : y + 20;
    const [label = ""] = fitText(row.label, layout.labelWidth, 14, 1);
    const { q05, median, q95 } = row.spread;
    parts.push(hairline(y, layout.width), textAt(0, baseline, label, { class: "ink" }));
    [q05, median, q95].forEach((value, place) => {
      parts.push(figure(layout.figures[place]!, baseline, text(value), place === 1));
    });
    parts.push(strip(row.spread, axis, layout, middle));
  });
  const bottom = top + rows.length * height;
  const plot: Plot = { left: layout.plotLeft, width: layout.plotWidth, top, bottom };
  const ticks = axisMarks(axis, plot, unit, false);
  return frame(
    {
      id: `${id}-${layout.name}`,
      width: layout.width,
      height: bottom + 24,
      title,
      description,
      className: layout.name,
    },
    ticks + parts.join("") + hairline(bottom, layout.width),
  );
}

function headings({ figures }: Layout): string[] {
  return ["5 %", "median", "95 %"].map((word, place) =>
    textAt(figures[place]!, 14, word, { ...small, "font-size": 12, "text-anchor": "end" }),
  );
}

function figure(x: number, y: number, value: string, heavy: boolean): string {
  return textAt(x, y, value, {
    "text-anchor": "end",
    "font-size": 13.5,
    "font-weight": heavy ? 700 : null,
    class: heavy ? "figure ink" : "figure second",
    fill: heavy ? ink.text : ink.second,
  });
}

function strip(spread: Spread, axis: Axis, { plotLeft, plotWidth }: Layout, y: number): string {
  const x = (value: number) => plotLeft + plotWidth * axis.position(value);
  const line = element("line", {
    x1: x(spread.min),
    x2: x(spread.max),
    y1: y,
    y2: y,
    class: "leader",
    stroke: ink.second,
    "stroke-width": 1.25,
  });
  const bar = element("rect", {
    x: x(spread.q05),
    y: y - 4.5,
    width: Math.max(1, x(spread.q95) - x(spread.q05)),
    height: 9,
    class: "bar",
    fill: "#1f5a7a",
  });
  const upright = element("line", {
    x1: x(spread.median),
    x2: x(spread.median),
    y1: y - 9,
    y2: y + 9,
    class: "limit",
    stroke: ink.text,
    "stroke-width": 2.25,
  });
  return line + bar + upright;
}
