import { percent } from "../../measures/scales.ts";
import type { Axis } from "./axis.ts";
import { axisMarks, axisUnit, goodSide, limitLabels, limitRule, type Plot } from "./interval-axis.ts";
import { intervalLine } from "./interval-line.ts";
import { figureColumns, figureStep, figuresEnd, hairline, small, stateMark } from "./interval-row-marks.ts";
import type { IntervalPicture } from "./interval-rows.ts";
import { frame, textAt } from "./svg.ts";
import { fitText } from "./text-fit.ts";

const rowLine = 24;

/** Where the columns of the wide form stand. */
const wide = {
  width: 912,
  state: 0,
  name: 100,
  nameWidth: 246,
  plot: 358,
  plotWidth: 262,
  count: 728,
  figures: 908,
};

function heading(x: number, y: number, text: string, anchor: "start" | "end"): string {
  return textAt(x, y, text, { ...small, "font-size": 12, "text-anchor": anchor });
}

/**
 * The interval picture for a page's width: state and name at the left, the intervals on one axis, counts and the three figures
 * at the right.
 */
export function wideIntervalPicture(picture: IntervalPicture, axis: Axis): string {
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
    const detailLines = fitText(row.detail, nameWidth, 12.5, 3);
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
        intervalLine(line, row, axis, plotAt(y, y + height), middle),
        textAt(wide.count, middle + 5, line.count, {
          "text-anchor": "end",
          "font-size": 13.5,
          class: "figure ink",
        }),
        figureColumns(line, row.scale, { right: wide.figures, y: middle + 5 }),
      );
    });
    y += height;
  }
  const plot = plotAt(top, y);
  const limits = limitLabels(picture, axis, plot);
  const unit = axisUnit(picture);
  const end = figuresEnd(first?.scale ?? percent, wide.figures);
  const headings =
    heading(wide.count, top - 6, "count", "end") +
    ["lower", "value", "upper"]
      .map((word, place) => heading(end - figureStep * (2 - place), top - 6, word, "end"))
      .join("");
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
