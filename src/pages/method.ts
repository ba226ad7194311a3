import { measures } from "../measures/index.ts";
import { statedNumber, thinSpace } from "../model/number-words.ts";
import type { Result } from "../model/result.ts";
import { statesWorstFirst } from "../model/state.ts";
import { type AssumedCorrelation, assumedCorrelation } from "./method/assumed-correlation.ts";
import { type GlossaryEntry, glossary } from "./method/glossary.ts";
import { type Source, sources } from "./method/sources.ts";
import { definePage, type Link, type PageContext } from "./parts/page.ts";
import { stateBox } from "./pictures/signs.ts";
import { pointsText } from "./words/figures.ts";
import { anyTimeWords, clusteredPrices, clusteredWords, intervalWords } from "./words/intervals.ts";

interface MethodView {
  confidence: string;
  outside: string;
  missCorrelation: string;
  smallestChange: string;
  beyond: string;
  intervalUsed: string;
  anyTime: ReturnType<typeof anyTimeWords>;
  clustered: ReturnType<typeof clusteredWords>;
  clusteredPrices: Record<
    "rate" | "tags" | "wilson" | "exact" | "clustered" | "anyTime" | "raised",
    string
  >[];
  settings: { label: string; value: string }[];
  states: { box: string }[];
  measures: { title: string; counts: string; of: string; used: boolean }[];
  correlation: AssumedCorrelation;
  sources: Source[];
  glossary: GlossaryEntry[];
  table: Link;
}

/** How each number is made: with this facility's settings, in words before formulas. */
export const methodPage = definePage({
  template: "method",
  navigation: "Method",
  pages: ({ paths, result }) => [{ path: paths.method, title: "How each number is made", subject: result }],
  view: methodView,
});

function methodView(here: PageContext, result: Result): MethodView {
  const { confidence, interval, missCorrelation, smallestChangeThatMatters } = result.basis;
  const percent = `${statedNumber(confidence * 100)}${thinSpace}%`;
  return {
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
      { label: "Interval", value: intervalWords[interval]!.name },
      { label: "Assumed correlation of misses", value: `at least ${statedNumber(missCorrelation)}` },
      {
        label: "Smallest change that matters",
        value: pointsText(statedNumber(smallestChangeThatMatters * 100)),
      },
      { label: "Round judged", value: here.names.round(result.signOffRound) },
      { label: "Made with", value: `${result.tool.name} ${result.tool.version}` },
    ],
    states: statesWorstFirst.map((state) => ({ box: stateBox(state) })),
    measures: measures.all().map(({ id, title, method }) => ({
      title,
      ...method,
      used: result.criteria.some(({ measure }) => measure === id),
    })),
    correlation: assumedCorrelation(here),
    sources,
    glossary,
    table: here.tableLink("assumed-correlation"),
  };
}
