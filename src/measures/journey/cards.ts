import { measures } from "../index.ts";
import type { Measure, MeasureCard } from "../measure.ts";
import { journeyMeasures } from "./index.ts";

/** What is known of a measure, whether it counts at a read point or over a journey. Throws on an unknown one. */
export function measureCard(id: string): MeasureCard & Pick<Measure, "besidePasses"> {
  return measures.find(id) ?? journeyMeasures.get(id);
}

/** Every measure there is. */
export const measureCards = (): readonly MeasureCard[] => [...measures.all(), ...journeyMeasures.all()];
