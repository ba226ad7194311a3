import type { Axis } from "./axis.ts";
import { changeMark } from "./change-mark.ts";
import type { ChangePicture, ChangeRow } from "./change-rows.ts";
import { bandAndZero, differenceColumns, differenceTrack } from "./difference-track.ts";
import { axisMarks, type Plot } from "./interval-axis.ts";
import { intervalLine } from "./interval-line.ts";
import { hairline, small } from "./interval-row-marks.ts";
import { roundKey } from "./round-key.ts";
import { element, frame, ink, textAt } from "./svg.ts";
import { fitText } from "./text-fit.ts";

/** Where the columns of the wide form stand. */
const wide = {
  width: 912,
  nameWidth: 178,
  rates: 190,
  ratesWidth: 196,
  count: 474,
  rate: 524,
  differences: 548,
  differencesWidth: 204,
  figures: 906,
};
const top = 46;
const lineStep = 22;
const figure = { "text-anchor": "end", "font-size": 13.5 };

/** Before and after on one axis and the difference on another, for a page's width. */
export function wideChangePicture(picture: ChangePicture, rateAxis: Axis, pointAxis: Axis): string {
  const ratePlot = (from: number, to: number): Plot => ({
    left: wide.rates,
    width: wide.ratesWidth,
    top: from,
    bottom: to,
  });
  const pointPlot = (from: number, to: number): Plot => ({
    left: wide.differences,
    width: wide.differencesWidth,
    top: from,
    bottom: to,
  });
  let y = top;
  const fronts: string[] = [];
  for (const row of picture.rows) {
    const names = fitText(row.label, wide.nameWidth, 14, 3);
    const height = Math.max(32 + names.length * 17, 58);
    fronts.push(hairline(y, wide.width), changeMark(row.change, 0, y + 20));
    names.forEach((text, i) => {
      fronts.push(textAt(0, y + 38 + 17 * i, text, { class: "ink" }));
    });
    fronts.push(...rates(row, rateAxis, ratePlot(y, y + height), y + height / 2));
    fronts.push(
      differenceTrack(row, pointAxis, pointPlot(y, y + height), y + height / 2),
      differenceColumns(row, wide.figures, y + height / 2 + 5),
    );
    y += height;
  }
  const heading = (x: number, text: string, anchor: "start" | "end") =>
    textAt(x, top - 8, text, { ...small, "font-size": 12, "text-anchor": anchor });
  const notes = [
    ...noteLines(
      rateAxis.note,
      wide.rates,
      (pointAxis.note === "" ? wide.width : wide.differences - 16) - wide.rates,
      y,
    ),
    ...noteLines(pointAxis.note, wide.differences, wide.width - wide.differences, y),
  ];
  return frame(
    {
      id: `${picture.id}-wide`,
      width: wide.width,
      height: y + 24 + (notes.length === 0 ? 0 : 34),
      title: picture.title,
      description: picture.description,
      className: "wide",
    },
    axisMarks(rateAxis, ratePlot(top, y), "%", true) +
      // The band lies over the fine lines of its axis, the rule at 0 over both.
      axisMarks(pointAxis, pointPlot(top, y), "", false) +
      bandAndZero(pointAxis, pointPlot(top, y), picture.smallestChangeThatMatters) +
      roundKey(picture, wide.rates, 14, 334) +
      textAt(wide.differences, 14, "difference, percentage points", { ...small, "font-size": 12 }) +
      heading(wide.count, "count", "end") +
      heading(wide.rate, "rate, %", "end") +
      ["lower", "value", "upper"]
        .map((word, i) => heading(wide.figures - 50 * (2 - i), word, "end"))
        .join("") +
      fronts.join("") +
      hairline(y, wide.width) +
      notes.join(""),
  );
}

function rates(row: ChangeRow, axis: Axis, plot: Plot, middle: number): string[] {
  const first = middle - (lineStep * (row.lines.length - 1)) / 2;
  return row.lines.flatMap((line, index) => {
    const y = first + lineStep * index;
    const drawn = intervalLine(line, { state: null, limit: null }, axis, plot, y);
    if (line.estimate.n === 0) return [drawn];
    return [
      drawn,
      textAt(wide.count, y + 5, line.count, { ...figure, class: "figure second", fill: ink.second }),
      textAt(wide.rate, y + 5, line.figures.value, {
        ...figure,
        "font-weight": line.earlier ? null : 700,
        class: "figure ink",
      }),
    ];
  });
}

function noteLines(note: string, x: number, width: number, y: number): string[] {
  return fitText(note, width, 12, 2).map((text, i) =>
    element("g", {}, textAt(x, y + 34 + 15 * i, text, { ...small, "font-size": 12 })),
  );
}
