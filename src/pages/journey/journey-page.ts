import type { JourneyResult, LegResult } from "../../model/journey/journey-result.ts";
import { counted, countedInWords, countText, sentenceStart } from "../../model/number-words.ts";
import { byState } from "../../model/state.ts";
import { type Cautions, cautionsView } from "../parts/cautions.ts";
import type { CsvTable } from "../parts/csv.ts";
import {
  type Column,
  type Figure,
  type FigureView,
  figure,
  fileOf,
  type TableFigureView,
  tableFigure,
} from "../parts/figure.ts";
import type { FindingFigure } from "../parts/finding-figures.ts";
import { definePage, type Link } from "../parts/page.ts";
import { countOf, rateColumns } from "../parts/rate-columns.ts";
import { chainPicture, type Station } from "./chain-picture.ts";
import { findingsTable, journeyFindings, legOf } from "./findings.ts";
import { itemLink, type JourneyContext, type JourneyHere, readPointHref } from "./journey-context.ts";
import {
  allowedText,
  durationText,
  journeySigning,
  journeyVerdict,
  lostSentence,
  promiseSentences,
  rateText,
  remarkText,
  whenText,
} from "./words.ts";

/** How many rows of a list stand on the page; its file has all. */
const mostRows = 25;

interface ItemRow {
  item: Link;
  run: string;
  where: string;
  when: string;
  what: string;
}

interface ItemList {
  sentence: string;
  rows: ItemRow[];
  /** How many more there are; empty where all are shown. */
  more: string;
  table: Link;
}

export interface JourneyView extends Cautions {
  verdict: string;
  signing: string;
  chain: FigureView;
  /** The read points of the legs, with links where the site has their pages. */
  readPoints: { leg: string; name: string; href: string }[];
  figures: FindingFigure[];
  met: { summary: string; figures: FindingFigure[] };
  noFindings: string;
  promise: { sentences: string[]; table: TableFigureView };
  lost: ItemList;
  delays: { sentence: string; table: TableFigureView };
  wrongPlaces: ItemList;
  /** Null where the journey asks for no carrier. */
  carriers: ItemList | null;
  carrierTable: TableFigureView | null;
  remarks: string[];
  sightings: string;
  sheet: Link;
  items: Link;
  method: Link;
  inputs: Link;
  downloads: Link[];
}

/** The journey's first page: the verdict, the chain, and what became of what was sent. */
export const journeyPage = definePage({
  template: "journey/overview",
  navigation: "Overview",
  pages: (journey: JourneyContext) => [
    {
      path: journey.paths.overview,
      title: journey.result.title,
      subject: evidenceOf(journey),
      tables: tablesOf(journey),
    },
  ],
  view: (here: JourneyHere, evidence: Evidence): JourneyView => {
    const { result, names, paths } = here;
    return {
      verdict: journeyVerdict(result),
      signing: journeySigning(result),
      chain: chainFigure(here).view(here),
      readPoints: result.legs.map((leg) => ({
        leg: names.leg(leg.id),
        name: `${leg.name}, ${leg.facilityName}`,
        href: readPointHref(here, leg),
      })),
      ...journeyFindings(here),
      noFindings: result.findings.length === 0 ? "No criterion is stated, so there are no findings." : "",
      promise: { sentences: promiseSentences(result, names), table: evidence.promise.view(here) },
      lost: lostList(here),
      delays: { sentence: delaySentence(result), table: evidence.delays.view(here) },
      wrongPlaces: wrongPlaceList(here),
      carriers: result.carrier === null ? null : unheardList(here),
      carrierTable: evidence.carriers?.view(here) ?? null,
      remarks: result.remarks.map((remark) => remarkText(remark, names)),
      sightings: sightingSentence(result),
      ...cautionsView,
      sheet: here.link("the sign-off sheet", paths.signOffSheet),
      items: here.link("every item with its timeline", paths.itemPages[0]!),
      method: here.link("How each number is made", paths.method),
      inputs: here.link("Inputs", paths.inputs),
      downloads: [
        ...["findings", "legs", "items"].map((name) => here.tableLink(name)),
        here.link("result.json", paths.result),
      ],
    };
  },
});

/** Tables that are on the page and in files of their own. */
interface Evidence {
  promise: Figure<TableFigureView>;
  delays: Figure<TableFigureView>;
  carriers: Figure<TableFigureView> | null;
}

function evidenceOf(journey: JourneyContext): Evidence {
  return {
    promise: promiseTable(journey),
    delays: delayTable(journey),
    carriers: journey.result.carrier === null ? null : carrierTable(journey),
  };
}

function tablesOf(journey: JourneyContext): CsvTable[] {
  const { promise, delays, carriers } = evidenceOf(journey);
  return [
    findingsTable(journey),
    legsTable(journey),
    itemsTable(journey),
    lostTable(journey),
    wrongPlacesTable(journey),
    ...[promise, delays, carriers].flatMap((one) => (one?.file == null ? [] : [one.file])),
  ];
}

// The chain.

const legColumns = ({ names }: JourneyContext): Column<LegResult>[] => [
  {
    header: "leg",
    value: ({ id }) => id,
    label: "Leg",
    text: ({ id, optional }) => `${names.leg(id)}${optional ? " (optional)" : ""}`,
  },
  { header: "facility", value: ({ facility }) => facility },
  {
    header: "read_point",
    value: ({ readPoint }) => readPoint,
    label: "Read point",
    text: ({ name, facilityName }) => ({ text: name, detail: facilityName }),
  },
  { header: "within_s", value: ({ withinS }) => withinS, label: "Allowed", text: allowedText },
  { header: "optional", value: ({ optional }) => (optional ? "yes" : "no") },
  ...rateColumns<LegResult>(({ sightingRate }) => sightingRate),
  { label: "Seen", text: ({ sightingRate }) => countOf(sightingRate), as: "number" },
  { label: "Share", text: ({ sightingRate }) => rateText(sightingRate) || "no figure", as: "strong number" },
  {
    header: "late",
    value: ({ late }) => late,
    label: "Late",
    text: ({ late }) => countText(late),
    as: "number",
  },
  { header: "out_of_order", value: ({ outOfOrder }) => outOfOrder },
  {
    header: "lost_after",
    value: ({ lost }) => lost,
    label: "Last seen here",
    text: ({ lost }) => countText(lost),
    as: "number",
  },
];

function legsTable(journey: JourneyContext): CsvTable {
  return fileOf(
    { name: "legs", holds: "Every leg: who was seen, late and out of order, with the interval." },
    legColumns(journey),
    journey.result.legs,
  );
}

function chainFigure(here: JourneyHere): Figure<FigureView> {
  const { result } = here;
  const caption = chainCaption(result);
  return figure({
    id: "chain",
    caption,
    howToRead:
      "Each stop is a leg, in the order expected: the share of items that its read point saw in time, how many of how many, and the interval. Between two stops stands the middle of the times from the latest earlier leg seen. A dashed line leads to an optional leg.",
    columns: legColumns(here),
    rows: result.legs,
    tableCaption: "The legs of the journey",
    file: { name: "legs", holds: "" },
    picture: () =>
      chainPicture({
        id: "chain-picture",
        title: "The chain of read points, with the share that each saw",
        description: caption,
        stations: result.legs.map((leg) => station(here, leg)),
      }),
  });
}

function station(here: JourneyHere, leg: LegResult): Station {
  const { result, names } = here;
  const own = result.findings
    .filter((finding) => legOf(finding) === leg.id)
    .map(({ state }) => state)
    .sort(byState);
  const { sightingRate, delay, lost } = leg;
  const href = readPointHref(here, leg);
  const [share = "", bounds = ""] = rateText(sightingRate).split(" (");
  return {
    name: names.leg(leg.id),
    readPoint: leg.name,
    facility: leg.facilityName,
    href: href === "" ? null : href,
    isOptional: leg.optional,
    state: own[0] ?? null,
    count: sightingRate.n === 0 ? "" : countOf(sightingRate),
    share,
    bounds: bounds.replace(/\)$/, ""),
    travel: delay === null ? "" : durationText(delay.median),
    lastSeen: lost === 0 ? "" : `${countText(lost)} last seen here`,
  };
}

/** The weakest leg that a journey needs, in a sentence. */
function chainCaption({ legs }: Pick<JourneyResult, "legs">): string {
  const needed = legs.filter(({ sightingRate, optional }) => sightingRate.value !== null && !optional);
  const weakest = needed.reduce<LegResult | null>(
    (worst, leg) => (worst === null || leg.sightingRate.value! < worst.sightingRate.value! ? leg : worst),
    null,
  );
  if (weakest === null) return "No run was made yet.";
  return `${weakest.name} (${weakest.facilityName}) sees the least of the legs that every journey needs: ${countOf(weakest.sightingRate)}, ${rateText(weakest.sightingRate)}.`;
}

// What the walks promise.

function promiseTable({ result, names }: JourneyContext): Figure<TableFigureView> {
  type Row = JourneyResult["promise"]["legs"][number];
  return tableFigure<Row>({
    id: "promise",
    caption: "What each read point showed in its own walk",
    howToRead:
      "The share of tags that the read point read in the round that it is signed off on. The product holds if the read points miss independently of each other; the bounds hold in any case (Fréchet 1935, from memory).",
    columns: [
      { header: "leg", value: ({ leg }) => leg, label: "Leg", text: ({ leg }) => names.leg(leg) },
      { header: "facility", value: ({ facility }) => facility },
      {
        header: "read_point",
        value: ({ readPoint }) => readPoint,
        label: "Read point",
        text: (row) => names.place(row),
      },
      { header: "round", value: ({ round }) => round, label: "Round", text: ({ round }) => round ?? "none" },
      { header: "k", value: ({ rate }) => rate?.k ?? null },
      { header: "n", value: ({ rate }) => rate?.n ?? null },
      { header: "value_fraction", value: ({ rate }) => rate?.value ?? null },
      { header: "lower_fraction", value: ({ rate }) => rate?.lower ?? null },
      { header: "upper_fraction", value: ({ rate }) => rate?.upper ?? null },
      {
        label: "Tags read",
        text: ({ rate }) => (rate === null ? "not walked" : countOf(rate)),
        as: "number",
      },
      { label: "Rate", text: ({ rate }) => (rate === null ? "" : rateText(rate)), as: "strong number" },
    ],
    rows: result.promise.legs,
    tableCaption: "The read points' own walks",
    file: { name: "own-walks", holds: "What the read points of the legs showed in their own walks." },
  });
}

// Delays.

function delaySentence({ legs }: JourneyResult): string {
  const late = legs.reduce((sum, leg) => sum + leg.late, 0);
  return late === 0
    ? "No sighting came late."
    : `${sentenceStart(countedInWords(late, "sighting came", "sightings came"))} later than the leg allows, and ${late === 1 ? "counts" : "count"} as not seen.`;
}

function delayTable({ result, names }: JourneyContext): Figure<TableFigureView> {
  const spreads = (name: "delay" | "lag", labels: { median: string; most: string }): Column<LegResult>[] => [
    { header: `${name}_n`, value: (leg) => leg[name]?.n ?? null },
    { header: `${name}_min_s`, value: (leg) => leg[name]?.min ?? null },
    { header: `${name}_q05_s`, value: (leg) => leg[name]?.q05 ?? null },
    {
      header: `${name}_median_s`,
      value: (leg) => leg[name]?.median ?? null,
      label: labels.median,
      text: (leg) => (leg[name] === null ? "not told" : durationText(leg[name].median)),
      as: "number",
    },
    {
      header: `${name}_q95_s`,
      value: (leg) => leg[name]?.q95 ?? null,
      label: labels.most,
      text: (leg) => (leg[name] === null ? "" : durationText(leg[name].q95)),
      as: "number",
    },
    { header: `${name}_max_s`, value: (leg) => leg[name]?.max ?? null },
  ];
  return tableFigure({
    id: "delays",
    caption: "How long items took from leg to leg, and the site to know",
    howToRead:
      "From the latest earlier leg seen (on the first leg, from the start of the run) to the first sighting of the items seen in time: the middle, and what 95 in 100 kept. Known is the time from a sighting until the site's system knew of it, where the sightings tell it.",
    columns: [
      { header: "leg", value: ({ id }) => id, label: "Leg", text: ({ id }) => names.leg(id) },
      { header: "within_s", value: ({ withinS }) => withinS, label: "Allowed", text: allowedText },
      ...spreads("delay", { median: "Median", most: "95 in 100 within" }),
      {
        label: "Longest",
        text: ({ delay }) => (delay === null ? "" : durationText(delay.max)),
        as: "number",
      },
      {
        header: "late",
        value: ({ late }) => late,
        label: "Late",
        text: ({ late }) => countText(late),
        as: "number",
      },
      ...spreads("lag", { median: "Known after", most: "95 in 100 known within" }),
    ],
    rows: result.legs,
    tableCaption: "Delays by leg",
    file: { name: "delays", holds: "How long items took from leg to leg, and the site to know, in seconds." },
  });
}

// Items.

function itemsTable({ result }: JourneyContext): CsvTable {
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
      { header: "whole", value: ({ item }) => (item.whole ? "yes" : "no") },
      {
        header: "in_order",
        value: ({ item }) => (item.inOrder === null ? null : item.inOrder ? "yes" : "no"),
      },
      { header: "leg", value: ({ leg }) => leg.leg },
      { header: "state", value: ({ leg }) => leg.state },
      { header: "at", value: ({ leg }) => leg.at },
      { header: "after_s", value: ({ leg }) => leg.afterS },
      {
        header: "carrier_heard",
        value: ({ leg }) => (leg.carrier === null ? null : leg.carrier.heard ? "yes" : "no"),
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

function lostList(here: JourneyHere): ItemList {
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

function lostTable({ result }: JourneyContext): CsvTable {
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

function wrongPlaceList(here: JourneyHere): ItemList {
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

function wrongPlacesTable({ result }: JourneyContext): CsvTable {
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

// Carriers.

function carrierTable({ result, names }: JourneyContext): Figure<TableFigureView> {
  const rows = result.legs.flatMap((leg) => (leg.carrier === null ? [] : [{ leg, rate: leg.carrier }]));
  type Row = (typeof rows)[number];
  return tableFigure<Row>({
    id: "carriers",
    caption: `The carrier heard with the item, within ${durationText(result.carrier?.withinS ?? 0)}`,
    howToRead:
      "Of the items that were seen on the leg: those with whose first sighting their carrier was heard there.",
    columns: [
      { header: "leg", value: ({ leg }) => leg.id, label: "Leg", text: ({ leg }) => names.leg(leg.id) },
      ...rateColumns<Row>(({ rate }) => rate),
      { label: "Carrier heard", text: ({ rate }) => countOf(rate), as: "number" },
      { label: "Share", text: ({ rate }) => rateText(rate) || "no figure", as: "strong number" },
    ],
    rows,
    tableCaption: "Carriers by leg",
    file: { name: "carriers", holds: "How often the carrier was heard with the item, by leg." },
  });
}

function unheardList(here: JourneyHere): ItemList {
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
      : `${sentenceStart(countedInWords(rows.length, "time an item was", "times an item was"))} seen without its carrier: somebody else may have carried it, or the carrier's tag was missed.`;
  return list(here, rows, { sentence, table: "items" });
}

function sightingSentence({ sightings, items }: JourneyResult): string {
  const { told, used, repeated, outsideRuns, otherTags } = sightings;
  return `${sentenceStart(counted(told, "sighting was", "sightings were"))} told for ${counted(items.length, "item", "items")}: ${countText(used)} count, ${countText(repeated)} tell again of one that does, ${countText(outsideRuns)} fall outside of their run and ${countText(otherTags)} are of tags that no run has.`;
}
