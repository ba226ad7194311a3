import type { Result } from "../model/result.ts";
import { aislePages } from "./aisle.ts";
import { changesPages } from "./changes.ts";
import { inputsPage } from "./inputs.ts";
import { methodPage } from "./method.ts";
import { overviewPage } from "./overview.ts";
import type { Page, SiteFile } from "./page.ts";
import { passesPages } from "./passes.ts";
import { planPages } from "./plan/plan-page.ts";
import { readPointPages } from "./read-point.ts";
import { roundsPage } from "./rounds.ts";
import { signOffSheetPage } from "./sign-off-sheet.ts";
import { tableFiles } from "./tables/tables.ts";
import { walkLogs } from "./walk-sheets/walk-log.ts";
import { walkSheetPages } from "./walk-sheets/walk-sheet.ts";

/**
 * Everything the site holds of one facility but the archived result itself: a function of that result. `mark` is the
 * SHA-256 of the archived result, for the sign-off sheet.
 */
export function facilityPages(result: Result, mark = ""): { pages: Page[]; files: SiteFile[] } {
  return {
    pages: [
      overviewPage(result),
      ...readPointPages(result),
      roundsPage(result),
      ...changesPages(result),
      ...passesPages(result),
      inputsPage(result),
      methodPage(result),
      signOffSheetPage(result, mark),
      ...planPages(result),
      ...walkSheetPages(result),
      ...aislePages(result),
    ],
    files: [...tableFiles(result), ...walkLogs(result)],
  };
}
