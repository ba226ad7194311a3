import { CarrierState, countedItems, type JourneySelection } from "../../model/journey/outcomes.ts";
import { counted, countText } from "../../model/number-words.ts";
import { type JourneyMeasure, type Presentation, runUnit } from "../measure.ts";
import { percent } from "../scales.ts";
import { presentationEvidence } from "./presentations.ts";

const presentations = (selection: JourneySelection): Presentation[] => {
  const { legs, carrier } = selection.outcomes;
  const asked: Presentation[] = [];
  for (const row of countedItems(selection)) {
    for (let leg = 0; leg < legs; leg += 1) {
      const state = carrier[row * legs + leg]!;
      if ((selection.leg === null || selection.leg === leg) && state !== CarrierState.notAsked)
        asked.push({ row, succeeded: state === CarrierState.heard });
    }
  }
  return asked;
};

/** Carriers heard with the item, of the items seen on legs that ask for the carrier. */
export const carrierSightingRate: JourneyMeasure = {
  id: "carrier-sighting-rate",
  title: "Carriers heard with the item",
  unit: { one: "item and leg", many: "items and legs" },
  walked: runUnit,
  scale: percent,
  usualSense: "at-least",
  everyRound: "carrierRate",
  everyLeg: "carrier",
  byLeg: "possible",
  asksCarrier: true,
  collect: (selection) =>
    presentationEvidence(selection, presentations(selection), (row) => selection.outcomes.rows[row]!.carrier),
  presentations,
  words: {
    count: (k, n) => `${countText(k)} of ${counted(n, "sighting", "sightings")} with the carrier`,
    fault: "a missing carrier",
    countsIf: "with an item that names its carrier and is seen where the carrier is asked for",
    nothingCounted: () => "no item with a carrier was seen where the carrier is asked for",
  },
  plan: { trials: "items", expected: ({ legRate }) => legRate },
  method: {
    counts: "carriers heard at the read point within the stated time of the item's first sighting there",
    of: "items and legs that ask for the carrier, where the item was seen",
  },
};
