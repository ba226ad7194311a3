import { percent } from "../../measures/scales.ts";
import type { Axis } from "./axis.ts";
import { changeMark } from "./change-mark.ts";
import type { ChangePicture, ChangeRow } from "./change-rows.ts";
import { bandAndZero, differenceColumns, differenceTrack } from "./difference-track.ts";
import { axisMarks, type Plot } from "./interval-axis.ts";
import { intervalLine } from "./interval-line.ts";
import { figureColumns, hairline, small } from "./interval-row-marks.ts";
import { roundKey } from "./round-key.ts";
import { frame, textAt } from "./svg.ts";
import { fitText } from "./text-fit.ts";

const narrow = { width: 360, plot: 12, plotWidth: 304 };
const right = narrow.width - 4;

interface Block {
  markup: string;
  bottom: number;
}

/** The same picture for a phone: first what became of each rate, then the rates themselves, each on its own axis. */
export function narrowChangePicture(picture: ChangePicture, rateAxis: Axis, pointAxis: Axis): string {
  const differences = differenceBlock(picture, pointAxis, 0);
  const rates = rateBlock(picture, rateAxis, differences.bottom + 18);
  return frame(
    {
      id: `${picture.id}-narrow`,
      width: narrow.width,
      height: rates.bottom,
      title: picture.title,
      description: picture.description,
      className: "narrow",
    },
    differences.markup + rates.markup,
  );
}

function plotAt(top: number, bottom: number): Plot {
  return { left: narrow.plot, width: narrow.plotWidth, top, bottom };
}

function heading(text: string, y: number): string {
  return textAt(0, y, text, { "font-size": 14, "font-weight": 600, class: "ink" });
}

function differenceBlock(picture: ChangePicture, axis: Axis, top: number): Block {
  const parts = [
    heading("Difference, percentage points", top + 14),
    ...["lower", "value", "upper"].map((word, i) =>
      textAt(right - 50 * (2 - i), top + 34, word, { ...small, "font-size": 12, "text-anchor": "end" }),
    ),
  ];
  let y = top + 42;
  for (const row of picture.rows) {
    parts.push(hairline(y, narrow.width), changeMark(row.change, 0, y + 20));
    parts.push(differenceColumns(row, right, y + 20));
    const names = fitText(row.label, narrow.width, 14, 2);
    names.forEach((text, i) => {
      parts.push(textAt(0, y + 38 + 17 * i, text, { class: "ink" }));
    });
    const track = y + 28 + names.length * 17;
    const plot = plotAt(track, track + 24);
    parts.push(bandAndZero(axis, plot, picture.smallestChangeThatMatters));
    parts.push(differenceTrack(row, axis, plot, track + 12));
    y = track + 32;
  }
  return { markup: parts.join("") + axisBelow(axis, y, "", false), bottom: y + 26 + noteHeight(axis) };
}

function rateBlock(picture: ChangePicture, axis: Axis, top: number): Block {
  const parts = [heading("Tags read", top + 14), roundKey(picture, 0, top + 36, narrow.width)];
  let y = top + 48;
  for (const row of picture.rows) {
    parts.push(hairline(y, narrow.width));
    const names = fitText(row.label, narrow.width, 14, 2);
    names.forEach((text, i) => {
      parts.push(textAt(0, y + 20 + 17 * i, text, { class: "ink" }));
    });
    let baseline = y + 20 + names.length * 17;
    for (const line of row.lines) baseline += rateLine(row, line, axis, baseline, parts);
    y = baseline - 6;
  }
  return { markup: parts.join("") + axisBelow(axis, y, "%", true), bottom: y + 26 + noteHeight(axis) };
}

/** Draws one line below its figures and says how much room it took. */
function rateLine(
  row: ChangeRow,
  line: ChangeRow["lines"][number],
  axis: Axis,
  baseline: number,
  parts: string[],
): number {
  const hasFigure = line.estimate.n > 0;
  if (hasFigure) {
    const [label = ""] = fitText(`${line.label ?? ""}: ${line.count}`, 196, 13.5, 1);
    parts.push(textAt(0, baseline, label, { "font-size": 13.5, class: "figure ink" }));
    parts.push(figureColumns(line, percent, { right, y: baseline }));
  }
  const middle = baseline + (hasFigure ? 16 : 12);
  const plot = plotAt(middle - 10, middle + 10);
  parts.push(intervalLine(line, { state: null, limit: null }, axis, plot, middle));
  return row.lines.length === 1 ? 34 : 40;
}

function axisBelow(axis: Axis, y: number, unit: string, keepRight: boolean): string {
  const notes = fitText(axis.note, narrow.width, 12, 3).map((text, i) =>
    textAt(0, y + 36 + 15 * i, text, { ...small, "font-size": 12 }),
  );
  return hairline(y, narrow.width) + axisMarks(axis, plotAt(y, y + 6), unit, keepRight) + notes.join("");
}

function noteHeight({ note }: Axis): number {
  return 15 * fitText(note, narrow.width, 12, 3).length;
}
