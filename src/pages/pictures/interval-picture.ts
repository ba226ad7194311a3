import { limitPhrase, percent, type Scale } from "../../measures/scales.ts";
import { sentenceStart } from "../../model/number-words.ts";
import { stateWord } from "../words/verdicts.ts";
import {
  type Axis,
  axisMarks,
  evenRateAxis,
  fromZeroAxis,
  goodSide,
  levelAxis,
  limitRule,
  type Plot,
  stretchedRateAxis,
  xOn,
} from "./axis.ts";
import {
  figureHeadings,
  type IntervalLine,
  type IntervalRow,
  inParts,
  intervalLine,
  noFigure,
  threeFigures,
} from "./interval-line.ts";
import { stateBoxMark } from "./signs.ts";
import {
  type Box,
  element,
  formFrame,
  hairline,
  ink,
  rectangle,
  small,
  smaller,
  stacked,
  textAt,
  textLines,
} from "./svg.ts";
import { fitLine, fitText, textWidth } from "./text-fit.ts";

export interface IntervalPicture {
  /** Prefix of the ids inside, unique on the page. */
  id: string;
  title: string;
  description: string;
  /** Worst first. All of one unit and one sense. */
  rows: IntervalRow[];
  /** `stretched` uses a logarithmic scale near the required end; only rates can be stretched. */
  scale: "even" | "stretched";
}

/**
 * Intervals against their limits, in two forms; the style sheet shows the one that fits, and paper always has the wide one.
 * Many rows are split into several pictures on the same axis, the worst few first, so that none is cut by the end of a page.
 */
export function intervalPicture(picture: IntervalPicture): string {
  const axis = sharedAxis(picture);
  return inParts(picture, (part) => widePicture(part, axis) + narrowPicture(part, axis));
}

/** The axis that all rows of a picture share. */
function sharedAxis({ rows, scale }: IntervalPicture): Axis {
  const shown = rows.flatMap((row) => [
    row.limit,
    ...row.lines.flatMap(({ estimate }) => [estimate.value, estimate.lower, estimate.upper]),
  ]);
  const values = shown.filter((value) => value !== null);
  const [first] = rows;
  const { axis, unit, hasWordUnit } = first?.scale ?? percent;
  if (axis === "level") return levelAxis(values);
  if (axis === "from-zero") return fromZeroAxis(values, hasWordUnit ? `${sentenceStart(unit)}.` : "");
  const sense = first?.sense ?? "at-least";
  return scale === "stretched" ? stretchedRateAxis(values, sense) : evenRateAxis(values, sense);
}

/** The required end keeps its labels. A unit of several words is too long for the axis: the note says it. */
function ticksOf({ rows: [first] }: IntervalPicture): { unit: string; keepRight: boolean } {
  const { unit, hasWordUnit } = first?.scale ?? percent;
  return { unit: hasWordUnit ? "" : unit, keepRight: first?.sense !== "at-most" };
}

/**
 * Where the upper bound ends, and the distance between the three figures. A short unit follows them; a long one would push
 * them into the count.
 */
function figurePlaces({ unit, hasWordUnit }: Scale, right: number): { step: number; right: number } {
  const room = hasWordUnit ? 2 : Math.round(textWidth(unit, 12.5) + 5.4);
  return { step: 50, right: right - room };
}

/** `98.9  99.7  99.9 %`, the estimate heavier: three columns that end at `right`. */
export function figureColumns(
  { figures, estimate }: IntervalLine,
  scale: Scale,
  { right, y }: { right: number; y: number },
): string {
  if (estimate.n === 0) return noFigure(right, y);
  const unit = scale.hasWordUnit ? "" : textAt(right, y, scale.unit, { ...small, "text-anchor": "end" });
  return threeFigures(figures, { ...figurePlaces(scale, right), y }) + unit;
}

interface Label {
  x: number;
  half: number;
  /** 0 next to the plot. */
  level: number;
  text: string;
}

/** The limits of the rows; where there are several only their values are written, under a heading of their own. */
function limitLabels({ rows }: IntervalPicture, axis: Axis, plot: Pick<Plot, "left" | "width">): Label[] {
  const limits = new Map<number, string>();
  const several = hasSeveralLimits(rows);
  for (const { limit, scale, sense } of rows) {
    if (limit !== null) limits.set(limit, several ? scale.stated(limit) : limitPhrase(limit, scale, sense));
  }
  const placed: Label[] = [];
  for (const [limit, text] of [...limits].sort(([a], [b]) => a - b)) {
    const half = textWidth(text, 12.5) / 2;
    const centre = xOn(axis, plot, limit);
    const x = Math.min(Math.max(centre, plot.left + half), plot.left + plot.width - half + 24);
    let level = 0;
    while (placed.some((other) => other.level === level && Math.abs(other.x - x) < other.half + half + 8))
      level += 1;
    placed.push({ x, half, level, text });
  }
  return placed;
}

function hasSeveralLimits(rows: IntervalRow[]): boolean {
  return new Set(rows.map(({ limit }) => limit).filter((limit) => limit !== null)).size > 1;
}

function labelsHeight(labels: Label[]): number {
  return 15 * labels.reduce((height, { level }) => Math.max(height, level + 1), 0) + 6;
}

/** The values of the limits on top of their rules, raised where two would touch. */
function limitLabelMarks(labels: Label[], rows: IntervalRow[], plot: Plot): string {
  const texts = labels.map(({ x, level, text }) =>
    textAt(x, plot.top - 6 - 15 * level, text, {
      "text-anchor": "middle",
      "font-size": 12.5,
      "font-weight": 600,
      class: "ink",
    }),
  );
  const beside = plot.left > 100;
  const first = Math.min(...labels.map(({ x, half }) => x - half));
  const hasRoom = beside || first > plot.left - 10 + textWidth("limits", 12) + 6;
  const heading =
    hasSeveralLimits(rows) && hasRoom
      ? textAt(plot.left - 10, plot.top - 6, "limits", {
          "text-anchor": beside ? "end" : "start",
          ...smaller,
        })
      : "";
  return texts.join("") + heading;
}

/** The state's box and word; nothing for a row that is not judged. */
function stateMark({ state, conceded }: IntervalRow, y: number): string {
  if (state === null) return "";
  const word = textAt(20, y, stateWord(state), {
    "font-weight": 600,
    class: `word ${state}`,
    fill: ink[state],
  });
  return stateBoxMark(state, { x: 0, y: y - 12, size: 14 }, conceded) + word;
}

/** The label and the quieter detail of a row, line below line, the first baseline at `y`; and where they end. */
function rowNames(
  { label, detail, href }: IntervalRow,
  place: { left: number; width: number; y: number; detailStep: number },
): { marks: string; end: number } {
  const { left, width, y, detailStep } = place;
  const labels = fitText(label, { width, size: 13, lines: 4 });
  const details = fitText(detail, { width, size: 12.5, lines: 3 });
  const detailTop = y + 17 * labels.length;
  const reach = { x: left - 4, y: y - 16, width: width + 4, height: 17 * labels.length + 8 };
  return {
    marks:
      (href === undefined
        ? textLines(labels, { x: left, y, step: 17 }, { class: "ink" })
        : linked(
            href,
            reach,
            textLines(labels, { x: left, y, step: 17 }, { class: "link", fill: ink.text }),
          )) + textLines(details, { x: left, y: detailTop - 1, step: detailStep }, small),
    end: detailTop + detailStep * details.length,
  };
}

const headingHeight = 30;
const noteStep = 15;

/** The line that names what the next rows have in common: a link, tall enough for a finger. */
function headingMark({ heading }: IntervalRow, y: number, width: number): string {
  if (heading === undefined) return "";
  const text = fitLine(heading.text, width - 4, 13);
  const room = { x: 0, y: y + 2, width: Math.min(width, textWidth(text, 13) + 8), height: headingHeight - 4 };
  return linked(
    heading.href,
    room,
    textAt(0, y + 21, text, { "font-size": 13, "font-weight": 700, class: "link", fill: ink.text }),
  );
}

/** A link that is as large as its room, whatever the text. */
function linked(href: string, room: Box, text: string): string {
  return element("a", { href }, rectangle(room, { fill: "none", "pointer-events": "all" }) + text);
}

/** Notes cover the lines of the axis behind them. */
function noteMarks(notes: string[], { x, y, width }: { x: number; y: number; width: number }): string {
  if (notes.length === 0) return "";
  const plate = { x, y: y + 1, width, height: noteStep * notes.length + 3 };
  return (
    rectangle(plate, { class: "plate", fill: ink.paper }) +
    textLines(notes, { x, y: y + 11, step: noteStep }, small)
  );
}

function notesOf({ notes = [] }: IntervalRow, width: number): string[] {
  return notes.flatMap((note) => fitText(note, { width, size: 12.5, lines: 5 }));
}

/** One row in layers, from back to front: behind the axis, the rule of its limit, everything else; and where it ends. */
interface DrawnRow {
  behind: string;
  rule: string;
  front: string;
  bottom: number;
}

const wide = {
  name: "wide",
  width: 912,
  stateWidth: 100,
  nameWidth: 246,
  plot: { left: 358, width: 262 },
  count: 728,
  figures: 908,
  lineStep: 24,
} as const;

/** For a page's width: state and name at the left, the intervals on one axis, counts and the three figures at the right. */
function widePicture(picture: IntervalPicture, axis: Axis): string {
  const { rows } = picture;
  const labels = limitLabels(picture, axis, wide.plot);
  const top = labelsHeight(labels) + 4;
  // Rows that are not judged need no room for a state.
  const nameLeft = rows.some(({ state }) => state !== null) ? wide.stateWidth : 0;
  const { drawn, bottom } = stacked(rows, top, (row, y) => wideRow(row, axis, { y, nameLeft }));
  const plot: Plot = { ...wide.plot, top, bottom };
  const places = figurePlaces(rows[0]?.scale ?? percent, wide.figures);
  const { note } = axis;
  return formFrame(picture, { ...wide, height: bottom + (note === "" ? 22 : 38) }, [
    ...drawn.map(({ behind }) => behind),
    axisMarks(axis, plot, ticksOf(picture)),
    ...drawn.map(({ rule }) => rule),
    ...drawn.map(({ front }) => front),
    hairline(bottom, wide.width),
    limitLabelMarks(labels, rows, plot),
    textAt(wide.count, top - 6, "count", { ...smaller, "text-anchor": "end" }),
    figureHeadings({ ...places, y: top - 6 }),
    note === "" ? "" : textAt(wide.plot.left, bottom + 32, note, smaller),
  ]);
}

function wideRow(
  row: IntervalRow,
  axis: Axis,
  { y: top, nameLeft }: { y: number; nameLeft: number },
): DrawnRow {
  const { limit, lines } = row;
  const y = row.heading === undefined ? top : top + headingHeight;
  const single = lines.length === 1;
  const nameWidth = wide.stateWidth + wide.nameWidth - nameLeft;
  const names = rowNames(row, { left: nameLeft, width: nameWidth, y: y + 20, detailStep: 15 });
  const nameHeight = names.end - y - 8;
  const height = Math.max(single ? 34 : 30, nameHeight) + (single ? 0 : lines.length * wide.lineStep);
  const plot: Plot = { ...wide.plot, top: y, bottom: y + height };
  const notes = notesOf(row, wide.width - nameLeft);
  const firstLine = single ? y + height / 2 : y + nameHeight + wide.lineStep / 2 - 2;
  const marks = lines.map((line, index) => {
    const middle = firstLine + index * wide.lineStep;
    const count = { "text-anchor": "end", "font-size": 13, class: "figure ink" };
    return (
      (line.label === null ? "" : textAt(nameLeft, middle + 4, fitLine(line.label, nameWidth, 12.5), small)) +
      intervalLine(line, row, { axis, plot, y: middle }) +
      textAt(wide.count, middle + 5, line.count, count) +
      figureColumns(line, row.scale, { right: wide.figures, y: middle + 5 })
    );
  });
  return {
    behind: limit === null ? "" : goodSide(axis, plot, { limit, sense: row.sense }),
    rule: limit === null ? "" : limitRule(axis, plot, limit),
    front:
      (row.heading === undefined ? "" : hairline(top, wide.width)) +
      headingMark(row, top, wide.width) +
      hairline(y, wide.width) +
      stateMark(row, y + 20) +
      names.marks +
      marks.join("") +
      noteMarks(notes, { x: nameLeft, y: plot.bottom, width: wide.width - nameLeft }),
    bottom: plot.bottom + (notes.length === 0 ? 0 : noteStep * notes.length + 5),
  };
}

const narrow = {
  name: "narrow",
  width: 360,
  stateWidth: 98,
  plot: { left: 12, width: 304 },
  lineStep: 42,
} as const;

/** For a phone: each row's words and figures stand above its track. */
function narrowPicture(picture: IntervalPicture, axis: Axis): string {
  const { rows } = picture;
  const labels = limitLabels(picture, axis, narrow.plot);
  const top = labelsHeight(labels) + 4;
  const { drawn, bottom } = stacked(rows, top, (row, y) => narrowRow(row, axis, y));
  const notes = fitText(axis.note, { width: narrow.width, size: 12, lines: 3 });
  return formFrame(picture, { ...narrow, height: bottom + 30 + 15 * notes.length }, [
    limitLabelMarks(labels, rows, { ...narrow.plot, top, bottom }),
    ...drawn.map(({ front }) => front),
    hairline(bottom, narrow.width),
    axisMarks(axis, { ...narrow.plot, top: bottom, bottom: bottom + 6 }, ticksOf(picture)),
    textLines(notes, { x: 0, y: bottom + 38, step: 15 }, smaller),
  ]);
}

function narrowRow(row: IntervalRow, axis: Axis, top: number): DrawnRow {
  const y = row.heading === undefined ? top : top + headingHeight;
  const { limit, lines } = row;
  const nameLeft = row.state === null ? 0 : narrow.stateWidth;
  const names = rowNames(row, {
    left: nameLeft,
    width: narrow.width - nameLeft,
    y: y + 20,
    detailStep: 16,
  });
  const marks = lines.map((line, index) => {
    const baseline = names.end + narrow.lineStep * index + 3;
    const count = line.label === null ? line.count : `${line.label}: ${line.count}`;
    const plot: Plot = { ...narrow.plot, top: baseline + 6, bottom: baseline + 28 };
    return (
      textAt(0, baseline, fitLine(count, 190, 13), { "font-size": 13, class: "figure ink" }) +
      figureColumns(line, row.scale, { right: narrow.width - 4, y: baseline }) +
      (limit === null
        ? ""
        : goodSide(axis, plot, { limit, sense: row.sense }) + limitRule(axis, plot, limit)) +
      intervalLine(line, row, { axis, plot, y: baseline + 17 })
    );
  });
  const notes = notesOf(row, narrow.width);
  const bottom = names.end + narrow.lineStep * lines.length - 6;
  return {
    behind: "",
    rule: "",
    front:
      (row.heading === undefined ? "" : hairline(top, narrow.width)) +
      headingMark(row, top, narrow.width) +
      hairline(y, narrow.width) +
      stateMark(row, y + 20) +
      names.marks +
      marks.join("") +
      noteMarks(notes, { x: 0, y: bottom, width: narrow.width }),
    bottom: bottom + (notes.length === 0 ? 0 : noteStep * notes.length + 6),
  };
}
