import type { ConditionGrid, Result, RoundResult } from "../../analysis/result.ts";
import { columnLabel, valueText } from "../words/groups.ts";
import { counted, countText } from "../words/numbers.ts";
import { type RateCell, rateCell } from "./condition-rates.ts";

export interface WalkedGrid {
  title: string;
  sentence: string;
  columns: string[];
  rows: { value: string; cells: GridCell[] }[];
}

export interface GridCell {
  walked: boolean;
  passes: string;
  rate: RateCell;
}

/** Which combinations of two conditions were walked, and what was read in each; a gap is a cell nobody walked. */
export function walkedGrids(result: Result, round: RoundResult): WalkedGrid[] {
  return round.grids.map((grid) => walkedGrid(grid, result));
}

function walkedGrid(grid: ConditionGrid, result: Result): WalkedGrid {
  const { conditions } = result;
  const rowCondition = conditions.find(({ column }) => column === grid.rowColumn);
  const columnCondition = conditions.find(({ column }) => column === grid.columnColumn);
  const width = grid.columnValues.length;
  return {
    title: `${columnLabel(grid.rowColumn, conditions)} by ${columnLabel(grid.columnColumn, conditions)}`,
    sentence: gapSentence(grid),
    columns: grid.columnValues.map((value) => valueText(value, columnCondition)),
    rows: grid.rowValues.map((value, index) => ({
      value: valueText(value, rowCondition),
      cells: grid.cells.slice(index * width, (index + 1) * width).map((cell) => ({
        walked: cell.passes > 0,
        passes: counted(cell.passes, "pass", "passes"),
        rate: rateCell(cell.tagReadRate),
      })),
    })),
  };
}

function gapSentence({ cells }: ConditionGrid): string {
  const gaps = cells.filter(({ passes }) => passes === 0).length;
  if (cells.length === 0) return "No value of these conditions is known.";
  if (gaps === cells.length) return "None of these combinations was walked.";
  if (gaps === 0) return `All ${countText(cells.length)} combinations were walked.`;
  return `${counted(gaps, "combination", "combinations")} of ${countText(cells.length)} ${gaps === 1 ? "was" : "were"} not walked.`;
}
