import { counted, countedInWords, countText, sentenceStart } from "../../model/number-words.ts";
import { yesOrNo } from "../parts/columns.ts";
import type { CsvTable } from "../parts/csv.ts";
import { fileOf } from "../parts/figure.ts";
import type { Link } from "../parts/page.ts";
import { itemLink, type JourneyContext, type JourneyHere } from "./journey-context.ts";
import { durationText, lostSentence, whenText } from "./words.ts";

/* Lists of items on the overview, and the files with all of them: lost ones, those in a wrong place, those without their carrier. */

/** How many rows of a list stand on the page; its file has all. */
const mostRows = 25;

interface ItemRow {
  item: Link;
  run: string;
  where: string;
  when: string;
  what: string;
}

export interface ItemList {
  sentence: string;
  rows: ItemRow[];
  /** How many more there are; empty where all are shown. */
  more: string;
  table: Link;
}

export function itemsTable({ result }: JourneyContext): CsvTable {
  const rows = result.items.flatMap((item) => item.legs.map((leg) => ({ item, leg })));
  type Row = (typeof rows)[number];
  return fileOf<Row>(
    {
      name: "items",
      holds: "Every item on every leg: seen, late, out of order or not, when, and its carrier.",
    },
    [
      { header: "round", value: ({ item }) => item.round },
      { header: "run", value: ({ item }) => item.run },
      { header: "tag", value: ({ item }) => item.tag },
      { header: "carrier", value: ({ item }) => item.carrier },
      { header: "void_reason", value: ({ item }) => item.voidReason },
      { header: "whole", value: ({ item }) => yesOrNo(item.whole) },
      {
        header: "in_order",
        value: ({ item }) => (item.inOrder === null ? null : yesOrNo(item.inOrder)),
      },
      { header: "leg", value: ({ leg }) => leg.leg },
      { header: "state", value: ({ leg }) => leg.state },
      { header: "at", value: ({ leg }) => leg.at },
      { header: "after_s", value: ({ leg }) => leg.afterS },
      {
        header: "carrier_heard",
        value: ({ leg }) => (leg.carrier === null ? null : yesOrNo(leg.carrier.heard)),
      },
      { header: "carrier_at", value: ({ leg }) => leg.carrier?.at ?? null },
      { header: "carrier_apart_s", value: ({ leg }) => leg.carrier?.apartS ?? null },
    ],
    rows,
  );
}

function list(
  here: JourneyHere,
  all: ItemRow[],
  { sentence, table }: { sentence: string; table: string },
): ItemList {
  const rest = all.length - mostRows;
  return {
    sentence,
    rows: all.slice(0, mostRows),
    more: rest > 0 ? `and ${countText(rest)} more` : "",
    table: here.tableLink(table),
  };
}

export function lostList(here: JourneyHere): ItemList {
  const { result, names } = here;
  const rows = result.lost.map(
    ({ item, lastSeen, missing }): ItemRow => ({
      item: itemLink(here, item),
      run: result.items[item]!.run,
      where:
        lastSeen === null
          ? "never seen"
          : `${lastSeen.leg === null ? "" : `${names.leg(lastSeen.leg)}: `}${names.place(lastSeen)}`,
      when: lastSeen === null ? "" : whenText(lastSeen.atLocal, lastSeen.at),
      what: `not seen on ${missing.map((leg) => names.leg(leg)).join(", ")}`,
    }),
  );
  return list(here, rows, { sentence: lostSentence(result), table: "lost" });
}

export function lostTable({ result }: JourneyContext): CsvTable {
  return fileOf(
    { name: "lost", holds: "Lost items, and where they were last seen." },
    [
      { header: "run", value: ({ item }) => result.items[item]!.run },
      { header: "tag", value: ({ item }) => result.items[item]!.tag },
      { header: "missing_legs", value: ({ missing }) => missing.join(" ") },
      { header: "last_seen_leg", value: ({ lastSeen }) => lastSeen?.leg ?? null },
      { header: "last_seen_facility", value: ({ lastSeen }) => lastSeen?.facility ?? null },
      { header: "last_seen_read_point", value: ({ lastSeen }) => lastSeen?.readPoint ?? null },
      { header: "last_seen_at", value: ({ lastSeen }) => lastSeen?.at ?? null },
    ],
    result.lost,
  );
}

export function wrongPlaceList(here: JourneyHere): ItemList {
  const { result, names } = here;
  const rows = result.wrongPlaces.map(
    (one): ItemRow => ({
      item: itemLink(here, one.item),
      run: result.items[one.item]!.run,
      where: names.place(one),
      when: whenText(one.firstLocal, one.first),
      what: counted(one.sightings, "sighting", "sightings"),
    }),
  );
  const items = new Set(result.wrongPlaces.map(({ item }) => item)).size;
  const sentence =
    items === 0
      ? "No item was seen at a read point where it was not sent."
      : `${sentenceStart(countedInWords(items, "item was", "items were"))} seen at a read point that is no leg of the journey.`;
  return list(here, rows, { sentence, table: "wrong-places" });
}

export function wrongPlacesTable({ result }: JourneyContext): CsvTable {
  return fileOf(
    { name: "wrong-places", holds: "Items that a read point of no leg saw." },
    [
      { header: "run", value: ({ item }) => result.items[item]!.run },
      { header: "tag", value: ({ item }) => result.items[item]!.tag },
      { header: "facility", value: ({ facility }) => facility },
      { header: "read_point", value: ({ readPoint }) => readPoint },
      { header: "first", value: ({ first }) => first },
      { header: "last", value: ({ last }) => last },
      { header: "sightings", value: ({ sightings }) => sightings },
    ],
    result.wrongPlaces,
  );
}

export function unheardList(here: JourneyHere): ItemList {
  const { result, names } = here;
  const rows = result.items.flatMap((item, index) =>
    item.voidReason !== null || item.round !== result.signOffRound
      ? []
      : item.legs.flatMap(({ leg, carrier }): ItemRow[] =>
          carrier === null || carrier.heard
            ? []
            : [
                {
                  item: itemLink(here, index),
                  run: item.run,
                  where: names.leg(leg),
                  when: "",
                  what:
                    carrier.apartS === null
                      ? "carrier not heard there at all"
                      : `carrier heard ${durationText(Math.abs(carrier.apartS))} ${carrier.apartS < 0 ? "before" : "after"}`,
                },
              ],
        ),
  );
  const sentence =
    rows.length === 0
      ? "Wherever the carrier was asked for, it was heard with the item."
      : `${rows.length === 1 ? "Once" : sentenceStart(countedInWords(rows.length, "time", "times"))} an item was seen without its carrier: somebody else may have carried it, or the carrier's tag was missed.`;
  return list(here, rows, { sentence, table: "items" });
}
