import type { Axis } from "./axis.ts";
import { axisMarks, axisUnit, goodSide, limitLabels, limitRule, type Plot } from "./interval-axis.ts";
import { intervalLine } from "./interval-line.ts";
import { figureColumns, hairline, small, stateMark } from "./interval-row-marks.ts";
import type { IntervalPicture } from "./interval-rows.ts";
import { frame, textAt } from "./svg.ts";
import { fitText } from "./text-fit.ts";

const narrow = { width: 360, name: 98, plot: 12, plotWidth: 304 };

/** The same picture for a phone: each row's words and figures stand above its track. */
export function narrowIntervalPicture(picture: IntervalPicture, axis: Axis): string {
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
    for (const text of fitText(row.detail, narrow.width - indent, 12.5, 3)) {
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
        figureColumns(line, row.scale, { right: narrow.width - 4, y: baseline + 3 }),
      );
      const plot = plotAt(baseline + 9, baseline + 31);
      if (row.limit !== null) {
        parts.push(goodSide(axis, plot, row.limit, atLeast), limitRule(axis, plot, row.limit));
      }
      parts.push(intervalLine(line, row, axis, plot, baseline + 20));
      baseline += 42;
    }
    y = baseline - 6;
  }
  const plot = plotAt(y, y + 6);
  const unit = axisUnit(picture);
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
