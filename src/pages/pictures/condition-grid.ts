import { percent, rateFigures, withUnit } from "../../measures/scales.ts";
import { countText } from "../../model/number-words.ts";
import type { Estimate } from "../../model/result.ts";
import { element, frame, ink, textAt } from "./svg.ts";
import { fitText, textWidth } from "./text-fit.ts";

export interface GridPicture {
  id: string;
  title: string;
  description: string;
  rowLabel: string;
  columnLabel: string;
  /** Values as they are printed. */
  rowValues: string[];
  columnValues: string[];
  /** Row by row. */
  cells: { passes: number; tagReadRate: Estimate }[];
}

const rowHeight = 50;
const widestName = 150;

/**
 * The conditions walked, as a grid: in each cell the count, the rate and a bar of its interval on one scale for the whole grid.
 * A cell that nobody walked is left open with a dashed outline.
 */
export function conditionGridPicture(picture: GridPicture): string {
  const { columnValues, rowValues, cells } = picture;
  const names = [textWidth(picture.rowLabel, 12.5), ...rowValues.map((value) => textWidth(value, 13.5))];
  const nameWidth = Math.min(widestName, Math.max(...names) + 14);
  const cellWidth = Math.max(96, Math.min(124, 690 / Math.max(1, columnValues.length)));
  const width = nameWidth + cellWidth * columnValues.length;
  const top = 44;
  const from = scaleStart(cells.map((cell) => cell.tagReadRate));
  const heads = columnValues.map((value, index) =>
    textAt(nameWidth + cellWidth * index + 8, top - 8, fitText(value, cellWidth - 12, 13.5, 1)[0] ?? "", {
      "font-size": 13.5,
      "font-weight": 600,
      class: "ink",
    }),
  );
  const rowHeads = rowValues.map((value, index) =>
    textAt(0, top + rowHeight * index + 29, fitText(value, nameWidth - 12, 13.5, 1)[0] ?? "", {
      "font-size": 13.5,
      "font-weight": 600,
      class: "ink",
    }),
  );
  const quiet = { "font-size": 12.5, class: "second", fill: ink.second };
  const axes =
    textAt(0, top - 8, fitText(picture.rowLabel, nameWidth - 12, 12.5, 1)[0] ?? "", quiet) +
    textAt(nameWidth + 8, 14, fitText(picture.columnLabel, width - nameWidth, 12.5, 1)[0] ?? "", quiet);
  const bodies = cells.map((cell, index) =>
    gridCell(
      cell,
      nameWidth + cellWidth * (index % columnValues.length),
      top + rowHeight * Math.floor(index / columnValues.length),
      cellWidth,
      from,
    ),
  );
  const bottom = top + rowHeight * rowValues.length;
  const note = textAt(0, bottom + 20, `Bars run from ${Math.round(from * 100)} to 100 %.`, quiet);
  return frame(
    {
      id: picture.id,
      width,
      height: bottom + 28,
      title: picture.title,
      description: picture.description,
      className: "grid",
    },
    axes + heads.join("") + rowHeads.join("") + bodies.join("") + note,
  );
}

/** The lowest bound shown, rounded down to a tenth. */
function scaleStart(estimates: Estimate[]): number {
  const lowest = Math.min(0.9, ...estimates.map((estimate) => estimate.lower ?? 1));
  return Math.max(0, Math.floor(lowest * 10 + 1e-9) / 10);
}

function gridCell(
  { passes, tagReadRate }: GridPicture["cells"][number],
  x: number,
  y: number,
  width: number,
  from: number,
): string {
  const box = (dashed: boolean) =>
    element("rect", {
      x: x + 2,
      y: y + 2,
      width: width - 4,
      height: rowHeight - 4,
      class: dashed ? "gap" : "cell hair",
      fill: "none",
      stroke: dashed ? ink.second : ink.hair,
      "stroke-width": 1,
      "stroke-dasharray": dashed ? "4 4" : null,
    });
  const quiet = { "font-size": 12.5, class: "second", fill: ink.second };
  if (passes === 0) return box(true) + textAt(x + 9, y + 29, "not walked", quiet);
  const { k, n, value, lower, upper } = tagReadRate;
  if (value === null) return box(false) + textAt(x + 9, y + 29, "none presented", quiet);
  const figure = withUnit(rateFigures(tagReadRate, "at-least").value, percent);
  const left = x + 9;
  const right = x + width - 11;
  const at = (rate: number) => left + (right - left) * Math.max(0, (rate - from) / (1 - from));
  const line = (
    x1: number,
    x2: number,
    y1: number,
    y2: number,
    weight: number,
    className: string,
    stroke: string,
  ) => element("line", { x1, x2, y1, y2, class: className, stroke, "stroke-width": weight });
  const base = y + 38;
  return (
    box(false) +
    textAt(left, y + 22, figure, { "font-size": 13.5, "font-weight": 700, class: "ink" }) +
    textAt(right, y + 22, `${countText(k)}/${countText(n)}`, {
      ...quiet,
      "text-anchor": "end",
      "font-size": 12,
    }) +
    line(left, right, base, base, 1, "hair", ink.hair) +
    line(at(lower ?? 0), at(upper ?? 1), base, base, 3, "limit", ink.text) +
    line(at(value), at(value), base - 5, base + 5, 2, "limit", ink.text)
  );
}
