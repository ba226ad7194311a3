import { expect, test } from "vitest";
import { plantedFaults, timesNamed } from "../../../bench/simulation/planted-faults.ts";

const walks = 4;

test.each(plantedFaults.map((fault) => [fault.name, fault] as const))(
  "with %s planted the first suggestion names it, and with none nothing is suggested",
  (_, fault) => {
    // The bench walks twenty of each and asks for eighteen.
    expect(timesNamed(fault, walks)).toBeGreaterThanOrEqual(walks - 1);
  },
);
