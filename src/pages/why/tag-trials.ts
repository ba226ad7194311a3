import { percent, rateFigures, withUnit } from "../../measures/scales.ts";
import type { TagTrials, Why } from "../../model/diagnosis/why.ts";
import type { Estimate } from "../../model/estimate.ts";
import { countedInWords, decimalText, nonEmpty, sentenceStart } from "../../model/number-words.ts";
import {
  countColumn,
  countOfColumns,
  decimalColumn,
  pColumn,
  textColumn,
  yesNoColumn,
} from "../parts/columns.ts";
import { type Section, tableFigure } from "../parts/figure.ts";
import { stateMark } from "../parts/state-mark.ts";
import { pointFigures, pointsText, pText } from "../words/figures.ts";
import type { WhyContext } from "./why-context.ts";

type Model = TagTrials["models"][number];
type Pair = TagTrials["pairs"][number];

/** Tag models that were walked side by side. */
export function tagTrials(found: Why["tagTrials"], context: WhyContext): Section | null {
  if (found === null || found.models.length === 0) return null;
  const apart = found.pairs.filter(({ toldApart }) => toldApart);
  const sentences = nonEmpty([
    `${sentenceStart(countedInWords(found.models.length, "tag model went", "tag models went"))} through in the same passes (column ${context.names.condition(found.column)}).`,
    ...apart.map(apartSentence),
    apart.length === 0
      ? "No two models are told apart: the differences may be chance."
      : apart.length < found.pairs.length
        ? "The other pairs are not told apart."
        : "",
  ]);
  return {
    id: "tag-trials",
    title: "Tag models on trial",
    sentences,
    tables: [modelTable(found, context), ...(found.pairs.length === 0 ? [] : [pairTable(found, context)])],
  };
}

/** Two models that are told apart, with how far apart where the interval of their difference does not reach 0. */
function apartSentence({ first, second, difference, lower, upper, pAdjusted }: Pair): string {
  const [better, worse] = difference > 0 ? [first, second] : [second, first];
  const [least, most] = difference > 0 ? [lower, upper] : [-upper, -lower];
  const figure = (end: number) => decimalText(end * 100, 1);
  const range = least > 0 ? `, by ${figure(least)} to ${pointsText(figure(most))}` : "";
  return `${better} is read more often than ${worse}${range} (p ${pText(pAdjusted)}).`;
}

function modelTable({ models }: TagTrials, { files, confidence }: WhyContext) {
  const rate = ({ read, presented, lower, upper }: Model): Estimate => ({
    kind: "rate",
    method: "",
    confidence,
    effectiveN: null,
    designEffect: null,
    value: presented === 0 ? null : read / presented,
    k: read,
    n: presented,
    lower,
    upper,
  });
  return tableFigure<Model>({
    id: "tag-models",
    caption: "How each model was read, and what the read point would be with it alone.",
    howToRead:
      "All models went through in the same passes. The state is what the criteria would come to if only tags of the model had been presented.",
    columns: [
      textColumn({ header: "model", label: "Model" }, ({ model }) => model),
      countColumn({ header: "tags", label: "Tags" }, ({ tags }) => tags),
      ...countOfColumns<Model>({ headers: ["read", "presented"], label: "Read" }, ({ read, presented }) => ({
        k: read,
        n: presented,
      })),
      { header: "lower_fraction", value: ({ lower }) => lower },
      { header: "upper_fraction", value: ({ upper }) => upper },
      {
        label: "Share read",
        text: (row) => {
          const { lower, value, upper } = rateFigures(rate(row), "at-least");
          return row.presented === 0
            ? ""
            : { text: withUnit(value, percent), detail: `${lower} to ${upper}` };
        },
        as: "number",
      },
      decimalColumn({ header: "median_dbm", label: "Median, dBm" }, ({ medianDbm }) => medianDbm),
      {
        header: "state_alone",
        value: ({ state }) => state,
        label: "With it alone",
        text: ({ state }) => (state === null ? "not known" : { mark: stateMark(state) }),
      },
    ],
    rows: models,
    tableCaption: "Tag models",
    mostRows: 30,
    file: files("why-tag-models", "how each tag model was read."),
  });
}

function pairTable({ pairs }: TagTrials, { files }: WhyContext) {
  return tableFigure<Pair>({
    id: "tag-model-pairs",
    caption: "The difference of each two models in the same passes, in percentage points.",
    howToRead:
      "The difference is the first model's rate less the second's. p is adjusted for the number of pairs; it ranks tags and not passes, and decides whether two models are told apart, also where the interval says otherwise.",
    columns: [
      {
        header: "first",
        value: ({ first }) => first,
        label: "Models",
        text: ({ first, second }) => `${first}, ${second}`,
      },
      { header: "second", value: ({ second }) => second },
      countColumn({ header: "passes", label: "Passes with both" }, ({ passes }) => passes),
      { header: "difference_fraction", value: ({ difference }) => difference },
      { header: "lower_fraction", value: ({ lower }) => lower },
      { header: "upper_fraction", value: ({ upper }) => upper },
      {
        label: "Difference",
        text: ({ difference, lower, upper }) => {
          const figures = pointFigures({ value: difference, lower, upper });
          return `${figures.value} (${figures.lower} to ${figures.upper})`;
        },
        as: "number",
      },
      { header: "p", value: ({ p }) => p },
      pColumn("p_adjusted", ({ pAdjusted }) => pAdjusted),
      yesNoColumn({ header: "told_apart", label: "Told apart" }, ({ toldApart }) => toldApart),
    ],
    rows: pairs,
    tableCaption: "Differences of tag models",
    mostRows: 30,
    file: files("why-tag-pairs", "the difference of each two tag models."),
  });
}
