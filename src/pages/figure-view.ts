import type { Link } from "./page.ts";
import type { StateMark } from "./state-mark.ts";

/** What one cell of a table shows: a state, a link or a text, and a quieter line below. */
export interface TableCell {
  text: string;
  /** Relative; empty where the cell is no link. */
  href: string;
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

/** A picture with its evidence: the finding it shows, how to read it, the rows behind it and their files. */
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

const plain: TableCell = {
  text: "",
  href: "",
  mark: null,
  detail: "",
  numeric: false,
  strong: false,
  code: false,
};

export function textCell(text: string, detail = ""): TableCell {
  return { ...plain, text, detail };
}

export function codeCell(code: string, uri: string): TableCell {
  return { ...plain, text: code, detail: uri, code: true };
}

export function numberCell(text: string, strong = false): TableCell {
  return { ...plain, text, numeric: true, strong };
}

export function stateCell(mark: StateMark): TableCell {
  return { ...plain, text: mark.word, mark };
}
