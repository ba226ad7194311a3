import { intervals } from "../../intervals/index.ts";
import type { Source } from "../../intervals/interval.ts";
import { measures } from "../../measures/index.ts";
import { statedNumber, thinSpace } from "../../model/number-words.ts";
import type { Result } from "../../model/result.ts";
import type { State } from "../../model/state.ts";
import { definePage, type Link, type PageContext } from "../parts/page.ts";
import { stateBox } from "../pictures/signs.ts";
import { pointsText } from "../words/figures.ts";
import { type AssumedCorrelation, assumedCorrelation } from "./assumed-correlation.ts";
import { type GlossaryEntry, glossary } from "./glossary.ts";
import { type IntervalViews, intervalViews } from "./intervals.ts";
import { sources } from "./sources.ts";

interface MethodView {
  confidence: string;
  outside: string;
  missCorrelation: string;
  smallestChange: string;
  beyond: string;
  intervals: IntervalViews;
  settings: { label: string; value: string }[];
  /** SVG. */
  boxes: Record<State, string>;
  measures: { title: string; counts: string; of: string; used: boolean }[];
  correlation: AssumedCorrelation;
  sources: readonly Source[];
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
  const shown = intervalViews(interval);
  return {
    confidence: percent,
    outside: `${statedNumber((1 - confidence) * 50)}${thinSpace}%`,
    missCorrelation: statedNumber(missCorrelation),
    smallestChange: pointsText(statedNumber(smallestChangeThatMatters * 100)),
    beyond: statedNumber(1 - confidence),
    intervals: shown,
    settings: [
      { label: "Confidence of every interval", value: `${percent}, two-sided` },
      { label: "Interval", value: intervals.get(interval).words.name },
      { label: "Assumed correlation of misses", value: `at least ${statedNumber(missCorrelation)}` },
      {
        label: "Smallest change that matters",
        value: pointsText(statedNumber(smallestChangeThatMatters * 100)),
      },
      { label: "Round judged", value: here.names.round(result.signOffRound) },
      { label: "Made with", value: `${result.tool.name} ${result.tool.version}` },
    ],
    boxes: {
      met: stateBox("met"),
      undecided: stateBox("undecided"),
      "not-met": stateBox("not-met"),
      untested: stateBox("untested"),
    },
    measures: measures.all().map(({ id, title, method }) => ({
      title,
      ...method,
      used: result.criteria.some(({ measure }) => measure === id),
    })),
    correlation: assumedCorrelation(here),
    sources: [...shown.sources, ...sources],
    glossary,
    table: here.tableLink("assumed-correlation"),
  };
}
