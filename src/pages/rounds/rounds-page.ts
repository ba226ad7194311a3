import { figuresOf } from "../../measures/scales.ts";
import { countedInWords, countWord, thinSpace } from "../../model/number-words.ts";
import type { ReadPointResult } from "../../model/result/read-point.ts";
import type { Result } from "../../model/result/result.ts";
import type { RoundResult } from "../../model/result/round.ts";
import { otherDays, type PairView, pairFiles, pairView } from "../changes/pair-view.ts";
import { yesOrNo } from "../parts/columns.ts";
import type { CsvTable } from "../parts/csv.ts";
import { fileOf } from "../parts/figure.ts";
import { definePage, type FacilityContext, type Link, type PageContext } from "../parts/page.ts";
import { countOf, type RateCell, rateColumns } from "../parts/rate-columns.ts";
import { leadingPair, type RoundPair, roundPairs } from "../parts/round-pairs.ts";
import { type PassLinks, passLinks } from "../passes/pass-sheets.ts";
import { intervalPicture } from "../pictures/interval-picture.ts";
import { passCount } from "../words/findings.ts";
import { emptyWord, isRecorded, type RoundRate, roundRates, roundRows } from "./round-rates.ts";
import { type RoundFacts, roundFacts, settingsOf } from "./settings.ts";

export interface RoundsView {
  /** What became of the read points up to the round judged; empty where nothing was compared. */
  verdict: string;
  lead: string;
  /** The pair that ends in the round judged first; the others are folded. */
  pairs: PairView[];
  howHref: string;
  /** What two days do to a comparison though nothing was changed. */
  otherDays: string;
  rounds: RoundFacts[];
  pictures: RoundPicture[];
  /** Why there is no picture of the other rates. */
  missing: string[];
  headings: string[];
  readPoints: ReadPointRounds[];
  table: Link;
}

/** The rounds of every read point beside each other: what each showed and what was changed between them. */
export const roundsPage = definePage({
  template: "rounds",
  navigation: "Before and after",
  pages: (facility) => [
    {
      path: facility.paths.rounds,
      title: "Before and after",
      subject: facility.result,
      tables: [
        roundsTable(facility.result),
        ...roundPairs(facility.result).flatMap((pair) => pairFiles(facility, pair)),
      ],
    },
  ],
  view: (here, result): RoundsView => {
    const rates = roundRates();
    const recorded = rates.filter((rate) => isRecorded(result.readPoints, rate));
    const links = passLinks(here);
    const pairs = leadingFirst(result).map((pair) => pairView(here, pair));
    return {
      verdict: pairs[0]?.verdict ?? "",
      lead: leadSentence(result),
      pairs,
      howHref: `${here.href(here.paths.method)}#before-and-after`,
      otherDays: otherDays(),
      rounds: roundFacts(result, result.signOffRound),
      pictures: recorded.map((rate) => roundPicture(rate, here)),
      missing: rates.filter((rate) => !recorded.includes(rate)).map(({ never }) => never),
      headings: recorded.map(({ title }) => title),
      readPoints: result.readPoints.map((readPoint) =>
        readPointRounds(readPoint, { rates: recorded, links }, here),
      ),
      table: here.tableLink("rounds"),
    };
  },
});

function leadingFirst(result: Result): RoundPair[] {
  const leading = leadingPair(result);
  const isLeading = ({ before, after }: RoundPair) => before === leading?.before && after === leading.after;
  return [...roundPairs(result).filter(isLeading), ...roundPairs(result).filter((pair) => !isLeading(pair))];
}

function roundsTable({ readPoints }: Result): CsvTable {
  type Row = { readPoint: ReadPointResult; round: RoundResult };
  return fileOf<Row>(
    {
      name: "rounds",
      holds: "Every round at every read point: passes, tags, and the rates with their bounds.",
    },
    [
      { header: "read_point", value: ({ readPoint }) => readPoint.id },
      { header: "read_point_name", value: ({ readPoint }) => readPoint.name },
      { header: "round", value: ({ round }) => round.id },
      {
        header: "judged",
        value: ({ readPoint, round }) => yesOrNo(readPoint.signOffRound === round.id),
      },
      { header: "passes", value: ({ round }) => round.passes },
      { header: "void_passes", value: ({ round }) => round.voidPasses },
      { header: "tags_presented", value: ({ round }) => round.tagsPresented },
      { header: "tags_read", value: ({ round }) => round.tagsRead },
      ...roundRates().flatMap(({ measure, estimateOf }) =>
        rateColumns<Row>(({ round }) => estimateOf(round), `${measure.replaceAll("-", "_")}_`),
      ),
      ...rateColumns<Row>(({ round }) => round.withVoids.tagReadRate, "tag_read_rate_with_voids_"),
      { header: "idle_tags", value: ({ round }) => round.heard?.idle?.rate.k ?? null },
      { header: "idle_minutes", value: ({ round }) => round.heard?.idle?.rate.n ?? null },
      { header: "idle_value_tags_a_minute", value: ({ round }) => round.heard?.idle?.rate.value ?? null },
      { header: "idle_lower_tags_a_minute", value: ({ round }) => round.heard?.idle?.rate.lower ?? null },
      { header: "idle_upper_tags_a_minute", value: ({ round }) => round.heard?.idle?.rate.upper ?? null },
    ],
    readPoints.flatMap((readPoint) => readPoint.rounds.map((round) => ({ readPoint, round }))),
  );
}

interface RoundPicture {
  id: string;
  title: string;
  caption: string;
  /** SVG. */
  picture: string;
}

function roundPicture(rate: RoundRate, here: FacilityContext): RoundPicture {
  return {
    id: rate.id,
    title: rate.title,
    caption: captionOf(here, rate),
    picture: intervalPicture({
      id: `rounds-${rate.id}`,
      title: `${rate.title}, round by round`,
      description:
        "One row per read point and one line per round, the last round in full strength. The table below has the same figures.",
      rows: roundRows(here, rate),
      scale: "stretched",
    }),
  };
}

/** The worst read point by its last walked round. It does not compare rounds. */
function captionOf({ result, names }: FacilityContext, rate: RoundRate): string {
  const wantsLow = rate.sense === "at-most";
  const last = result.readPoints.flatMap(({ name, rounds }) => {
    const round = rounds.findLast((entry) => rate.estimateOf(entry).n > 0);
    return round === undefined ? [] : [{ name, round: round.id, estimate: rate.estimateOf(round) }];
  });
  const faults = ({ estimate: { k, n } }: (typeof last)[number]) => (wantsLow ? k : n - k) / n;
  const worst = last.reduce((far, entry) => (faults(entry) > faults(far) ? entry : far));
  if (faults(worst) === 0) return rate.faultless;
  const side = wantsLow ? "Highest" : "Lowest";
  return `${side} among the last rounds: ${worst.name}, ${names.round(worst.round)}: ${countOf(worst.estimate)}.`;
}

interface ReadPointRounds {
  anchor: string;
  name: string;
  href: string;
  rows: {
    title: string;
    judged: boolean;
    passes: string;
    href: string;
    walked: boolean;
    rates: RateCell[];
  }[];
  changes: string[];
}

function readPointRounds(
  readPoint: ReadPointResult,
  { rates, links }: { rates: RoundRate[]; links: PassLinks },
  here: PageContext,
): ReadPointRounds {
  return {
    anchor: `round-by-round-${here.paths.readPointStem(readPoint.id)}`,
    name: readPoint.name,
    href: here.href(here.paths.readPoint(readPoint.id)),
    rows: readPoint.rounds.map((round) => ({
      title: here.names.round(round.id),
      judged: round.id === readPoint.signOffRound,
      passes: passCount(round),
      href: links.round(here.path, round, readPoint),
      walked: round.passList.length > 0,
      rates: rates.map((rate) => roundRateCell(round, rate)),
    })),
    changes: changesOf(here.result, readPoint),
  };
}

function roundRateCell(round: RoundResult, rate: RoundRate): RateCell {
  const estimate = rate.estimateOf(round);
  return {
    nothing: estimate.n === 0 ? emptyWord(round, rate) : "",
    count: countOf(estimate),
    figures: figuresOf(estimate, rate),
  };
}

/** The settings that differ from the round before. */
function changesOf(result: Result, readPoint: ReadPointResult): string[] {
  const settings = settingsOf(result, readPoint);
  return result.rounds.flatMap((round, index) =>
    settings
      .filter(({ cells }) => cells[index]?.changed)
      .map(
        ({ name, unit, cells }) =>
          `${round.title}: ${name} ${withUnit(cells[index]?.text, unit)}, before ${withUnit(cells[index - 1]?.text, unit)}.`,
      ),
  );
}

function withUnit(value = "not stated", unit = ""): string {
  return unit === "" || !/\d$/.test(value) ? value : `${value}${thinSpace}${unit}`;
}

function leadSentence(result: Result): string {
  const total = result.rounds.length;
  if (total === 1)
    return `There is only one round, ${result.rounds[0]?.title ?? ""}, so there is nothing to compare it with yet.`;
  const walked = result.readPoints.filter(
    ({ rounds }) => rounds.filter(({ passList }) => passList.length > 0).length > 1,
  ).length;
  const points = result.readPoints.length;
  const which =
    walked === points && points > 1
      ? `all ${countWord(points)} read points were`
      : `${countWord(walked)} of ${countedInWords(points, "read point", "read points")} ${walked === 1 ? "was" : "were"}`;
  return `There are ${countedInWords(total, "round", "rounds")}; ${which} walked in more than one.`;
}
