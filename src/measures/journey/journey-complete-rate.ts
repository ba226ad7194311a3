import pow from "@stdlib/math-base-special-pow";
import { countedItems, type JourneySelection } from "../../model/journey/outcomes.ts";
import { counted, countText } from "../../model/number-words.ts";
import { type JourneyMeasure, type Presentation, runUnit } from "../measure.ts";
import { percent } from "../scales.ts";
import { presentationEvidence } from "./presentations.ts";

const presentations = (selection: JourneySelection): Presentation[] =>
  countedItems(selection).map((row) => ({ row, succeeded: selection.outcomes.whole[row] === 1 }));

/** Items that were seen on every leg that is not optional, of all items sent. */
export const journeyCompleteRate: JourneyMeasure = {
  id: "journey-complete-rate",
  title: "Whole journeys",
  unit: { one: "item", many: "items" },
  walked: runUnit,
  scale: percent,
  usualSense: "at-least",
  everyRound: "completeRate",
  byLeg: "never",
  collect: (selection) => presentationEvidence(selection, presentations(selection)),
  presentations,
  words: {
    count: (k, n) => `${countText(k)} of ${counted(n, "item", "items")} seen all the way`,
    fault: "a missed leg",
    nothingCounted: () => "no item was sent",
  },
  plan: { trials: "items", expected: ({ legRate, legs }) => pow(legRate, legs) },
  method: {
    counts: "items seen on every leg that is not optional",
    of: "items sent, each once for every run",
  },
};
