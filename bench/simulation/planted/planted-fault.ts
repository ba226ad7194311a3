import type { Suggestion } from "../../../src/model/diagnosis/diagnosis.ts";
import type { WalkedFacility } from "../../../src/model/rows.ts";

/** A fault that is planted into walks, and what the first suggestion has to name. */
export interface PlantedFault {
  name: string;
  /** A walk with the fault, at the facility's first read point. */
  walk(seed: number): WalkedFacility;
  isNamed(first: Suggestion | undefined): boolean;
}

/** Whether the first suggestion is of a kind and a subject. */
export function subjectIs(
  kind: Suggestion["kind"],
  subject: Record<string, string>,
): PlantedFault["isNamed"] {
  return (first) => first?.kind === kind && JSON.stringify(first.subject) === JSON.stringify(subject);
}

/** Nothing may be said where there is no fault. */
export const nothingSaid: PlantedFault["isNamed"] = (first) => first === undefined;

/** Near enough to normal: sums of twelve. */
export function normalStream(random: () => number): () => number {
  return () => {
    let sum = -6;
    for (let i = 0; i < 12; i += 1) sum += random();
    return sum;
  };
}
