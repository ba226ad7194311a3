import type { FigureView } from "../figure-view.ts";

/** A figure without a picture: its table stands open. */
type TableFigure = Omit<FigureView, "picture">;

/** One thing the reader's log shows: a figure, a table, or the sentence that stands in their place. */
export interface HeardPart {
  id: string;
  title: string;
  sentence: string;
  figure: FigureView | null;
  table: TableFigure | null;
}
