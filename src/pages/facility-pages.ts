import type { Result } from "../model/result/result.ts";
import { aislePage } from "./aisle/aisle-page.ts";
import { indexTemplate } from "./index-page.ts";
import { inputsPage } from "./inputs/inputs-page.ts";
import { journeyTemplates } from "./journey/journey-pages.ts";
import { methodPage } from "./method/method-page.ts";
import { overviewPage } from "./overview/overview-page.ts";
import { type Archive, noArchive } from "./parts/archive.ts";
import type { CsvTable } from "./parts/csv.ts";
import { facilityContext, type Page, pagesOf, type SiteFile } from "./parts/page.ts";
import type { SiteWorkbook } from "./parts/workbook.ts";
import { passesPage } from "./passes/passes-page.ts";
import { planPage } from "./plan/plan-page.ts";
import { walkSheetPage } from "./plan/walk-sheet.ts";
import { readPointPage } from "./read-point/read-point-page.ts";
import { roundsPage } from "./rounds/rounds-page.ts";
import { signOffSheetPage } from "./sheet/sign-off-sheet.ts";
import { whyPage } from "./why/why-page.ts";
import { unbrokenUnits } from "./words/units.ts";

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
  const context = facilityContext(result, archive);
  const { facility, report, readPoints, signOffRound } = result;
  return pagesOf(pageKinds, context, {
    about: "facility",
    name: facility.name,
    client: facility.client,
    report,
    round: unbrokenUnits(context.names.datedRound(signOffRound)),
    readPoints: readPoints.map(({ id, name }) => ({ name, path: context.paths.readPoint(id) })),
  });
}

/** The rows behind the figures of a facility. */
export function facilityTables(result: Result): CsvTable[] {
  const facility = facilityContext(result, noArchive);
  return pageKinds.flatMap((kind) => kind.plan(facility).tables);
}
