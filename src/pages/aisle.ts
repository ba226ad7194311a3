import type { Result } from "../model/result.ts";
import { walkData } from "./aisle/walk-data.ts";
import { cautions, cautionsDefer } from "./cautions.ts";
import { facilityPage, type Page } from "./page.ts";
import { facilityPaths, relativeLink } from "./paths.ts";

/** The page to log a walk on, in the aisle, by touch; none where nothing is planned. */
export function aislePages(result: Result): Page[] {
  if (result.plan === null) return [];
  const paths = facilityPaths(result);
  const data = walkData(result, result.plan);
  return [
    facilityPage(result, "aisle", paths.aisle, "In the aisle", {
      data,
      planHref: relativeLink(paths.aisle, paths.plan),
      overviewHref: relativeLink(paths.aisle, paths.overview),
      // With a load the tags are named; without one they are counted.
      listed: data.load !== null,
      manifest: data.load?.manifest ?? "",
      routes: data.routes.map(({ readPoint, letter, name, roundTitle }) => ({
        readPoint,
        letter,
        name,
        roundTitle,
      })),
      sheets: data.routes
        .filter(({ sheetHref }) => sheetHref !== null)
        .map(({ name, sheetHref }) => ({ label: name, href: sheetHref })),
      cautions,
      cautionsDefer,
    }),
  ];
}
