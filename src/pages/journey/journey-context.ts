import type { ItemResult } from "../../model/journey/item.ts";
import type { JourneyResult } from "../../model/journey/journey-result.ts";
import type { LegResult } from "../../model/journey/round.ts";
import { sentenceStart } from "../../model/number-words.ts";
import type { Archive } from "../parts/archive.ts";
import type { Here, Link } from "../parts/page.ts";
import { slug } from "../parts/paths.ts";

/** Items whose timelines share a page. */
const itemsOfPage = 50;

/** Where the pages of one journey stand, from the site's root. */
export interface JourneyPaths {
  folder: string;
  overview: string;
  inputs: string;
  method: string;
  signOffSheet: string;
  result: string;
  markStyle: string;
  input(path: string): string;
  table(name: string): string;
  /** The pages of items, in their order. */
  itemPages: string[];
  /** The timeline of an item, by its index, with its anchor. */
  item(index: number): string;
}

/** The folder of a journey in the site. */
export function journeyFolder(id: string): string {
  return `journeys/${slug(id)}`;
}

export function journeyPaths({ id, items }: Pick<JourneyResult, "id" | "items">): JourneyPaths {
  const folder = journeyFolder(id);
  const pages = Math.max(1, Math.ceil(items.length / itemsOfPage));
  const itemPages = Array.from({ length: pages }, (_, page) =>
    page === 0 ? `${folder}/items.html` : `${folder}/items-${page + 1}.html`,
  );
  return {
    folder,
    overview: `${folder}/index.html`,
    inputs: `${folder}/inputs.html`,
    method: `${folder}/method.html`,
    signOffSheet: `${folder}/sign-off-sheet.html`,
    result: `${folder}/result.json`,
    markStyle: `${folder}/mark.css`,
    input: (path) => `${folder}/inputs/${path}`,
    table: (name) => `${folder}/tables/${name}.csv`,
    itemPages,
    item: (index) => `${itemPages[Math.floor(index / itemsOfPage)]}#${itemAnchor(index)}`,
  };
}

export const itemAnchor = (index: number) => `item-${index + 1}`;

/** The items of each page of items, with their indices. */
export function itemsByPage({
  items,
}: Pick<JourneyResult, "items">): { item: ItemResult; index: number }[][] {
  const all = items.map((item, index) => ({ item, index }));
  return Array.from({ length: Math.max(1, Math.ceil(all.length / itemsOfPage)) }, (_, page) =>
    all.slice(page * itemsOfPage, (page + 1) * itemsOfPage),
  );
}

/** Where the site holds the page of a read point; null where it holds none. */
export type ReadPointPlaces = (facility: string, readPoint: string) => string | null;

/** What all pages of one journey are made from. */
export interface JourneyContext {
  result: JourneyResult;
  archive: Archive;
  paths: JourneyPaths;
  names: JourneyNames;
  readPointPage: ReadPointPlaces;
}

export type JourneyHere = JourneyContext & Here;

export interface JourneyNames {
  /** `Tagged`. */
  leg(id: string): string;
  /** `Encoding desk, Fennick wash plant`, of a read point of any facility of the journey. */
  place(at: { facility: string; readPoint: string }): string;
  facility(id: string): string;
  criterion(id: string): string;
  round(id: string): string;
}

export function journeyContext(
  result: JourneyResult,
  { archive, readPointPage }: Pick<JourneyContext, "archive" | "readPointPage">,
): JourneyContext {
  return { result, archive, readPointPage, paths: journeyPaths(result), names: journeyNames(result) };
}

export function journeyNames({ facilities, criteria, rounds }: JourneyResult): JourneyNames {
  const facilityOf = (id: string) => facilities.find((one) => one.id === id);
  const facility = (id: string) => facilityOf(id)?.name ?? id;
  return {
    leg: (id) => sentenceStart(id),
    place: (at) => {
      const point = facilityOf(at.facility)?.readPoints.find(({ id }) => id === at.readPoint);
      return `${point?.name ?? at.readPoint}, ${facility(at.facility)}`;
    },
    facility,
    criterion: (id) => criteria.find((criterion) => criterion.id === id)?.title ?? id,
    round: (id) => rounds.find((round) => round.id === id)?.title ?? id,
  };
}

/** A link to a read point's page; an empty address where the site has none. */
export function readPointHref(
  here: JourneyHere,
  { facility, readPoint }: Pick<LegResult, "facility" | "readPoint">,
): string {
  const path = here.readPointPage(facility, readPoint);
  return path === null ? "" : here.href(path);
}

/** The link to an item's timeline. */
export function itemLink(here: JourneyHere, index: number): Link {
  return { label: here.result.items[index]!.tag, href: here.href(here.paths.item(index)) };
}
