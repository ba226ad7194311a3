import { measureCard } from "../../measures/journey/cards.ts";
import type { JourneyComparison, JourneyResult } from "../../model/journey/journey-result.ts";
import { countedInWords, joined, statedNumber } from "../../model/number-words.ts";
import type { Change } from "../../model/result/comparison.ts";
import { type Figure, type TableFigureView, tableFigure } from "../parts/figure.ts";
import { changeOrder, changeWords } from "../words/comparisons.ts";
import { pointFigures, pointsText } from "../words/figures.ts";
import type { JourneyContext, JourneyNames } from "./journey-context.ts";
import { rateText } from "./words.ts";

/* What became of the rates of a journey from round to round. */

/** Two rounds that are compared, with the rates in which they are: worst first. */
interface ComparedRounds {
  title: string;
  rates: JourneyComparison[];
}

export function comparedRounds(
  { comparisons }: Pick<JourneyResult, "comparisons">,
  names: JourneyNames,
): ComparedRounds[] {
  const pairs = new Map<string, JourneyComparison[]>();
  for (const one of comparisons) {
    const title = `${names.round(one.before)} to ${names.round(one.after)}`;
    pairs.set(title, [...(pairs.get(title) ?? []), one]);
  }
  return [...pairs].map(([title, rates]) => ({
    title,
    rates: rates.sort((a, b) => changeOrder.indexOf(a.change) - changeOrder.indexOf(b.change)),
  }));
}

/** `Whole journeys`, `Items seen on a leg: Carried`. */
export function comparedName({ measure, leg }: JourneyComparison, names: JourneyNames): string {
  const { title } = measureCard(measure);
  return leg === null ? title : `${title}: ${names.leg(leg)}`;
}

/** `+3.5 points (+2.3 to +5.0)`; empty where a round has nothing to compare. */
export function differenceText({ difference }: Pick<JourneyComparison, "difference">): string {
  if (difference === null) return "";
  const { value, lower, upper } = pointFigures(difference);
  const signed = (text: string) => (/^[^\u2212]*[1-9]/.test(text) ? `+${text}` : text);
  return `${signed(value)} points (${signed(lower)} to ${signed(upper)})`;
}

/** For one rate and for several. */
const changedRates: Record<Change, [string, string]> = {
  worse: ["rate is worse", "rates are worse"],
  "not-comparable": ["rate cannot be compared", "rates cannot be compared"],
  "no-change-shown": ["rate shows no change", "rates show no change"],
  "no-change-that-matters": ["rate has no change that matters", "rates have no change that matters"],
  better: ["rate is better", "rates are better"],
};

/** `As found to As left: two rates are worse and nine rates show no change.` */
export function changesSentence(journey: JourneyContext): string {
  const { result, names } = journey;
  const said = comparedRounds(result, names).map(({ title, rates }) => {
    const kinds = changeOrder.flatMap((change) => {
      const count = rates.filter((rate) => rate.change === change).length;
      return count === 0 ? [] : [countedInWords(count, ...changedRates[change])];
    });
    return `${title}: ${joined(kinds)}.`;
  });
  return said.join(" ");
}

export function changesTable({ result, names }: JourneyContext): Figure<TableFigureView> {
  const rounds = comparedRounds(result, names);
  return tableFigure<JourneyComparison>({
    id: "changes",
    caption: "What became of each rate from round to round",
    howToRead: `Worst first. Better and worse: the interval of the difference lies on one side of 0. No change that matters: it lies within ${pointsText(statedNumber(result.basis.smallestChangeThatMatters * 100))} of 0. Each interval stands by itself, so that among many rates some look changed by chance. The runs of two rounds are taken as independent.`,
    columns: [
      ...(rounds.length > 1
        ? [
            {
              label: "Rounds",
              text: ({ before, after }: JourneyComparison) =>
                `${names.round(before)} to ${names.round(after)}`,
            },
          ]
        : []),
      { header: "before", value: ({ before }) => before },
      { header: "after", value: ({ after }) => after },
      {
        header: "measure",
        value: ({ measure }) => measure,
        label: "Rate",
        text: (one) => comparedName(one, names),
      },
      { header: "leg", value: ({ leg }) => leg },
      {
        header: "change",
        value: ({ change }) => change,
        label: "Change",
        text: ({ change }) => changeWords[change],
      },
      {
        header: "before_fraction",
        value: ({ estimates }) => estimates.before.value,
        label: "Before",
        text: ({ estimates }) => rateText(estimates.before),
        as: "number",
      },
      {
        header: "after_fraction",
        value: ({ estimates }) => estimates.after.value,
        label: "After",
        text: ({ estimates }) => rateText(estimates.after),
        as: "number",
      },
      {
        header: "difference_fraction",
        value: ({ difference }) => difference?.value ?? null,
        label: "Difference",
        text: differenceText,
        as: "strong number",
      },
      { header: "lower_fraction", value: ({ difference }) => difference?.lower ?? null },
      { header: "upper_fraction", value: ({ difference }) => difference?.upper ?? null },
      { header: "p", value: ({ p }) => p },
    ],
    rows: rounds.flatMap(({ rates }) => rates),
    tableCaption: "Rates before and after",
    file: { name: "changes", holds: "What became of each rate of the journey from round to round." },
  });
}
