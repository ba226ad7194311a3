import { countedItems, type JourneySelection, LegState } from "../../model/journey/outcomes.ts";
import { counted, countText } from "../../model/number-words.ts";
import { type JourneyMeasure, type Presentation, runUnit } from "../measure.ts";
import { percent } from "../scales.ts";
import { presentationEvidence } from "./presentations.ts";

const presentations = (selection: JourneySelection): Presentation[] => {
  const { state, legs } = selection.outcomes;
  return countedItems(selection).map((row) => ({
    row,
    succeeded: state[row * legs + selection.leg!]! >= LegState.seen,
  }));
};

/** Items that a leg saw in time, of all items sent: a finding a leg, never an average over legs. */
export const legSightingRate: JourneyMeasure = {
  id: "leg-sighting-rate",
  title: "Items seen on a leg",
  unit: { one: "item", many: "items" },
  walked: runUnit,
  scale: percent,
  usualSense: "at-least",
  everyLeg: "sightingRate",
  byLeg: "always",
  collect: (selection) => presentationEvidence(selection, presentations(selection)),
  presentations,
  words: {
    count: (k, n) => `${countText(k)} of ${counted(n, "item", "items")} seen`,
    fault: "a miss",
    nothingCounted: () => "no item was sent",
  },
  plan: { trials: "items", expected: ({ legRate }) => legRate },
  method: {
    counts: "items seen on the leg: at its read point, while the run was under way and in the leg's time",
    of: "items sent, each once for every run",
  },
};
