import { type Cautions, cautionsView } from "../parts/cautions.ts";
import { definePage, type Link } from "../parts/page.ts";
import { type WalkData, walkData } from "./walk-data.ts";

export interface AisleView extends Cautions {
  data: WalkData;
  planHref: string;
  overviewHref: string;
  listed: boolean;
  routes: { readPoint: string; letter: string; name: string; roundTitle: string }[];
  sheets: Link[];
}

/** The page to log a walk on, in the aisle, by touch; none where nothing is planned. */
export const aislePage = definePage({
  template: "aisle",
  pages: ({ paths, result: { plan } }) =>
    plan === null ? [] : [{ path: paths.aisle, title: "In the aisle", subject: plan }],
  view: ({ result, paths, href }, plan): AisleView => {
    const data = walkData(result, plan);
    return {
      data,
      planHref: href(paths.plan),
      overviewHref: href(paths.overview),
      // With a load the tags are named; without one they are counted.
      listed: data.load !== null,
      routes: data.routes.map(({ readPoint, letter, name, roundTitle }) => ({
        readPoint,
        letter,
        name,
        roundTitle,
      })),
      sheets: data.routes.flatMap(({ name, sheetHref }) =>
        sheetHref === null ? [] : [{ label: name, href: sheetHref }],
      ),
      ...cautionsView,
    };
  },
});
