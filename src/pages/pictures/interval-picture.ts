import { stateWord } from "../words/states.ts";
import type { Axis } from "./axis.ts";
import { axisMarks, goodSide, limitLabels, limitRule, type Plot, sharedAxis } from "./interval-axis.ts";
import { intervalLine } from "./interval-line.ts";
import type { IntervalLine, IntervalPicture, IntervalRow } from "./interval-rows.ts";
import { stateBoxMark } from "./state-box.ts";
import { element, frame, ink, textAt } from "./svg.ts";
import { fitText } from "./text-fit.ts";

const small = { "font-size": 12.5, class: "second", fill: ink.second };
const rowLine = 24;

/** Where the columns of the wide form stand. */
const wide = {
  width: 880,
  state: 0,
  name: 100,
  nameWidth: 216,
  plot: 326,
  plotWidth: 262,
  count: 696,
  figures: 876,
};
const narrow = { width: 360, name: 98, plot: 12, plotWidth: 316 };

function hairline(y: number, width: number): string {
  return element("line", {
    x1: 0,
    x2: width,
    y1: y,
    y2: y,
    class: "hair",
    stroke: ink.hair,
    "stroke-width": 0.75,
  });
}

function stateMark(row: IntervalRow, x: number, y: number): string {
  if (row.state === null) return "";
  return (
    stateBoxMark(row.state, x, y - 12, 14, row.conceded) +
    textAt(x + 20, y, stateWord(row.state), {
      "font-weight": 600,
      class: `word ${row.state}`,
      fill: ink[row.state],
    })
  );
}

/** `98.9  99.7  99.9 %`, the estimate heavier: three columns that end at `right`. */
function figureColumns(line: IntervalLine, right: number, y: number): string {
  const { figures, estimate } = line;
  const unitWidth = figures.unit === "%" ? 16 : 30;
  if (estimate.n === 0) return textAt(right, y, "no figure", { ...small, "text-anchor": "end" });
  const step = figures.unit === "%" ? 50 : 48;
  const end = right - unitWidth;
  const column = (text: string, place: number, heavy: boolean) =>
    textAt(end - step * place, y, text, {
      "text-anchor": "end",
      "font-size": text.length > 6 ? 11.5 : 13.5,
      "font-weight": heavy ? 700 : null,
      class: heavy ? "figure ink" : "figure second",
      fill: heavy ? ink.text : ink.second,
    });
  return (
    column(figures.lower, 2, false) +
    column(figures.value, 1, true) +
    column(figures.upper, 0, false) +
    textAt(right, y, figures.unit, { ...small, "text-anchor": "end" })
  );
}

function heading(x: number, y: number, text: string, anchor: "start" | "end"): string {
  return textAt(x, y, text, { ...small, "font-size": 12, "text-anchor": anchor });
}

/**
 * The interval picture for a page's width: state and name at the left, the intervals on one axis, counts and the three figures
 * at the right.
 */
function wideIntervalPicture(picture: IntervalPicture, axis: Axis): string {
  const [first] = picture.rows;
  const atLeast = first?.sense !== "at-most";
  const plotAt = (top: number, bottom: number): Plot => ({
    left: wide.plot,
    width: wide.plotWidth,
    top,
    bottom,
  });
  const labels = limitLabels(picture, axis, plotAt(0, 0));
  const top = labels.height + 14;
  let y = top;
  const backs: string[] = [];
  const rules: string[] = [];
  const fronts: string[] = [];
  // Rows that are not judged need no room for a state.
  const nameLeft = picture.rows.some(({ state }) => state !== null) ? wide.name : wide.state;
  const nameWidth = wide.name + wide.nameWidth - nameLeft;
  for (const row of picture.rows) {
    const single = row.lines.length === 1;
    const nameLines = fitText(row.label, nameWidth, 14, 2);
    const detailLines = fitText(row.detail, nameWidth, 12.5, 2);
    const nameHeight = nameLines.length * 17 + detailLines.length * 15;
    const height = Math.max(single ? 34 : 30, nameHeight + 12) + (single ? 0 : row.lines.length * rowLine);
    if (row.limit !== null) {
      backs.push(goodSide(axis, plotAt(y, y + height), row.limit, atLeast));
      rules.push(limitRule(axis, plotAt(y, y + height), row.limit));
    }
    fronts.push(hairline(y, wide.width), stateMark(row, wide.state, y + 20));
    let baseline = y + 20;
    for (const text of nameLines) {
      fronts.push(textAt(nameLeft, baseline, text, { class: "ink" }));
      baseline += 17;
    }
    for (const text of detailLines) {
      fronts.push(textAt(nameLeft, baseline - 1, text, small));
      baseline += 15;
    }
    const firstLine = single ? y + height / 2 : y + nameHeight + 12 + rowLine / 2 - 2;
    row.lines.forEach((line, index) => {
      const middle = firstLine + index * rowLine;
      if (line.label !== null)
        fronts.push(textAt(nameLeft, middle + 4, fitText(line.label, nameWidth, 12.5, 1)[0] ?? "", small));
      fronts.push(
        intervalLine(line, row.state, axis, plotAt(y, y + height), middle),
        textAt(wide.count, middle + 5, line.count, {
          "text-anchor": "end",
          "font-size": 13.5,
          class: "figure ink",
        }),
        figureColumns(line, wide.figures, middle + 5),
      );
    });
    y += height;
  }
  const plot = plotAt(top, y);
  const limits = limitLabels(picture, axis, plot);
  const unit = first?.measure === "rssi-quantile" ? "dBm" : "%";
  const headings =
    heading(wide.count, top - 6, "count", "end") +
    heading(wide.figures, top - 6, "lower, value, upper", "end");
  const note = axis.note === "" ? "" : textAt(wide.plot, y + 32, axis.note, { ...small, "font-size": 12 });
  return frame(
    {
      id: `${picture.id}-wide`,
      width: wide.width,
      height: y + (axis.note === "" ? 22 : 38),
      title: picture.title,
      description: picture.description,
      className: "wide",
    },
    backs.join("") +
      axisMarks(axis, plot, unit, atLeast) +
      rules.join("") +
      fronts.join("") +
      hairline(y, wide.width) +
      limits.markup +
      headings +
      note,
  );
}

/** The same picture for a phone: each row's words and figures stand above its track. */
function narrowIntervalPicture(picture: IntervalPicture, axis: Axis): string {
  const [first] = picture.rows;
  const atLeast = first?.sense !== "at-most";
  const plotAt = (top: number, bottom: number): Plot => ({
    left: narrow.plot,
    width: narrow.plotWidth,
    top,
    bottom,
  });
  const labels = limitLabels(picture, axis, plotAt(0, 0));
  const top = labels.height + 4;
  let y = top;
  const parts: string[] = [];
  for (const row of picture.rows) {
    parts.push(hairline(y, narrow.width));
    let baseline = y + 20;
    const indent = row.state === null ? 0 : narrow.name;
    if (row.state !== null) parts.push(stateMark(row, 0, baseline));
    for (const text of fitText(row.label, narrow.width - indent, 14, 2)) {
      parts.push(textAt(indent, baseline, text, { class: "ink" }));
      baseline += 17;
    }
    for (const text of fitText(row.detail, narrow.width - indent, 12.5, 2)) {
      parts.push(textAt(indent, baseline - 1, text, small));
      baseline += 16;
    }
    for (const line of row.lines) {
      const count = line.label === null ? line.count : `${line.label}: ${line.count}`;
      parts.push(
        textAt(0, baseline + 3, fitText(count, 190, 13.5, 1)[0] ?? "", {
          "font-size": 13.5,
          class: "figure ink",
        }),
        figureColumns(line, narrow.width - 4, baseline + 3),
      );
      const plot = plotAt(baseline + 9, baseline + 31);
      if (row.limit !== null) {
        parts.push(goodSide(axis, plot, row.limit, atLeast), limitRule(axis, plot, row.limit));
      }
      parts.push(intervalLine(line, row.state, axis, plot, baseline + 20));
      baseline += 42;
    }
    y = baseline - 6;
  }
  const plot = plotAt(y, y + 6);
  const unit = first?.measure === "rssi-quantile" ? "dBm" : "%";
  const notes = fitText(axis.note, narrow.width, 12, 3);
  const noteMarks = notes.map((text, i) => textAt(0, y + 38 + 15 * i, text, { ...small, "font-size": 12 }));
  return frame(
    {
      id: `${picture.id}-narrow`,
      width: narrow.width,
      height: y + 30 + 15 * notes.length,
      title: picture.title,
      description: picture.description,
      className: "narrow",
    },
    limitLabels(picture, axis, plotAt(top, y)).markup +
      parts.join("") +
      hairline(y, narrow.width) +
      axisMarks(axis, plot, unit, atLeast) +
      noteMarks.join(""),
  );
}

/** What fits on a printed page with its caption. */
const mostRows = 12;

/**
 * Both forms; the style sheet shows the one that fits, and paper always has the wide one. Many rows are parted into several
 * pictures on the same axis, so that none is cut by the end of a page.
 */
export function intervalPicture(picture: IntervalPicture): string {
  const axis = sharedAxis(picture);
  const parts = Math.max(1, Math.ceil(picture.rows.length / mostRows));
  const size = Math.ceil(picture.rows.length / parts);
  return Array.from({ length: parts }, (_, index) => {
    const part: IntervalPicture = {
      ...picture,
      id: parts === 1 ? picture.id : `${picture.id}-${index + 1}`,
      title: parts === 1 ? picture.title : `${picture.title}, part ${index + 1} of ${parts}`,
      rows: picture.rows.slice(index * size, (index + 1) * size),
    };
    return wideIntervalPicture(part, axis) + narrowIntervalPicture(part, axis);
  }).join("");
}
