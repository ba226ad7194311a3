import type { Figure, FigureView, TableFigureView } from "../parts/figure.ts";

interface Heading {
  id: string;
  title: string;
}

/** One thing that a reader's log shows: a picture, a table, or the sentence that stands in their place. */
export interface ReaderLogPart extends Heading {
  sentence?: string;
  figure?: Figure<FigureView>;
  table?: Figure<TableFigureView>;
}

export function inWords(heading: Heading, sentence: string): ReaderLogPart {
  return { ...heading, sentence };
}
