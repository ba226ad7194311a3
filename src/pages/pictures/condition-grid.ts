import { percent, rateFigures, withUnit } from "../../measures/scales.ts";
import type { Estimate } from "../../model/estimate.ts";
import { countText } from "../../model/number-words.ts";
import { frame, horizontal, ink, rectangle, small, smaller, textAt, vertical } from "./svg.ts";
import { fitLine, textWidth } from "./text-fit.ts";

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
  /** Where the bars begin, 0..1: the same for grids that stand together. */
  from: number;
  /** The cell with a heavy frame, by its place among the cells. */
  marked: number | null;
}

/** Where a text begins, and how wide it may be. */
interface Room {
  x: number;
  y: number;
  width: number;
}

const rowHeight = 50;
const widestName = 150;
const top = 44;

/**
 * The conditions walked, as a grid: in each cell the count, the rate and a bar of its interval on one scale for the whole grid.
 * A combination without a pass has an empty cell with a dashed outline.
 */
export function conditionGridPicture(picture: GridPicture): string {
  const { columnValues, rowValues, cells } = picture;
  const names = [textWidth(picture.rowLabel, 12.5), ...rowValues.map((value) => textWidth(value, 13))];
  const nameWidth = Math.min(widestName, Math.max(...names) + 14);
  const cellWidth = Math.max(96, Math.min(124, 690 / Math.max(1, columnValues.length)));
  const width = nameWidth + cellWidth * columnValues.length;
  const bottom = top + rowHeight * rowValues.length;
  const { from } = picture;
  const label = ({ x, y, width }: Room, text: string) => textAt(x, y, fitLine(text, width, 12.5), small);
  const heading = ({ x, y, width }: Room, text: string) =>
    textAt(x, y, fitLine(text, width, 13), {
      "font-size": 13,
      "font-weight": 600,
      class: "ink",
    });
  return frame(
    {
      id: picture.id,
      width,
      height: bottom + 28,
      title: picture.title,
      description: picture.description,
      className: "grid",
    },
    [
      label({ x: 0, y: top - 8, width: nameWidth - 12 }, picture.rowLabel),
      label({ x: nameWidth + 8, y: 14, width: width - nameWidth }, picture.columnLabel),
      ...columnValues.map((value, i) =>
        heading({ x: nameWidth + cellWidth * i + 8, y: top - 8, width: cellWidth - 12 }, value),
      ),
      ...rowValues.map((value, i) =>
        heading({ x: 0, y: top + rowHeight * i + 29, width: nameWidth - 12 }, value),
      ),
      ...cells.map((cell, i) =>
        gridCell(cell, {
          x: nameWidth + cellWidth * (i % columnValues.length),
          y: top + rowHeight * Math.floor(i / columnValues.length),
          width: cellWidth,
          from,
          isMarked: i === picture.marked,
        }),
      ),
      textAt(0, bottom + 20, `Bars run from ${Math.round(from * 100)} to 100 %.`, small),
    ].join(""),
  );
}

/** The lowest bound shown, rounded down to a tenth. */
export function gridScaleStart(estimates: Estimate[]): number {
  const lowest = Math.min(0.9, ...estimates.map((estimate) => estimate.lower ?? 1));
  return Math.max(0, Math.floor(lowest * 10 + 1e-9) / 10);
}

interface CellPlace extends Room {
  /** Where the scale of all bars begins. */
  from: number;
  isMarked: boolean;
}

function gridCell({ passes, tagReadRate }: GridPicture["cells"][number], place: CellPlace): string {
  const { x, y } = place;
  if (passes === 0) return cellBox(place, true) + textAt(x + 9, y + 29, "not walked", small);
  if (tagReadRate.value === null)
    return cellBox(place, false) + textAt(x + 9, y + 29, "none presented", small);
  return cellBox(place, false) + rateBar(tagReadRate, tagReadRate.value, place);
}

function cellBox({ x, y, width, isMarked }: CellPlace, isGap: boolean): string {
  return rectangle(
    { x: x + 2, y: y + 2, width: width - 4, height: rowHeight - 4 },
    {
      class: isGap ? "gap" : isMarked ? "cell limit" : "cell hair",
      fill: "none",
      stroke: isGap ? ink.second : isMarked ? ink.text : ink.hair,
      "stroke-width": isMarked ? 2.5 : 1,
      "stroke-dasharray": isGap ? "4 4" : null,
    },
  );
}

function rateBar(rate: Estimate, value: number, { x, y, width, from }: CellPlace): string {
  const left = x + 9;
  const right = x + width - 11;
  const at = (share: number) => left + (right - left) * Math.max(0, (share - from) / (1 - from));
  const base = y + 38;
  const style = { class: "limit", stroke: ink.text };
  return (
    textAt(left, y + 22, withUnit(rateFigures(rate, "at-least").value, percent), {
      "font-size": 13,
      "font-weight": 700,
      class: "ink",
    }) +
    textAt(right, y + 22, `${countText(rate.k)}/${countText(rate.n)}`, {
      ...smaller,
      "text-anchor": "end",
    }) +
    horizontal(left, right, base, { class: "hair", stroke: ink.hair, "stroke-width": 1 }) +
    horizontal(at(rate.lower ?? 0), at(rate.upper ?? 1), base, { ...style, "stroke-width": 3 }) +
    vertical(at(value), base - 5, base + 5, { ...style, "stroke-width": 2 })
  );
}
