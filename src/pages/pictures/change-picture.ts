import { percent } from "../../measures/scales.ts";
import type { Change } from "../../model/result/comparison.ts";
import type { PointFigures } from "../words/figures.ts";
import {
  type Axis,
  axisMarks,
  differenceAxis,
  limitRule,
  type Plot,
  stretchedRateAxis,
  xOn,
} from "./axis.ts";
import {
  emptyTrack,
  figureHeadings,
  type IntervalLine,
  inParts,
  intervalLine,
  noFigure,
  type Track,
  threeFigures,
  valueMark,
} from "./interval-line.ts";
import { figureColumns } from "./interval-picture.ts";
import { changeInk, changeMark } from "./signs.ts";
import {
  element,
  figureAt,
  formFrame,
  hairline,
  horizontal,
  ink,
  rectangle,
  small,
  smaller,
  stacked,
  textAt,
  textLines,
  vertical,
} from "./svg.ts";
import { fitLine, fitText, textWidth } from "./text-fit.ts";

/** One row of the picture of before and after: the rates of both rounds and their difference. */
export interface ChangeRow {
  label: string;
  change: Change;
  /** The earlier round's rate, then the later one's; one empty line where they cannot be compared. */
  lines: IntervalLine[];
  /** Null where they cannot be compared. */
  difference: { value: number; lower: number; upper: number; figures: PointFigures } | null;
}

export interface ChangePicture {
  /** Prefix of the ids inside, unique on the page. */
  id: string;
  title: string;
  description: string;
  /** The titles of the two rounds. */
  before: string;
  after: string;
  /** A fraction; differences within plus and minus this do not matter. */
  smallestChangeThatMatters: number;
  /** Worst first. */
  rows: ChangeRow[];
}

/** The two axes that all rows of a picture share, its parts too. */
interface Axes {
  rates: Axis;
  differences: Axis;
}

/**
 * Before and after, in two forms; the style sheet shows the one that fits, and paper always has the wide one. Many rows are
 * split into several pictures on the same two axes.
 */
export function changePicture(picture: ChangePicture): string {
  const axes = sharedAxes(picture);
  return inParts(picture, (part) => widePicture(part, axes) + narrowPicture(part, axes));
}

function sharedAxes({ rows, smallestChangeThatMatters }: ChangePicture): Axes {
  const rates = rows
    .flatMap(({ lines }) => lines.map(({ estimate }) => estimate))
    .flatMap(({ value, lower, upper }) => [value, lower, upper])
    .filter((rate) => rate !== null);
  const differences = rows.flatMap(({ difference }) => (difference === null ? [] : [difference]));
  return {
    rates: stretchedRateAxis(rates, "at-least"),
    differences: differenceAxis(differences, smallestChangeThatMatters),
  };
}

/** The band of differences that do not matter, and the rule at 0 through the whole height. */
function bandAndZero(axis: Axis, plot: Plot, smallestThatMatters: number): string {
  const left = xOn(axis, plot, -smallestThatMatters);
  return (
    rectangle(
      {
        x: left,
        y: plot.top,
        width: xOn(axis, plot, smallestThatMatters) - left,
        height: plot.bottom - plot.top,
      },
      { class: "band", fill: ink.hair, "fill-opacity": 0.5 },
    ) + limitRule(axis, plot, 0)
  );
}

/** One difference on the shared axis: a line from lower to upper and an upright at the value. */
function differenceLine({ change, difference }: ChangeRow, { axis, plot, y }: Track): string {
  if (difference === null) return emptyTrack(plot.left, plot.left + plot.width, y);
  const at = (value: number) => xOn(axis, plot, value);
  const style = { class: "change-stroke", stroke: changeInk[change] };
  const line = horizontal(at(difference.lower), at(difference.upper), y, { ...style, "stroke-width": 3.5 });
  const upright = vertical(at(difference.value), y - 7, y + 7, { ...style, "stroke-width": 2.25 });
  return element("g", { class: `change ${change}` }, line + upright);
}

const figureStep = 50;

/** Lower, value and upper of a difference in columns that end at `right`, the value heavier. */
function differenceColumns({ difference }: ChangeRow, right: number, y: number): string {
  if (difference === null) return noFigure(right, y);
  return threeFigures(difference.figures, { right, step: figureStep, y });
}

const rateRow = { state: null, limit: null };

/** Which line is which round: a thin one with an open circle, and a full one with an upright. */
function roundKey(
  { before, after }: ChangePicture,
  { x, y, width }: { x: number; y: number; width: number },
): string {
  const [sample, gap, size] = [26, 22, 12.5];
  const lead = sample + 6;
  const room = width - gap - 2 * lead;
  // Each title may use half of the room, and what the other leaves.
  const own = (text: string) => Math.min(textWidth(text, size), room / 2);
  const first = fitLine(before, room - own(after), size);
  const next = x + lead + textWidth(first, size) + gap;
  const second = fitLine(after, x + width - next - lead, size);
  const middle = y - 4;
  const line = (from: number, weight: number) =>
    horizontal(from, from + sample, middle, { class: "interval", stroke: ink.text, "stroke-width": weight });
  const mark = (from: number, earlier: boolean) =>
    valueMark(from + sample / 2, middle, { stroke: ink.text, earlier, half: 6 });
  return (
    element(
      "g",
      { class: "line plain" },
      line(x, 1.25) + mark(x, true) + line(next, 3.5) + mark(next, false),
    ) +
    textAt(x + lead, y, first, small) +
    textAt(next + lead, y, second, small)
  );
}

const wide = {
  name: "wide",
  width: 912,
  nameWidth: 178,
  rates: { left: 190, width: 196 },
  count: 474,
  rate: 524,
  differences: { left: 548, width: 204 },
  figures: 906,
  top: 46,
  lineStep: 22,
} as const;

/** For a page's width: before and after on one axis and the difference on another. */
function widePicture(picture: ChangePicture, axes: Axes): string {
  const { top, rates, differences, width } = wide;
  const { drawn, bottom } = stacked(picture.rows, top, (row, y) => wideRow(row, axes, y));
  const ratePlot: Plot = { ...rates, top, bottom };
  const differencePlot: Plot = { ...differences, top, bottom };
  const ratesRoom = (axes.differences.note === "" ? width : differences.left - 16) - rates.left;
  const notes = [
    ...wideNotes(axes.rates.note, { x: rates.left, y: bottom, width: ratesRoom }),
    ...wideNotes(axes.differences.note, {
      x: differences.left,
      y: bottom,
      width: width - differences.left,
    }),
  ];
  const heading = (x: number, text: string) => textAt(x, top - 8, text, { ...smaller, "text-anchor": "end" });
  return formFrame(picture, { ...wide, height: bottom + 24 + (notes.length === 0 ? 0 : 34) }, [
    axisMarks(axes.rates, ratePlot, { unit: "%", keepRight: true }),
    // The band lies over the fine lines of its axis, the rule at 0 over both.
    axisMarks(axes.differences, differencePlot, { unit: "", keepRight: false }),
    bandAndZero(axes.differences, differencePlot, picture.smallestChangeThatMatters),
    roundKey(picture, { x: rates.left, y: 14, width: 334 }),
    textAt(differences.left, 14, "difference, percentage points", smaller),
    heading(wide.count, "count"),
    heading(wide.rate, "rate, %"),
    figureHeadings({ right: wide.figures, step: figureStep, y: top - 8 }),
    ...drawn.map(({ marks }) => marks),
    hairline(bottom, width),
    ...notes,
  ]);
}

function wideRow(row: ChangeRow, axes: Axes, y: number): { marks: string; bottom: number } {
  const names = fitText(row.label, { width: wide.nameWidth, size: 13, lines: 3 });
  const bottom = y + Math.max(32 + names.length * 17, 58);
  const middle = (y + bottom) / 2;
  const ratePlot: Plot = { ...wide.rates, top: y, bottom };
  const differencePlot: Plot = { ...wide.differences, top: y, bottom };
  const firstLine = middle - (wide.lineStep * (row.lines.length - 1)) / 2;
  const marks = [
    hairline(y, wide.width),
    changeMark(row.change, 0, y + 20),
    textLines(names, { x: 0, y: y + 38, step: 17 }, { class: "ink" }),
    ...row.lines.map((line, i) =>
      wideRate(line, { axis: axes.rates, plot: ratePlot, y: firstLine + wide.lineStep * i }),
    ),
    differenceLine(row, { axis: axes.differences, plot: differencePlot, y: middle }),
    differenceColumns(row, wide.figures, middle + 5),
  ];
  return { marks: marks.join(""), bottom };
}

function wideRate(line: IntervalLine, track: Track): string {
  const { y } = track;
  const drawn = intervalLine(line, rateRow, track);
  if (line.estimate.n === 0) return drawn;
  return (
    drawn +
    figureAt({ x: wide.count, y: y + 5 }, line.count, { isHeavy: false }) +
    textAt(wide.rate, y + 5, line.figures.value, {
      "text-anchor": "end",
      "font-size": 13,
      "font-weight": line.earlier ? null : 700,
      class: "figure ink",
    })
  );
}

function wideNotes(note: string, { x, y, width }: { x: number; y: number; width: number }): string[] {
  return fitText(note, { width, size: 12, lines: 2 }).map((text, i) =>
    element("g", {}, textAt(x, y + 34 + 15 * i, text, smaller)),
  );
}

const narrow = { name: "narrow", width: 360, plot: { left: 12, width: 304 }, figures: 356 } as const;

/** A part of a narrow picture, and where it ends. */
interface Block {
  marks: string;
  bottom: number;
}

/** For a phone: first the differences, then the rates, each on its own axis. */
function narrowPicture(picture: ChangePicture, axes: Axes): string {
  const differences = differenceBlock(picture, axes.differences);
  const rates = rateBlock(picture, axes.rates, differences.bottom + 18);
  return formFrame(picture, { ...narrow, height: rates.bottom }, [differences.marks, rates.marks]);
}

function differenceBlock(picture: ChangePicture, axis: Axis): Block {
  const parts = [
    narrowHeading("Difference, percentage points", 14),
    figureHeadings({ right: narrow.figures, step: figureStep, y: 34 }),
  ];
  let y = 42;
  for (const row of picture.rows) {
    const names = narrowNames(row, y + 38);
    const track = names.bottom - 10;
    const plot: Plot = { ...narrow.plot, top: track, bottom: track + 24 };
    parts.push(
      hairline(y, narrow.width),
      changeMark(row.change, 0, y + 20),
      differenceColumns(row, narrow.figures, y + 20),
      names.marks,
      bandAndZero(axis, plot, picture.smallestChangeThatMatters),
      differenceLine(row, { axis, plot, y: track + 12 }),
    );
    y = track + 32;
  }
  const below = axisBelow(axis, y, { unit: "", keepRight: false });
  return { marks: parts.join("") + below.marks, bottom: below.bottom };
}

function rateBlock(picture: ChangePicture, axis: Axis, top: number): Block {
  const parts = [
    narrowHeading("Tags read", top + 14),
    roundKey(picture, { x: 0, y: top + 36, width: narrow.width }),
  ];
  let y = top + 48;
  for (const row of picture.rows) {
    const names = narrowNames(row, y + 20);
    const step = row.lines.length === 1 ? 34 : 40;
    parts.push(
      hairline(y, narrow.width),
      names.marks,
      ...row.lines.map((line, i) => narrowRate(line, axis, names.bottom + step * i)),
    );
    y = names.bottom + step * row.lines.length - 6;
  }
  const below = axisBelow(axis, y, { unit: "%", keepRight: true });
  return { marks: parts.join("") + below.marks, bottom: below.bottom };
}

function narrowHeading(text: string, y: number): string {
  return textAt(0, y, text, { "font-size": 13, "font-weight": 600, class: "ink" });
}

function narrowNames({ label }: ChangeRow, y: number): Block {
  const names = fitText(label, { width: narrow.width, size: 13, lines: 2 });
  return {
    marks: textLines(names, { x: 0, y, step: 17 }, { class: "ink" }),
    bottom: y + 17 * names.length,
  };
}

/** One line below its figures. */
function narrowRate(line: IntervalLine, axis: Axis, baseline: number): string {
  const hasFigure = line.estimate.n > 0;
  const middle = baseline + (hasFigure ? 16 : 12);
  const plot: Plot = { ...narrow.plot, top: middle - 10, bottom: middle + 10 };
  const label = fitLine(`${line.label ?? ""}: ${line.count}`, 196, 13);
  const figures = hasFigure
    ? textAt(0, baseline, label, { "font-size": 13, class: "figure ink" }) +
      figureColumns(line, percent, { right: narrow.figures, y: baseline })
    : "";
  return figures + intervalLine(line, rateRow, { axis, plot, y: middle });
}

function axisBelow(axis: Axis, y: number, ticks: { unit: string; keepRight: boolean }): Block {
  const notes = fitText(axis.note, { width: narrow.width, size: 12, lines: 3 });
  return {
    marks:
      hairline(y, narrow.width) +
      axisMarks(axis, { ...narrow.plot, top: y, bottom: y + 6 }, ticks) +
      textLines(notes, { x: 0, y: y + 36, step: 15 }, smaller),
    bottom: y + 26 + 15 * notes.length,
  };
}
