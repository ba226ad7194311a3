import type { CsvTable, TableFiles } from "../parts/csv.ts";
import type { Figure, FigureView, TableFigureView } from "../parts/figure.ts";
import type { Names } from "../parts/names.ts";
import type { PageContext } from "../parts/page.ts";

/** What the sections of the page are made from, besides their own part of the result. */
export interface WhyContext {
  names: Names;
  files: TableFiles;
  /** Of every interval. */
  confidence: number;
}

/** A part of the page: what it says in sentences, and the figures behind them. */
export interface WhySection {
  id: string;
  title: string;
  sentences: string[];
  figure?: Figure<FigureView> | null;
  tables?: Figure<TableFigureView>[];
}

export interface WhySectionView {
  id: string;
  title: string;
  sentences: string[];
  figure: FigureView | null;
  tables: TableFigureView[];
}

export function whySectionView(section: WhySection, here: PageContext): WhySectionView {
  const { id, title, sentences, figure = null, tables = [] } = section;
  return {
    id,
    title,
    sentences,
    figure: figure?.view(here) ?? null,
    tables: tables.map((table) => table.view(here)),
  };
}

export function filesOfSection({ figure, tables = [] }: WhySection): CsvTable[] {
  return [figure, ...tables].flatMap((one) => (one?.file ? [one.file] : []));
}
