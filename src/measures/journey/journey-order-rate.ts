import { countedItems, type JourneySelection, OrderState } from "../../model/journey/outcomes.ts";
import { counted, countText } from "../../model/number-words.ts";
import { type JourneyMeasure, type Presentation, runUnit } from "../measure.ts";
import { percent } from "../scales.ts";
import { presentationEvidence } from "./presentations.ts";

const presentations = (selection: JourneySelection): Presentation[] => {
  const { order } = selection.outcomes;
  const told = countedItems(selection).filter((row) => order[row] !== OrderState.unknown);
  return told.map((row) => ({ row, succeeded: order[row] === OrderState.kept }));
};

/** Items whose first sightings come in the order of the legs, of those seen on two legs or more. */
export const journeyOrderRate: JourneyMeasure = {
  id: "journey-order-rate",
  title: "Journeys in order",
  unit: { one: "item", many: "items" },
  walked: runUnit,
  scale: percent,
  usualSense: "at-least",
  everyRound: "orderRate",
  byLeg: "never",
  collect: (selection) => presentationEvidence(selection, presentations(selection)),
  presentations,
  words: {
    count: (k, n) => `${countText(k)} of ${counted(n, "item", "items")} seen in order`,
    fault: "one out of order",
    countsIf: "with an item seen on two legs",
    nothingCounted: () => "no item was seen on two legs",
  },
  plan: {
    trials: "items",
    expected: ({ orderRate }) => orderRate,
    withoutExpected:
      "How often items come out of order does not follow from how many a leg sees: state expected_order_rate under plan, and the chance is told too.",
  },
  method: {
    counts: "items whose first sightings come in the order of the legs",
    of: "items seen on two legs or more",
  },
};
