import type { JourneyResult } from "../../model/journey/journey-result.ts";
import type { LegResult } from "../../model/journey/round.ts";
import { countText } from "../../model/number-words.ts";
import { byState } from "../../model/state.ts";
import { countColumn, yesOrNo } from "../parts/columns.ts";
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
import { countOf, rateColumns } from "../parts/rate-columns.ts";
import { chainPicture, type Station } from "./chain-picture.ts";
import { legOf } from "./findings.ts";
import { type JourneyContext, type JourneyHere, readPointHref } from "./journey-context.ts";
import { allowedText, durationText, rateText } from "./words.ts";

/* Figures with a row for each leg: the chain, what the read points' own walks promise, delays, carriers. */

const lateColumn: Column<LegResult> = countColumn({ header: "late", label: "Late" }, ({ late }) => late);

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
  { header: "optional", value: ({ optional }) => yesOrNo(optional) },
  ...rateColumns<LegResult>(({ sightingRate }) => sightingRate),
  { label: "Seen", text: ({ sightingRate }) => countOf(sightingRate), as: "number" },
  { label: "Share", text: ({ sightingRate }) => rateText(sightingRate) || "no figure", as: "strong number" },
  lateColumn,
  { header: "out_of_order", value: ({ outOfOrder }) => outOfOrder },
  countColumn({ header: "lost_after", label: "Last seen here" }, ({ lost }) => lost),
];

export function legsTable(journey: JourneyContext): CsvTable {
  return fileOf(
    { name: "legs", holds: "Every leg: who was seen, late and out of order, with the interval." },
    legColumns(journey),
    journey.result.legs,
  );
}

export function chainFigure(here: JourneyHere): Figure<FigureView> {
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
  const { sightingRate, delay, late, lost } = leg;
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
    note: [
      ...(late === 0 ? [] : [`${countText(late)} late`]),
      ...(lost === 0 ? [] : [`${countText(lost)} last seen here`]),
    ].join("; "),
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
  const { k, n } = weakest.sightingRate;
  if (k === n && needed.length > 1)
    return `Every leg that a journey needs sees every item: ${countOf(weakest.sightingRate)}, ${rateText(weakest.sightingRate)}.`;
  return `${weakest.name} (${weakest.facilityName}) sees the least of the legs that every journey needs: ${countOf(weakest.sightingRate)}, ${rateText(weakest.sightingRate)}.`;
}

export function promiseTable({ result, names }: JourneyContext): Figure<TableFigureView> {
  type Row = JourneyResult["promise"]["legs"][number];
  return tableFigure<Row>({
    id: "promise",
    caption: "What each read point showed in its own walk",
    howToRead:
      "The share of tags that the read point read in the round that it is signed off on. The product holds if the read points miss independently of each other; the bounds hold in any case (Fréchet 1935).",
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

export function delayTable({ result, names }: JourneyContext): Figure<TableFigureView> {
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
      lateColumn,
      ...spreads("lag", { median: "Known after", most: "95 in 100 known within" }),
    ],
    rows: result.legs,
    tableCaption: "Delays by leg",
    file: { name: "delays", holds: "How long items took from leg to leg, and the site to know, in seconds." },
  });
}

export function carrierTable({ result, names }: JourneyContext): Figure<TableFigureView> {
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
