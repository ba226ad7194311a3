import type { Cell } from "./csv-text.ts";

/** A workbook of the site with one table, to be filled in. */
export interface SiteWorkbook {
  path: string;
  /** The name of its sheet. */
  sheet: string;
  columns: WorkbookColumn[];
  rows: Cell[][];
}

export interface WorkbookColumn {
  header: string;
  isTime: boolean;
  /** What a cell offers to choose from; empty for nothing. */
  choices: string[];
  /** Whether a cell takes nothing else. */
  isClosed: boolean;
}
