import type { JourneyResult } from "../../model/journey/journey-result.ts";
import type { LegResult } from "../../model/journey/round.ts";
import { counted, countText, joined, nonEmpty, sentenceStart } from "../../model/number-words.ts";
import { type Cautions, cautionsView } from "../parts/cautions.ts";
import type { CsvTable } from "../parts/csv.ts";
import type { Figure, FigureView, TableFigureView } from "../parts/figure.ts";
import type { FindingFigure } from "../parts/finding-figures.ts";
import { definePage, type Link } from "../parts/page.ts";
import { changesSentence, changesTable } from "./changes.ts";
import { findingsTable, journeyFindings } from "./findings.ts";
import {
  type ItemList,
  itemsTable,
  lostList,
  lostTable,
  unheardList,
  wrongPlaceList,
  wrongPlacesTable,
} from "./item-lists.ts";
import { type JourneyContext, type JourneyHere, readPointHref } from "./journey-context.ts";
import { carrierTable, chainFigure, delayTable, legsTable, promiseTable } from "./leg-figures.ts";
import { planTexts } from "./plan-words.ts";
import { journeySigning, journeyVerdict, lateSentence, promiseSentences, remarkText } from "./words.ts";

export interface JourneyView extends Cautions {
  verdict: string;
  signing: string;
  chain: FigureView;
  /** The read points of the legs, each once, with links where the site has their pages. */
  readPoints: { name: string; href: string }[];
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
  /** Null with a single round. */
  changes: { sentence: string; table: TableFigureView } | null;
  /** Null where the journey plans nothing. */
  plan: ReturnType<typeof planTexts> | null;
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
      readPoints: readPointLinks(here),
      ...journeyFindings(here),
      noFindings: result.findings.length === 0 ? "No criterion is stated, so there are no findings." : "",
      promise: { sentences: promiseSentences(result, names), table: evidence.promise.view(here) },
      lost: lostList(here),
      delays: { sentence: lateSentence(result, names), table: evidence.delays.view(here) },
      wrongPlaces: wrongPlaceList(here),
      carriers: result.carrier === null ? null : unheardList(here),
      carrierTable: evidence.carriers?.view(here) ?? null,
      changes:
        evidence.changes === null
          ? null
          : { sentence: changesSentence(here), table: evidence.changes.view(here) },
      plan: result.plan === null ? null : planTexts(result.plan, result, names),
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

/** The facility stands beside a name that says too little by itself: one without a page, or of two read points. */
function readPointLinks(here: JourneyHere): JourneyView["readPoints"] {
  const { legs } = here.result;
  const isFirst = (leg: LegResult, i: number) =>
    legs.findIndex((one) => one.facility === leg.facility && one.readPoint === leg.readPoint) === i;
  const points = legs.filter(isFirst);
  return points.map((point) => {
    const href = readPointHref(here, point);
    const isClear = href !== "" && points.every((other) => other === point || other.name !== point.name);
    return { name: isClear ? point.name : `${point.name}, ${point.facilityName}`, href };
  });
}

/** Tables that are on the page and in files of their own. */
interface Evidence {
  promise: Figure<TableFigureView>;
  delays: Figure<TableFigureView>;
  carriers: Figure<TableFigureView> | null;
  changes: Figure<TableFigureView> | null;
}

function evidenceOf(journey: JourneyContext): Evidence {
  return {
    promise: promiseTable(journey),
    delays: delayTable(journey),
    carriers: journey.result.carrier === null ? null : carrierTable(journey),
    changes: journey.result.comparisons.length === 0 ? null : changesTable(journey),
  };
}

function tablesOf(journey: JourneyContext): CsvTable[] {
  const { promise, delays, carriers, changes } = evidenceOf(journey);
  return [
    findingsTable(journey),
    legsTable(journey),
    itemsTable(journey),
    lostTable(journey),
    wrongPlacesTable(journey),
    ...[promise, delays, carriers, changes].flatMap((one) => (one?.file == null ? [] : [one.file])),
  ];
}

function sightingSentence({ sightings, items }: JourneyResult): string {
  const { told, used, repeated, outsideRuns, otherTags } = sightings;
  if (told === 0) return "No sighting was logged.";
  const start = `${sentenceStart(counted(told, "sighting was", "sightings were"))} logged for ${counted(items.length, "item", "items")}`;
  if (used === told) return `${start}, and ${told === 1 ? "it counts" : "all of them count"}.`;
  const verb = (count: number, one: string, many: string) =>
    `${countText(count)} ${count === 1 ? one : many}`;
  const parts = [
    verb(used, "counts", "count"),
    repeated === 0 ? "" : verb(repeated, "repeats another", "repeat others"),
    outsideRuns === 0 ? "" : verb(outsideRuns, "falls outside its run", "fall outside their runs"),
    otherTags === 0 ? "" : verb(otherTags, "is of a tag in no run", "are of tags in no run"),
  ];
  return `${start}: ${joined(nonEmpty(parts))}.`;
}
