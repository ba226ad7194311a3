import type { ItemResult, LegOfItem, Visit } from "../../model/journey/item.ts";
import type { JourneyResult } from "../../model/journey/journey-result.ts";
import type { LegResult } from "../../model/journey/round.ts";
import { counted, countText, nonEmpty } from "../../model/number-words.ts";
import { byCodePoint } from "../../model/order.ts";
import { definePage, type Link } from "../parts/page.ts";
import {
  itemAnchor,
  itemsByPage,
  type JourneyContext,
  type JourneyHere,
  readPointHref,
} from "./journey-context.ts";
import { allowedText, durationText, itemSentence, wasInWrongPlace, whenText } from "./words.ts";

/** A moment of an item's way, or a place where nothing saw it. */
interface Step {
  kind: LegOfItem["state"] | "wrong-place";
  /** Empty where it was not seen. */
  when: string;
  what: string;
  place: string;
  /** Empty where the site has no page of the read point. */
  href: string;
  detail: string;
}

interface ItemEntry {
  anchor: string;
  tag: string;
  uri: string;
  run: string;
  /** Its tag; empty where it has none. */
  carrier: string;
  sentence: string;
  isOpen: boolean;
  steps: Step[];
  more: string;
}

export interface JourneyItemsView {
  lead: string;
  items: ItemEntry[];
  pages: (Link & { current: boolean })[];
  table: Link;
}

type Listed = { item: ItemResult; index: number }[];

/** Every item with its timeline, a hundred a page. */
export const journeyItemsPage = definePage({
  template: "journey/items",
  navigation: "Items",
  pages: (journey: JourneyContext) =>
    itemsByPage(journey.result).map((listed, page) => ({
      path: journey.paths.itemPages[page]!,
      title: page === 0 ? "Items" : `Items, page ${page + 1}`,
      subject: listed,
    })),
  view: (here: JourneyHere, listed: Listed): JourneyItemsView => {
    const open = openTimelines(listed);
    return {
      lead: leadSentence(here.result, listed, open),
      items: listed.map(({ item, index }) => ({ ...entry(here, item, index), isOpen: open.has(index) })),
      pages: pageLinks(here),
      table: here.tableLink("items"),
    };
  },
});

/** More open timelines than this hide one another. */
const mostOpen = 12;

/** The items, by index, whose timelines stand open; none where they are too many for one page. */
function openTimelines(listed: Listed): ReadonlySet<number> {
  const troubled = listed.filter(({ item }) => isTroubled(item)).map(({ index }) => index);
  return new Set(troubled.length > mostOpen ? [] : troubled);
}

function leadSentence({ items }: JourneyResult, listed: Listed, open: ReadonlySet<number>): string {
  if (items.length === 0) return "No run was made yet.";
  const all = counted(items.length, "item", "items");
  const first = listed[0]!.index + 1;
  const part =
    listed.length === items.length
      ? ""
      : ` This page has ${countText(first)} to ${countText(first + listed.length - 1)}.`;
  const folds =
    open.size === 0
      ? "Each line says what became of an item, and unfolds to its timeline."
      : "Each line says what became of an item; where the item missed a leg, came late or out of order, or was seen in a wrong place, its timeline stands open.";
  return `${all}, by run and tag.${part} ${folds} Each time is on the wall clock of its place.`;
}

function pageLinks(here: JourneyHere): (Link & { current: boolean })[] {
  const { itemPages } = here.paths;
  if (itemPages.length === 1) return [];
  return itemPages.map((path, page) => ({
    ...here.link(`page ${page + 1}`, path),
    current: path === here.path,
  }));
}

function entry(here: JourneyHere, item: ItemResult, index: number): Omit<ItemEntry, "isOpen"> {
  const { result, names } = here;
  const optional = new Set(result.legs.filter((leg) => leg.optional).map(({ id }) => id));
  const rounds = result.rounds.length > 1 ? `${names.round(item.round)}, ` : "";
  return {
    anchor: itemAnchor(index),
    tag: item.tag,
    uri: item.uri ?? "",
    run: `${rounds}run ${item.run}`,
    carrier: item.carrier ?? "",
    sentence: itemSentence(item, optional, names),
    steps: steps(here, item),
    more: item.visitsLeftOut === 0 ? "" : `and ${counted(item.visitsLeftOut, "more visit", "more visits")}`,
  };
}

/** Whether its way is worth a look. A void item does not count, and a carrier that was not heard is told in the item's line. */
function isTroubled(item: ItemResult): boolean {
  return item.voidReason === null && (!item.whole || item.inOrder === false || wasInWrongPlace(item));
}

/** The legs in their order, and wrong places where they fall in time. */
function steps(here: JourneyHere, { legs, visits }: ItemResult): Step[] {
  const wrong = (visits ?? []).filter(({ leg }) => leg === null);
  const found: Step[] = [];
  let next = 0;
  for (const [index, leg] of legs.entries()) {
    for (; leg.at !== null && next < wrong.length && byCodePoint(wrong[next]!.first, leg.at) < 0; next += 1)
      found.push(wrongStep(here, wrong[next]!));
    const hasEarlier = legs.slice(0, index).some(({ state }) => state === "seen" || state === "out-of-order");
    found.push(legStep(here, leg, { ...here.result.legs[index]!, hasEarlier }));
  }
  for (const visit of wrong.slice(next)) found.push(wrongStep(here, visit));
  return found;
}

function wrongStep({ names, result }: JourneyHere, visit: Visit): Step {
  return {
    kind: "wrong-place",
    when: whenText(visit.firstLocal, visit.first) + zoneNote(result, visit.facility),
    what: "wrong place",
    place: names.place(visit),
    href: "",
    detail: counted(visit.sightings, "sighting", "sightings"),
  };
}

/** ` (Halifax)`, where the facilities keep different time zones. */
function zoneNote({ facilities }: JourneyResult, facility: string): string {
  const zone = facilities.find(({ id }) => id === facility)?.timeZone ?? null;
  if (zone === null || new Set(facilities.map(({ timeZone }) => timeZone)).size === 1) return "";
  return ` (${zone.split("/").at(-1)!.replaceAll("_", " ")})`;
}

const legWords: Record<LegOfItem["state"], string> = {
  seen: "seen",
  "out-of-order": "seen, before an earlier leg",
  late: "late",
  "not-seen": "not seen",
};

/** @param hasEarlier whether its time counts from an earlier leg */
function legStep(
  here: JourneyHere,
  leg: LegOfItem,
  { optional, hasEarlier, ...declared }: LegResult & { hasEarlier: boolean },
): Step {
  const { names } = here;
  const { state, at, atLocal, afterS, carrier } = leg;
  const detail = [
    afterS === null ? "" : afterText(afterS, hasEarlier ? "the latest leg seen before" : "the start"),
    state === "late" ? `allowed ${allowedText(declared)}` : "",
    state === "not-seen" && optional ? "optional" : "",
    carrier === null ? "" : carrierWords(carrier),
  ];
  return {
    kind: state,
    when: at === null ? "" : whenText(atLocal, at) + zoneNote(here.result, declared.facility),
    what: `${names.leg(leg.leg)}: ${legWords[state]}`,
    place: `${declared.name}, ${declared.facilityName}`,
    href: readPointHref(here, declared),
    detail: nonEmpty(detail).join("; "),
  };
}

function afterText(seconds: number, since: string): string {
  return seconds < 0
    ? `${durationText(-seconds)} before ${since}`
    : `${durationText(seconds)} after ${since}`;
}

function carrierWords({ heard, apartS }: NonNullable<LegOfItem["carrier"]>): string {
  if (apartS === null) return "carrier not heard there at all";
  const apart =
    apartS === 0
      ? "at the same moment"
      : `${durationText(Math.abs(apartS))} ${apartS < 0 ? "before" : "after"}`;
  return heard ? `carrier heard ${apart}` : `carrier not with it, heard ${apart}`;
}
