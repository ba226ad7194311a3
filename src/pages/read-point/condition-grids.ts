import { counted, countText } from "../../model/number-words.ts";
import type { ConditionGrid, RoundResult } from "../../model/result/round.ts";
import type { CsvTable, TableFiles } from "../parts/csv.ts";
import { type Column, type FigureView, fileOf, tableView } from "../parts/figure.ts";
import type { Names } from "../parts/names.ts";
import { countOf, rateColumns, shownRateColumns } from "../parts/rate-columns.ts";
import { conditionGridPicture, gridScaleStart } from "../pictures/condition-grid.ts";
import { isStated } from "./conditions.ts";

/** A grid as a figure, or the sentence that stands in its place. */
export interface GridView {
  title: string;
  /** Too broad to stand beside another. */
  isBroad: boolean;
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

/**
 * Which combinations of two conditions were walked, with the read rate of each; a gap is a combination without a pass. All on
 * one scale, the grid with the lowest rate first.
 */
export function gridViews(round: RoundResult, names: Names): GridView[] {
  const grids = statedGrids(round)
    .map((grid) => ({ grid, lowest: lowestCell(grid) }))
    .sort((a, b) => shareOf(a.lowest) - shareOf(b.lowest));
  const drawn = grids.filter(({ grid }) => grid.cells.length <= mostCells);
  const from = gridScaleStart(drawn.flatMap(({ grid }) => grid.cells.map((cell) => cell.tagReadRate)));
  const worst = shareOf(drawn[0]?.lowest ?? null);
  return grids.map(({ grid, lowest }, index) => {
    const title = `${names.condition(grid.rowColumn)} by ${names.condition(grid.columnColumn)}`;
    if (grid.cells.length > mostCells)
      return { title, isBroad: false, figure: null, sentence: gapSentence(grid) };
    const marked = worst < 1 && shareOf(lowest) === worst ? lowest : null;
    return {
      title,
      isBroad: grid.columnValues.length > 3,
      figure: gridFigure(grid, names, { title, number: index + 1, from, lowest, marked }),
      sentence: "",
    };
  });
}

type Cell = ConditionGrid["cells"][number];

/** The cell with the lowest rate; null where nothing was presented. */
function lowestCell({ cells }: ConditionGrid): Cell | null {
  return cells
    .filter(({ tagReadRate }) => tagReadRate.n > 0)
    .reduce<Cell | null>((low, cell) => (low === null || shareOf(cell) < shareOf(low) ? cell : low), null);
}

function shareOf(cell: Cell | null): number {
  return cell === null ? 1 : cell.tagReadRate.k / cell.tagReadRate.n;
}

interface GridCell {
  grid: ConditionGrid;
  cell: Cell;
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
      text: ({ grid, cell }) => combination(grid, cell, names),
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

interface GridPlace {
  title: string;
  number: number;
  /** Where the bars of all grids begin. */
  from: number;
  lowest: Cell | null;
  /** The cell to mark: the lowest of all grids. */
  marked: Cell | null;
}

function combination(
  { rowColumn, columnColumn }: ConditionGrid,
  { row, column }: Cell,
  names: Names,
): string {
  return `${names.value(rowColumn, row)}, ${names.value(columnColumn, column)}`;
}

function gridFigure(
  grid: ConditionGrid,
  names: Names,
  { title, number, from, lowest, marked }: GridPlace,
): FigureView {
  const id = `grid-${number}`;
  const low =
    lowest === null || shareOf(lowest) === 1
      ? ""
      : ` Lowest: ${combination(grid, lowest, names)} (${countOf(lowest.tagReadRate)}).`;
  const caption = `${title}. ${gapSentence(grid)}${low}`;
  return {
    id,
    caption,
    howToRead:
      number > 1
        ? ""
        : "Each cell shows the observed rate, its count and a bar from the lower to the upper bound. A dashed cell is a gap: that combination was not walked, so nothing is known about it. The heavy frame is around the lowest rate. Bars of all grids share one scale.",
    picture: conditionGridPicture({
      id: `${id}-picture`,
      title: `Conditions walked: ${title}`,
      description: caption,
      rowLabel: names.condition(grid.rowColumn),
      columnLabel: names.condition(grid.columnColumn),
      rowValues: grid.rowValues.map((value) => names.value(grid.rowColumn, value)),
      columnValues: grid.columnValues.map((value) => names.value(grid.columnColumn, value)),
      cells: grid.cells,
      from,
      marked: marked === null ? null : grid.cells.indexOf(marked),
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
