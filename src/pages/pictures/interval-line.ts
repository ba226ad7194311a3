import type { Figures, Scale } from "../../measures/scales.ts";
import { type Estimate, onMissOf } from "../../model/estimate.ts";
import type { Sense } from "../../model/facility.ts";
import type { State } from "../../model/state.ts";
import { type Axis, type Plot, xOn } from "./axis.ts";
import type { Conceded } from "./signs.ts";
import { element, figureAt, horizontal, ink, small, smaller, textAt, vertical } from "./svg.ts";

/** One line of a row: an estimate with its bounds. */
export interface IntervalLine {
  /** The title of its round; null where the row has one line. */
  label: string | null;
  estimate: Estimate;
  /** `171 of 200`. */
  count: string;
  figures: Figures;
  /** An earlier line is drawn thin and open, the later one full. */
  earlier: boolean;
  /** The text in the track where there is no estimate: `no pass walked`. */
  emptyWord: string;
}

/** One row of the interval picture. */
export interface IntervalRow {
  label: string;
  /** Where the label leads to; left out where it leads nowhere. */
  href?: string;
  /** A second, quieter line under the label: the group, the criterion. */
  detail: string;
  /** What the rows from here on have in common, and where it leads; left out where it is said already. */
  heading?: { text: string; href: string };
  /** Sentences below the row. */
  notes?: string[];
  /** Null where the row is not judged: no box, no word. */
  state: State | null;
  conceded: Conceded;
  scale: Scale;
  sense: Sense;
  /** Null where no limit applies. */
  limit: number | null;
  lines: IntervalLine[];
}

/** Where a line is drawn. */
export interface Track {
  axis: Axis;
  plot: Plot;
  y: number;
}

/** The dotted line where nothing was counted. */
export function emptyTrack(left: number, right: number, y: number): string {
  return horizontal(left, right, y, {
    class: "track",
    stroke: ink.second,
    "stroke-width": 0.75,
    "stroke-dasharray": "2 4",
  });
}

/**
 * One estimate on the shared axis: a line from lower to upper and an upright at the value.
 *
 * A bound that does not exist is a dashed line to the end of the track. A bound that falls on a missed tag is a solid line to
 * the left end with an open wedge, since a missed tag ranks below every level. Where nothing was counted the track is empty,
 * with a word.
 */
export function intervalLine(
  line: IntervalLine,
  row: Pick<IntervalRow, "state" | "limit">,
  { axis, plot, y }: Track,
): string {
  const { estimate, earlier } = line;
  const { state } = row;
  const left = plot.left;
  const right = plot.left + plot.width;
  if (estimate.n === 0) {
    const limitX = row.limit === null ? left : xOn(axis, plot, row.limit);
    return emptyLine(line.emptyWord, { left, right, limitX, y });
  }
  const stroke = state === null ? ink.text : ink[state];
  const solid = (from: number, to: number) =>
    horizontal(from, to, y, {
      class: "interval",
      stroke,
      "stroke-width": earlier || state === "untested" ? 1.25 : 3.5,
    });
  // Undecided is open in the middle, so that it differs from met and not met without colour too.
  const core = (from: number, to: number) =>
    state === "undecided" && !earlier
      ? horizontal(from, to, y, { class: "interval-core", stroke: ink.paper, "stroke-width": 1.5 })
      : "";
  const dashed = (from: number, to: number) =>
    horizontal(from, to, y, {
      class: "interval",
      stroke,
      "stroke-width": 1.25,
      "stroke-dasharray": "3 3",
    });
  const { lower, value, upper } = ends(estimate, axis, plot);
  const from = lower ?? value ?? upper ?? right;
  const to = upper ?? value ?? lower ?? left;
  const parts = [
    state === "untested" ? emptyTrack(left, right, y) : "",
    to > from ? solid(from, to) + core(from, to) : "",
    lower === null ? dashed(left, from) : "",
    upper === null ? dashed(to, right) : "",
    onMissOf(estimate).lower ? openWedge(left, y, stroke) : "",
    estimate.value !== null && value !== null ? valueMark(value, y, { stroke, earlier }) : "",
  ];
  return element("g", { class: `line ${state ?? "plain"}` }, parts.join(""));
}

/** Where the three figures stand: at the left end where they fall on a missed tag, null where they do not exist. */
function ends(
  estimate: Estimate,
  axis: Axis,
  plot: Plot,
): Record<"lower" | "value" | "upper", number | null> {
  const { lower, value, upper } = estimate;
  const onMiss = onMissOf(estimate);
  const place = (figure: number | null, missed: boolean) =>
    figure !== null ? xOn(axis, plot, figure) : missed ? plot.left : null;
  return {
    lower: place(lower, onMiss.lower),
    value: place(value, onMiss.value),
    upper: place(upper, onMiss.upper),
  };
}

/** The word is on the side of the limit with more room, so that the rule never crosses it. */
function emptyLine(
  word: string,
  { left, right, limitX, y }: { left: number; right: number; limitX: number; y: number },
): string {
  const start = limitX - left > right - limitX ? left : limitX;
  return emptyTrack(left, right, y) + textAt(start + 7, y - 5, word, small);
}

/** An open circle for an earlier line, an upright for the last one. */
export function valueMark(
  x: number,
  y: number,
  { stroke, earlier, half = 7 }: { stroke: string; earlier: boolean; half?: number },
): string {
  return earlier
    ? element("circle", {
        cx: x,
        cy: y,
        r: 3.25,
        class: "interval-open",
        fill: ink.paper,
        stroke,
        "stroke-width": 1.25,
      })
    : vertical(x, y - half, y + half, { class: "interval", stroke, "stroke-width": 2.25 });
}

function openWedge(x: number, y: number, stroke: string): string {
  const point = (dx: number, dy: number) => `${(x + dx).toFixed(2)},${(y + dy).toFixed(2)}`;
  return element("path", {
    d: `M${point(7, -5)}L${point(0, 0)}L${point(7, 5)}Z`,
    class: "interval-open",
    fill: ink.paper,
    stroke,
    "stroke-width": 1.25,
  });
}

/** `98.9  99.7  99.9`: three columns that end at `right`, `step` apart, the estimate heavier; long figures set smaller. */
export function threeFigures(
  { lower, value, upper }: { lower: string; value: string; upper: string },
  { right, step, y }: { right: number; step: number; y: number },
): string {
  const column = (text: string, place: number, isHeavy: boolean) =>
    figureAt({ x: right - step * place, y }, text, { isHeavy, size: text.length > 6 ? 11.5 : 13 });
  return column(lower, 2, false) + column(value, 1, true) + column(upper, 0, false);
}

/** The words above the columns of `threeFigures`. */
export function figureHeadings({ right, step, y }: { right: number; step: number; y: number }): string {
  return ["lower", "value", "upper"]
    .map((word, place) => textAt(right - step * (2 - place), y, word, { ...smaller, "text-anchor": "end" }))
    .join("");
}

export function noFigure(right: number, y: number): string {
  return textAt(right, y, "no figure", { ...small, "text-anchor": "end" });
}

/** As many rows as fit on a printed page with the caption. */
const mostRows = 12;

/** The first part of a long picture fits below the text at the top of a printed page. */
const leadingRows = 5;

/** Splits rows so that no part is cut by the end of a page; the worst few come first. */
function rowParts<Row>(rows: Row[]): Row[][] {
  if (rows.length <= mostRows) return [rows];
  const rest = rows.slice(leadingRows);
  const size = Math.ceil(rest.length / Math.ceil(rest.length / mostRows));
  const later = Array.from({ length: Math.ceil(rest.length / size) }, (_, index) =>
    rest.slice(index * size, (index + 1) * size),
  );
  return [rows.slice(0, leadingRows), ...later];
}

/** Draws a picture in as many parts as its rows need, each with its own id and title. */
export function inParts<Picture extends { id: string; title: string; rows: unknown[] }>(
  picture: Picture,
  draw: (part: Picture) => string,
): string {
  const parts = rowParts(picture.rows);
  if (parts.length === 1) return draw(picture);
  return parts
    .map((rows, index) =>
      draw({
        ...picture,
        id: `${picture.id}-${index + 1}`,
        title: `${picture.title}, part ${index + 1} of ${parts.length}`,
        rows,
      }),
    )
    .join("");
}
