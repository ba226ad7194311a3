import { type CsvTable, csvTable, type TableFile } from "./csv.ts";
import type { Cell } from "./csv-text.ts";
import type { Here, Link } from "./page.ts";
import type { StateMark } from "./state-mark.ts";

/** What one cell of a table shows: a state, a link or a text, and a quieter line below. */
interface TableCell {
  text: string;
  mark: StateMark | null;
  detail: string;
  numeric: boolean;
  strong: boolean;
  /** A tag's code, and below it its URI: both may break anywhere. */
  code: boolean;
}

/** A table; the first cell of every row names the row. */
export interface TableView {
  caption: string;
  columns: { label: string; numeric: boolean }[];
  rows: TableCell[][];
}

/** A picture with its caption, how to read it, the rows behind it and their files. */
export interface FigureView {
  /** Unique on the page. */
  id: string;
  caption: string;
  /** Empty where it is read as the one before. */
  howToRead: string;
  /** SVG. */
  picture: string;
  table: TableView;
  downloads: Link[];
}

/** A figure without a picture: its table stands open. */
export type TableFigureView = Omit<FigureView, "picture">;

/**
 * A column of the rows behind a figure, defined once: `header` and `value` make it one of the file, `label` and `text` one
 * of the table on the page, where a figure is rounded and may stand with its unit. Most are both.
 */
export type Column<Row> = FileColumn<Row> | ShownColumn<Row> | (FileColumn<Row> & ShownColumn<Row>);

interface FileColumn<Row> {
  /** Says the unit where there is one. */
  header: string;
  value(row: Row): Cell;
  unit?: string | null;
}

interface ShownColumn<Row> {
  label: string;
  text(row: Row): string | Partial<TableCell>;
  /** Texts are aligned left, numbers right; the number that matters most is set stronger. */
  as?: "number" | "strong number";
}

/** The rows of a file, in the order of its columns. */
export function fileOf<Row>(file: TableFile, columns: Column<Row>[], rows: Row[]): CsvTable {
  return csvTable(
    file,
    columns.filter((column) => "header" in column),
    rows,
  );
}

/** The rows as the page shows them. */
export function tableView<Row>(caption: string, columns: Column<Row>[], rows: Row[]): TableView {
  const shown = columns.filter((column) => "label" in column);
  return {
    caption,
    columns: shown.map(({ label, as }) => ({ label, numeric: as !== undefined })),
    rows: rows.map((row) => shown.map((column) => cellOf(column, row))),
  };
}

function cellOf<Row>({ text, as }: ShownColumn<Row>, row: Row): TableCell {
  const said = text(row);
  return {
    text: "",
    mark: null,
    detail: "",
    code: false,
    numeric: as !== undefined,
    strong: as === "strong number",
    ...(typeof said === "string" ? { text: said } : said),
  };
}

/** A section of a page: what it says in sentences, and the figures behind them, or in their place. */
export interface Section {
  id: string;
  title: string;
  sentences?: string[];
  figure?: Figure<FigureView> | null;
  tables?: Figure<TableFigureView>[];
}

export interface SectionView {
  id: string;
  title: string;
  sentences: string[];
  figure: FigureView | null;
  tables: TableFigureView[];
}

export function sectionView(section: Section, here: Here): SectionView {
  const { id, title, sentences = [], figure = null, tables = [] } = section;
  return {
    id,
    title,
    sentences,
    figure: figure?.view(here) ?? null,
    tables: tables.map((table) => table.view(here)),
  };
}

export function filesOfSection({ figure, tables = [] }: Section): CsvTable[] {
  return [figure, ...tables].flatMap((one) => (one?.file ? [one.file] : []));
}

interface FigureDefinition<Row> {
  /** Unique on the page. */
  id: string;
  caption: string;
  howToRead: string;
  columns: Column<NoInfer<Row>>[];
  rows: Row[];
  /** Of the table on the page. */
  tableCaption: string;
  /** The page shows at most this many rows; the file has all. */
  mostRows?: number;
  /** Left out where the rows are part of a file that belongs to several figures. */
  file?: TableFile;
}

/** A figure: its rows as a file, and what a page shows of it. */
export interface Figure<View> {
  file: CsvTable | null;
  view(here: Here): View;
}

/** A picture, the table behind it, and the file of exactly those rows. */
export function figure<Row>(
  definition: FigureDefinition<Row> & { picture: () => string },
): Figure<FigureView> {
  const { file, view } = tableFigure(definition);
  return { file, view: (here) => ({ ...view(here), picture: definition.picture() }) };
}

/** Rows that are the figure themselves. */
export function tableFigure<Row>(definition: FigureDefinition<Row>): Figure<TableFigureView> {
  const { id, caption, howToRead, columns, rows, tableCaption, mostRows = rows.length } = definition;
  const file =
    definition.file === undefined || rows.length === 0 ? null : fileOf(definition.file, columns, rows);
  return {
    file,
    view: (here) => ({
      id,
      caption,
      howToRead,
      table: tableView(tableCaption, columns, rows.slice(0, mostRows)),
      downloads: file === null ? [] : [here.tableLink(file.name)],
    }),
  };
}
