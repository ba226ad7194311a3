import type { Spread } from "../../model/result/figures.ts";
import { type Axis, axisMarks, type Plot, xOn } from "./axis.ts";
import {
  barInk,
  figureAt,
  formFrame,
  hairline,
  horizontal,
  ink,
  rectangle,
  smaller,
  textAt,
  vertical,
} from "./svg.ts";
import { fitLine } from "./text-fit.ts";

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

interface Form {
  name: "wide" | "narrow";
  width: number;
  labelWidth: number;
  plot: Pick<Plot, "left" | "width">;
  /** Where the three printed figures end. */
  figures: [number, number, number];
  rowHeight: number;
  /** From the top of a row. */
  baseline: number;
  middle: number;
}

const forms: Form[] = [
  {
    name: "wide",
    width: 720,
    labelWidth: 130,
    plot: { left: 142, width: 370 },
    figures: [596, 656, 716],
    rowHeight: 34,
    baseline: 22,
    middle: 17,
  },
  {
    name: "narrow",
    width: 360,
    labelWidth: 150,
    plot: { left: 12, width: 300 },
    figures: [232, 294, 356],
    rowHeight: 56,
    baseline: 20,
    middle: 40,
  },
];

/**
 * Five figures as a strip, one row a group on one axis: a line from the least to the most, a bar over the middle nine tenths,
 * an upright at the median. For a page's width and for a phone.
 */
export function spreadPicture(picture: SpreadPicture): string {
  return forms.map((form) => drawn(picture, form)).join("");
}

function drawn(picture: SpreadPicture, form: Form): string {
  const { rows, axis, unit, text } = picture;
  const { width, figures, plot, rowHeight } = form;
  const top = 22;
  const bottom = top + rows.length * rowHeight;
  const headings = ["5 %", "median", "95 %"].map((word, place) =>
    textAt(figures[place]!, 14, word, { ...smaller, "text-anchor": "end" }),
  );
  const marks = rows.map(({ label, spread }, index) => {
    const y = top + index * rowHeight;
    return [
      hairline(y, width),
      textAt(0, y + form.baseline, fitLine(label, form.labelWidth, 14), { class: "ink" }),
      ...[spread.q05, spread.median, spread.q95].map((value, place) =>
        figureAt({ x: figures[place]!, y: y + form.baseline }, text(value), { isHeavy: place === 1 }),
      ),
      strip(spread, (value) => xOn(axis, plot, value), y + form.middle),
    ].join("");
  });
  return formFrame(picture, { ...form, height: bottom + 24 }, [
    axisMarks(axis, { ...plot, top, bottom }, { unit, keepRight: false }),
    ...headings,
    ...marks,
    hairline(bottom, width),
  ]);
}

function strip(spread: Spread, x: (value: number) => number, y: number): string {
  const bar = rectangle(
    { x: x(spread.q05), y: y - 4.5, width: Math.max(1, x(spread.q95) - x(spread.q05)), height: 9 },
    { class: "bar", fill: barInk },
  );
  return (
    horizontal(x(spread.min), x(spread.max), y, {
      class: "leader",
      stroke: ink.second,
      "stroke-width": 1.25,
    }) +
    bar +
    vertical(x(spread.median), y - 9, y + 9, { class: "limit", stroke: ink.text, "stroke-width": 2.25 })
  );
}
