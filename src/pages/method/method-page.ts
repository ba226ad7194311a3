import pow from "@stdlib/math-base-special-pow";
import { changedByDay } from "../../analysis/comparison/simulated.ts";
import { unseenKinds } from "../../analysis/findings/cautions.ts";
import { intervals } from "../../intervals/index.ts";
import type { Source } from "../../intervals/interval.ts";
import { signalInHundred, signalWithoutRemark } from "../../intervals/simulated.ts";
import { measures } from "../../measures/index.ts";
import { rounded } from "../../measures/rounding.ts";
import { passesForWorst } from "../../measures/worst-pass.ts";
import { countText, statedNumber, statedPercent, thinSpace } from "../../model/number-words.ts";
import type { Result } from "../../model/result/result.ts";
import type { State } from "../../model/state.ts";
import { definePage, type Link, type PageContext } from "../parts/page.ts";
import { stateBox } from "../pictures/signs.ts";
import { pointsText } from "../words/figures.ts";
import { consumersRisk, familywiseRisk, ofHundred } from "../words/promises.ts";
import { type AssumedCorrelation, assumedCorrelation } from "./assumed-correlation.ts";
import { type GlossaryEntry, glossary } from "./glossary.ts";
import { type IntervalViews, intervalViews } from "./intervals.ts";
import { sources } from "./sources.ts";
import { type WorkedExample, workedExample } from "./worked-example.ts";

interface MethodView {
  /** Null where no finding has a rate. */
  worked: WorkedExample | null;
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
  unseen: UnseenView;
  many: ManyView;
  signal: Record<"sameTags" | "otherTags" | "withoutRemark", string>;
  days: Record<"once" | "onceHigh" | "often" | "oftenHigh", string>;
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
  const percent = statedPercent(confidence);
  const shown = intervalViews(interval);
  return {
    worked: workedExample(here),
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
    unseen: unseenView(confidence),
    many: {
      one: ofHundred(consumersRisk(confidence)),
      allOfTwenty: rounded(pow(0.9, 20) * 100, 0, "nearest"),
      ofTwenty: ofHundred(familywiseRisk(20, confidence)),
      ofTwo: ofHundred(familywiseRisk(2, confidence)),
      ofThree: ofHundred(familywiseRisk(3, confidence)),
    },
    signal: {
      sameTags: signalInHundred(true),
      otherTags: signalInHundred(false),
      withoutRemark: signalWithoutRemark,
    },
    days: {
      once: changedByDay({ ...otherDay, trueRate: 0.97, sessions: 1 }),
      onceHigh: changedByDay({ ...otherDay, trueRate: 0.99, sessions: 1 }),
      often: changedByDay({ ...otherDay, trueRate: 0.97, sessions: 4 }),
      oftenHigh: changedByDay({ ...otherDay, trueRate: 0.99, sessions: 4 }),
    },
    sources: [...shown.sources, ...sources],
    glossary,
    table: here.tableLink("assumed-correlation"),
  };
}

const otherDay = { passes: 20, tags: 40 };

/** What holds for many findings and rounds: so many of 100. */
type ManyView = Record<"one" | "allOfTwenty" | "ofTwenty" | "ofTwo" | "ofThree", string>;

/** What may not have come up, and how many passes the guard against it asks for. */
interface UnseenView {
  example: string;
  /** The probability with which a kind would have come up. */
  seen: string;
  columns: string[];
  rows: { rate: string; passes: string[] }[];
}

function unseenView(confidence: number): UnseenView {
  const [passes, tags] = [36, 40];
  const kinds = unseenKinds({ passes, tags }, confidence)!;
  const worst = [0.25, 0.5, 1];
  return {
    example: `With ${passes} passes, a kind of pass rarer than 1 in ${kinds.passes.oneIn} may not have come up; with ${tags} different tags, a kind of tag rarer than 1 in ${kinds.tags!.oneIn}.`,
    seen: statedPercent(1 - consumersRisk(confidence)),
    columns: worst.map((share) => `worst_pass: ${share}`),
    rows: [0.99, 0.98, 0.97, 0.95, 0.9].map((limit) => ({
      rate: statedPercent(limit),
      passes: worst.map((share) =>
        countText(passesForWorst({ worst_pass: share }, { sense: "at-least", limit }, confidence)),
      ),
    })),
  };
}
