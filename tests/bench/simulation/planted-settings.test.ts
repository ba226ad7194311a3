import { expect, test } from "vitest";
import { plantedSettingFaults, timesSettingFaultNamed } from "../../../bench/planted/radio-faults.ts";

const walks = 4;

test.each(plantedSettingFaults.map((fault) => [fault.name, fault] as const))(
  "with %s planted the first suggestion names it, and with neither nothing is suggested",
  (_, fault) => {
    // The bench walks twenty of each and asks for eighteen.
    expect(timesSettingFaultNamed(fault, walks)).toBeGreaterThanOrEqual(walks - 1);
  },
);
