import { type Figures, figuresOf } from "../measures/scales.ts";
import { countedInWords, countText, countWord, thinSpace } from "../model/number-words.ts";
import type { ReadPointResult, Result, RoundResult } from "../model/result.ts";
import { pairLinks } from "./changes/since.ts";
import { fileStem } from "./file-stem.ts";
import { facilityPage, type Page } from "./page.ts";
import { facilityPaths, relativeLink } from "./paths.ts";
import { intervalPicture } from "./pictures/interval-picture.ts";
import { equipmentAndSettings } from "./read-point/equipment-and-settings.ts";
import { passWays } from "./read-point/pass-links.ts";
import {
  emptyWord,
  isRecorded,
  type RoundRate,
  roundRates,
  roundRows,
  roundTitle,
} from "./rounds/round-rows.ts";
import { dateOrWords } from "./words/dates.ts";
import { passCount } from "./words/findings.ts";

/** The rounds of every read point beside each other: what each showed and what was changed between them. */
export function roundsPage(result: Result): Page {
  const paths = facilityPaths(result);
  const path = paths.rounds;
  const ways = passWays(result);
  const rates = roundRates();
  const recorded = rates.filter((rate) => isRecorded(result.readPoints, rate));
  return facilityPage(result, "rounds", path, "Rounds side by side", {
    lead: leadSentence(result),
    pairs: pairLinks(result, path),
    rounds: result.rounds.map((round, index) => ({
      title: round.title,
      date: dateOrWords(round.date, "no date stated"),
      judged: round.id === result.signOffRound,
      changes: round.changes ?? (index === 0 ? "The first round." : "No change is stated."),
    })),
    pictures: recorded.map((rate) => ({
      id: rate.id,
      title: rate.title,
      caption: captionOf(result, rate),
      picture: intervalPicture({
        id: `rounds-${rate.id}`,
        title: `${rate.title}, round by round`,
        description: `One row a read point, one line a round, the last round drawn full. The table below holds the same figures.`,
        rows: roundRows(result, rate),
        scale: "stretched",
      }),
    })),
    missing: rates.filter((rate) => !recorded.includes(rate)).map(({ never }) => never),
    headings: recorded.map(({ title }) => title),
    readPoints: result.readPoints.map((readPoint) => ({
      anchor: `round-by-round-${fileStem(paths.readPoints.get(readPoint.id) ?? "")}`,
      name: readPoint.name,
      href: relativeLink(path, paths.readPoints.get(readPoint.id) ?? ""),
      rows: readPoint.rounds.map((round) => ({
        title: roundTitle(result, round.id),
        judged: round.id === readPoint.signOffRound,
        passes: passCount(round),
        href: ways.round(path, round, readPoint),
        walked: round.passList.length > 0,
        rates: recorded.map((rate) => rateOf(round, rate)),
      })),
      changes: changesOf(result, readPoint),
    })),
    table: { label: "rounds.csv", href: relativeLink(path, paths.table("rounds")) },
  });
}

/** Where the last walked rounds showed the furthest from what is wanted; it sets no round against another. */
function captionOf(result: Result, rate: RoundRate): string {
  const wantsLow = rate.sense === "at-most";
  const last = result.readPoints.flatMap(({ name, rounds }) => {
    const round = rounds.findLast((entry) => rate.estimateOf(entry).n > 0);
    return round === undefined ? [] : [{ name, round: round.id, estimate: rate.estimateOf(round) }];
  });
  const faults = ({ estimate: { k, n } }: (typeof last)[number]) => (wantsLow ? k : n - k) / n;
  const worst = last.reduce((far, entry) => (faults(entry) > faults(far) ? entry : far));
  if (faults(worst) === 0) return rate.faultless;
  const { k, n } = worst.estimate;
  const side = wantsLow ? "Highest" : "Lowest";
  return `${side} at ${worst.name}, ${roundTitle(result, worst.round)}: ${countText(k)} of ${countText(n)}. Each read point stands by the last round that has such a figure.`;
}

interface RoundRateCell {
  /** Empty where there is a figure. */
  nothing: string;
  count: string;
  figures: Figures;
}

function rateOf(round: RoundResult, rate: RoundRate): RoundRateCell {
  const estimate = rate.estimateOf(round);
  return {
    nothing: estimate.n === 0 ? emptyWord(round, rate) : "",
    count: `${countText(estimate.k)} of ${countText(estimate.n)}`,
    figures: figuresOf(estimate, rate),
  };
}

/** Which settings a later round has otherwise than the round before it. */
function changesOf(result: Result, readPoint: ReadPointResult): string[] {
  const { settings } = equipmentAndSettings(result, readPoint);
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
    return `There is one round, ${result.rounds[0]?.title ?? ""}, so there is nothing to set beside it yet.`;
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
