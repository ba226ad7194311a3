import type { JourneyResult } from "../../model/journey/journey-result.ts";
import { type Archive, noArchive } from "../parts/archive.ts";
import type { CsvTable } from "../parts/csv.ts";
import { type Page, pagesOf, type SiteFile } from "../parts/page.ts";
import { journeyItemsPage } from "./items-page.ts";
import { journeyContext, type ReadPointPlaces } from "./journey-context.ts";
import { journeyPage } from "./journey-page.ts";
import { journeySheetPage } from "./journey-sheet.ts";
import { journeyInputsPage, journeyMethodPage } from "./reference-pages.ts";

/** Every kind of page that a journey has, in the order of its navigation. */
const pageKinds = [journeyPage, journeyItemsPage, journeyInputsPage, journeyMethodPage, journeySheetPage];

/** The name of a template that a page of a journey has. */
export type JourneyTemplate = (typeof pageKinds)[number]["template"];

export const journeyTemplates = pageKinds.map(({ template }) => template);

/** The rows behind the figures of a journey. */
export function journeyTables(result: JourneyResult): CsvTable[] {
  const journey = journeyContext(result, { archive: noArchive, readPointPage: () => null });
  return pageKinds.flatMap((kind) => kind.plan(journey).tables);
}

/** Everything the site holds of one journey but the archived result itself. */
export function journeyPages(
  result: JourneyResult,
  {
    archive = noArchive,
    readPointPage = () => null,
  }: { archive?: Archive; readPointPage?: ReadPointPlaces } = {},
): { pages: Page<object, JourneyTemplate>[]; files: SiteFile[] } {
  const journey = journeyContext(result, { archive, readPointPage });
  return pagesOf(pageKinds, journey, {
    about: "journey",
    name: result.title,
    client: result.client,
    report: result.report,
    // One round alone needs no telling apart.
    round: result.rounds.length > 1 ? journey.names.round(result.signOffRound) : "",
    readPoints: [],
  });
}
