import { counted, countText } from "../../model/number-words.ts";
import type { ConditionGrid, RoundResult } from "../../model/result.ts";
import type { CsvTable, TableFiles } from "../parts/csv.ts";
import { type Column, type FigureView, fileOf, tableView } from "../parts/figure.ts";
import type { Names } from "../parts/names.ts";
import { rateColumns, shownRateColumns } from "../parts/rate-columns.ts";
import { conditionGridPicture } from "../pictures/condition-grid.ts";
import { isStated } from "./conditions.ts";

/** A grid as a figure, or the sentence that stands in its place. */
export interface GridView {
  title: string;
  figure: FigureView | null;
  sentence: string;
}

/** More cells than this are no picture any more; the table as CSV holds them. */
const mostCells = 240;

/** The grids of the conditions that the round states. */
function statedGrids(round: RoundResult): ConditionGrid[] {
  return round.grids.filter(
    ({ rowColumn, columnColumn }) => isStated(round, rowColumn) && isStated(round, columnColumn),
  );
}

/** The cells of all grids as one file: the page names it once, below the last. */
export function gridsFile(round: RoundResult, names: Names, files: TableFiles): CsvTable {
  return fileOf(
    files("grids", "conditions walked, pair by pair."),
    gridColumns(names),
    statedGrids(round).flatMap(cellsOf),
  );
}

/** Which combinations of two conditions were walked, with the read rate of each; a gap is a combination without a pass. */
export function gridViews(round: RoundResult, names: Names): GridView[] {
  return statedGrids(round).map((grid, index) => {
    const title = `${names.condition(grid.rowColumn)} by ${names.condition(grid.columnColumn)}`;
    if (grid.cells.length > mostCells) return { title, figure: null, sentence: gapSentence(grid) };
    return { title, figure: gridFigure(grid, names, { title, number: index + 1 }), sentence: "" };
  });
}

interface GridCell {
  grid: ConditionGrid;
  cell: ConditionGrid["cells"][number];
}

function cellsOf(grid: ConditionGrid): GridCell[] {
  return grid.cells.map((cell) => ({ grid, cell }));
}

function gridColumns(names: Names): Column<GridCell>[] {
  return [
    { header: "first_condition", value: ({ grid }) => grid.rowColumn },
    { header: "first_value", value: ({ cell }) => cell.row },
    { header: "second_condition", value: ({ grid }) => grid.columnColumn },
    { header: "second_value", value: ({ cell }) => cell.column },
    {
      label: "Combination",
      text: ({ grid, cell }) =>
        `${names.value(grid.rowColumn, cell.row)}, ${names.value(grid.columnColumn, cell.column)}`,
    },
    {
      header: "passes",
      value: ({ cell }) => cell.passes,
      label: "Passes",
      text: ({ cell }) => counted(cell.passes, "pass", "passes"),
      as: "number",
    },
    ...rateColumns<GridCell>(({ cell }) => cell.tagReadRate),
    ...shownRateColumns<GridCell>(
      ({ cell }) => cell.tagReadRate,
      ({ cell }) => cell.passes > 0,
    ),
  ];
}

function gridFigure(
  grid: ConditionGrid,
  names: Names,
  { title, number }: { title: string; number: number },
): FigureView {
  const id = `grid-${number}`;
  const caption = `${title}. ${gapSentence(grid)}`;
  return {
    id,
    caption,
    howToRead:
      number > 1
        ? ""
        : "Each cell shows the observed rate, its count and a bar from the lower to the upper bound. A dashed cell is a gap: that combination was not walked, so nothing is known about it.",
    picture: conditionGridPicture({
      id: `${id}-picture`,
      title: `Conditions walked: ${title}`,
      description: caption,
      rowLabel: names.condition(grid.rowColumn),
      columnLabel: names.condition(grid.columnColumn),
      rowValues: grid.rowValues.map((value) => names.value(grid.rowColumn, value)),
      columnValues: grid.columnValues.map((value) => names.value(grid.columnColumn, value)),
      cells: grid.cells,
    }),
    table: tableView(`Conditions walked: ${title}`, gridColumns(names), cellsOf(grid)),
    downloads: [],
  };
}

function gapSentence({ cells }: ConditionGrid): string {
  const gaps = cells.filter(({ passes }) => passes === 0).length;
  const drawn = cells.length > mostCells ? " They are too many to draw; the CSV table has all of them." : "";
  if (gaps === cells.length) return `None of ${countText(cells.length)} combinations was walked.${drawn}`;
  if (cells.length === 1 && gaps === 0) return `The one combination was walked.${drawn}`;
  if (cells.length === 2 && gaps === 0) return `Both combinations were walked.${drawn}`;
  if (gaps === 0) return `All ${countText(cells.length)} combinations were walked.${drawn}`;
  return `${countText(gaps)} of ${countText(cells.length)} combinations ${gaps === 1 ? "was" : "were"} not walked.${drawn}`;
}
