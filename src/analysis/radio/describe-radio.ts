import type { Facility } from "../../model/facility.ts";
import { type RadioResult, radioResult } from "../../model/radio/radio-settings.ts";

/** What the radio of a read point was set to, round by round, as far as facility.yaml states it. */
export function describeRadio({ rounds }: Pick<Facility, "rounds">, readPoint: string): RadioResult[] {
  return rounds.flatMap(({ id, radio = {}, settings }) => {
    const stated = radio[readPoint];
    return stated === undefined ? [] : [radioResult(id, stated, settings[readPoint] ?? {})];
  });
}

/** The same of one round; null where it states nothing. */
export function radioOfRound(
  facility: Pick<Facility, "rounds">,
  { readPoint, round }: { readPoint: string; round: string },
): RadioResult | null {
  return describeRadio(facility, readPoint).find((one) => one.round === round) ?? null;
}
