import { diagnose } from "../../../src/analysis/diagnosis/diagnose.ts";
import { missFaults } from "./miss-faults.ts";
import type { PlantedFault } from "./planted-fault.ts";
import { powerFaults } from "./power-faults.ts";
import { radioFaults } from "./radio-faults.ts";
import { settingFaults } from "./setting-faults.ts";

/** All faults that the diagnosis is held to. */
export const plantedFaults: readonly PlantedFault[] = [
  ...missFaults,
  ...radioFaults,
  ...powerFaults,
  ...settingFaults,
];

/** How many of some walks with the fault have it named first: nothing said where there is none. */
export function timesNamed(fault: PlantedFault, walks: number, firstSeed: number): number {
  let named = 0;
  for (let seed = firstSeed; seed < firstSeed + walks; seed += 1) {
    const walked = fault.walk(seed);
    const { diagnosis } = diagnose(walked, walked.facility.readPoints[0]!);
    if (fault.isNamed(diagnosis?.suggestions[0])) named += 1;
  }
  return named;
}
