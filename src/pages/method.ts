import { measures } from "../measures/index.ts";
import { statedNumber, thinSpace } from "../model/number-words.ts";
import type { Result } from "../model/result.ts";
import { statesWorstFirst } from "../model/state.ts";
import { glossary } from "./glossary.ts";
import { assumedCorrelation } from "./method/assumed-correlation.ts";
import { anyTimeWords, clusteredPrices, clusteredWords, intervalWords } from "./method/interval-words.ts";
import { sources } from "./method/sources.ts";
import { facilityPage, type Page } from "./page.ts";
import { facilityPaths, relativeLink } from "./paths.ts";
import { stateBox } from "./pictures/signs.ts";

import { pointsText } from "./words/figures.ts";
import { stateWord } from "./words/verdicts.ts";

/** How each number is made: with this facility's settings, in words before formulas. */
export function methodPage(result: Result): Page {
  const paths = facilityPaths(result);
  const path = paths.method;
  const { confidence, interval, missCorrelation, smallestChangeThatMatters } = result.basis;
  const percent = `${statedNumber(confidence * 100)}${thinSpace}%`;
  const intervalName = intervalWords[interval]!.name;
  const round = result.rounds.find(({ id }) => id === result.signOffRound);
  return facilityPage(result, "method", path, "How each number is made", {
    confidence: percent,
    outside: `${statedNumber((1 - confidence) * 50)}${thinSpace}%`,
    missCorrelation: statedNumber(missCorrelation),
    smallestChange: pointsText(statedNumber(smallestChangeThatMatters * 100)),
    beyond: statedNumber(1 - confidence),
    intervalUsed: intervalWords[interval]!.used,
    anyTime: anyTimeWords(interval),
    clustered: clusteredWords(interval),
    clusteredPrices: clusteredPrices.map(({ rate, tags, ...passes }) => ({
      rate: `${statedNumber(rate * 100)}${thinSpace}%`,
      tags: `${tags}`,
      wilson: `${passes.wilson}`,
      exact: `${passes.exact}`,
      clustered: `${passes.clustered}`,
      anyTime: `${passes.anyTime}`,
      raised: `${passes.raised}`,
    })),
    settings: [
      { label: "Confidence of every interval", value: `${percent}, two-sided` },
      { label: "Interval", value: intervalName },
      { label: "Assumed correlation of misses", value: `at least ${statedNumber(missCorrelation)}` },
      {
        label: "Smallest change that matters",
        value: pointsText(statedNumber(smallestChangeThatMatters * 100)),
      },
      { label: "Round judged", value: round?.title ?? result.signOffRound },
      { label: "Made with", value: `${result.tool.name} ${result.tool.version}` },
    ],
    states: statesWorstFirst.map((state) => ({ state, word: stateWord(state), box: stateBox(state) })),
    measures: measures.all().map(({ id, title, method }) => ({
      title,
      ...method,
      used: result.criteria.some(({ measure }) => measure === id),
    })),
    correlation: assumedCorrelation(result, path),
    sources,
    glossary,
    table: { label: "assumed-correlation.csv", href: relativeLink(path, paths.table("assumed-correlation")) },
    result: { label: "result.json", href: relativeLink(path, paths.result) },
    inputs: relativeLink(path, paths.inputs),
  });
}
