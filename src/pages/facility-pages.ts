import type { Result } from "../model/result.ts";
import { aislePage } from "./aisle/aisle-page.ts";
import { indexTemplate } from "./index-page.ts";
import { inputsPage } from "./inputs/inputs-page.ts";
import { journeyTemplates } from "./journey/journey-pages.ts";
import { methodPage } from "./method/method-page.ts";
import { overviewPage } from "./overview/overview-page.ts";
import { type Archive, markStyle, noArchive } from "./parts/archive.ts";
import type { CsvTable } from "./parts/csv.ts";
import { facilityContext, type Page, pageHeads, type SiteFile } from "./parts/page.ts";
import type { SiteWorkbook } from "./parts/workbook.ts";
import { passesPage } from "./passes/passes-page.ts";
import { planPage } from "./plan/plan-page.ts";
import { walkSheetPage } from "./plan/walk-sheet.ts";
import { readPointPage } from "./read-point/read-point-page.ts";
import { roundsPage } from "./rounds/rounds-page.ts";
import { signOffSheetPage } from "./sheet/sign-off-sheet.ts";
import { whyPage } from "./why/why-page.ts";

/** Every kind of page that a facility may have, in the order of its navigation. */
const pageKinds = [
  overviewPage,
  readPointPage,
  whyPage,
  roundsPage,
  passesPage,
  planPage,
  inputsPage,
  methodPage,
  signOffSheetPage,
  walkSheetPage,
  aislePage,
];

/** The name of a template that a page of a facility has. */
export type FacilityTemplate = (typeof pageKinds)[number]["template"];

/** The templates of all pages of the site. */
export const templateNames = [
  ...new Set([indexTemplate, ...pageKinds.map(({ template }) => template), ...journeyTemplates]),
];

/**
 * Everything the site holds of one facility but the archived result itself: a function of that result, and of which
 * input files the site holds.
 */
export function facilityPages(
  result: Result,
  archive: Archive = noArchive,
): {
  pages: Page<object, FacilityTemplate>[];
  files: SiteFile[];
  workbooks: SiteWorkbook[];
} {
  const facility = facilityContext(result, archive);
  const kinds = pageKinds.map((kind) => kind.plan(facility));
  const tables = kinds.flatMap((kind) => kind.tables);
  const headOf = pageHeads(
    facility,
    kinds.flatMap(({ entry }) => (entry === null ? [] : [entry])),
  );
  return {
    pages: kinds.flatMap<Page<object, FacilityTemplate>>((kind) => kind.pages(headOf, tables)),
    files: [
      ...tables.map((table) => ({ path: facility.paths.table(table.name), text: table.text() })),
      ...kinds.flatMap((kind) => kind.files),
      { path: facility.paths.markStyle, text: markStyle(archive.mark) },
    ],
    workbooks: kinds.flatMap((kind) => kind.workbooks),
  };
}

/** The rows behind the figures of a facility. */
export function facilityTables(result: Result): CsvTable[] {
  const facility = facilityContext(result, noArchive);
  return pageKinds.flatMap((kind) => kind.plan(facility).tables);
}
