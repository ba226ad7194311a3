import { counted, countText } from "../../model/number-words.ts";
import type { ConditionGrid, Result, RoundResult } from "../../model/result.ts";
import { type FigureView, numberCell, textCell } from "../figure-view.ts";
import { conditionGridPicture } from "../pictures/condition-grid.ts";
import { isStated } from "../stated-conditions.ts";
import { columnLabel, valueText } from "../words/labels.ts";
import { rateCell } from "./condition-rates.ts";

/** A grid as a figure, or the sentence that stands in its place. */
export interface WalkedGrid {
  title: string;
  figure: FigureView | null;
  sentence: string;
}

/** More cells than this are no picture any more; the table as CSV holds them. */
const mostCells = 240;

/**
 * Which combinations of two conditions were walked, and what was read in each; a gap is a cell nobody walked. A
 * condition that the round states nowhere has no grids.
 */
export function walkedGrids(result: Result, round: RoundResult): WalkedGrid[] {
  const grids = round.grids.filter(
    (grid) => isStated(round, grid.rowColumn) && isStated(round, grid.columnColumn),
  );
  return grids.map((grid, index) => {
    const title = `${columnLabel(grid.rowColumn, result.conditions)} by ${columnLabel(grid.columnColumn, result.conditions)}`;
    if (grid.cells.length > mostCells) return { title, figure: null, sentence: gapSentence(grid) };
    return { title, figure: gridFigure(result, grid, `grid-${index + 1}`, title), sentence: "" };
  });
}

function gridFigure(result: Result, grid: ConditionGrid, id: string, title: string): FigureView {
  const { conditions } = result;
  const rowCondition = conditions.find(({ column }) => column === grid.rowColumn);
  const columnCondition = conditions.find(({ column }) => column === grid.columnColumn);
  const caption = `${title}. ${gapSentence(grid)}`;
  return {
    id,
    caption,
    howToRead:
      id !== "grid-1"
        ? ""
        : "Each cell holds the rate observed, the count behind it and a bar from the lower to the upper bound. A dashed cell is a gap: nobody walked that combination, so nothing is known of it.",
    picture: conditionGridPicture({
      id: `${id}-picture`,
      title: `Conditions walked: ${title}`,
      description: caption,
      rowLabel: columnLabel(grid.rowColumn, conditions),
      columnLabel: columnLabel(grid.columnColumn, conditions),
      rowValues: grid.rowValues.map((value) => valueText(value, rowCondition)),
      columnValues: grid.columnValues.map((value) => valueText(value, columnCondition)),
      cells: grid.cells,
    }),
    table: {
      caption: `Conditions walked: ${title}`,
      columns: [
        { label: "Combination", numeric: false },
        { label: "Passes", numeric: true },
        { label: "Tags read", numeric: true },
        { label: "Lower, %", numeric: true },
        { label: "Rate, %", numeric: true },
        { label: "Upper, %", numeric: true },
      ],
      rows: grid.cells.map((cell) => {
        const { count, figures } = rateCell(cell.tagReadRate);
        return [
          textCell(`${valueText(cell.row, rowCondition)}, ${valueText(cell.column, columnCondition)}`),
          numberCell(counted(cell.passes, "pass", "passes")),
          numberCell(cell.passes === 0 ? "not walked" : count),
          numberCell(figures.lower),
          numberCell(figures.value, true),
          numberCell(figures.upper),
        ];
      }),
    },
    // One file holds all grids: the page names it once, below the last.
    downloads: [],
  };
}

function gapSentence({ cells }: ConditionGrid): string {
  const gaps = cells.filter(({ passes }) => passes === 0).length;
  const drawn =
    cells.length > mostCells ? " They are too many to draw; the table as CSV holds all of them." : "";
  if (gaps === cells.length) return `None of ${countText(cells.length)} combinations was walked.${drawn}`;
  if (cells.length === 1 && gaps === 0) return `The one combination was walked.${drawn}`;
  if (cells.length === 2 && gaps === 0) return `Both combinations were walked.${drawn}`;
  if (gaps === 0) return `All ${countText(cells.length)} combinations were walked.${drawn}`;
  return `${countText(gaps)} of ${countText(cells.length)} combinations ${gaps === 1 ? "was" : "were"} not walked.${drawn}`;
}
