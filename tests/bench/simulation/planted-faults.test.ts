import { expect, test } from "vitest";
import { plantedFaults, timesNamed } from "../../../bench/simulation/planted/planted-faults.ts";

/** The bench walks twenty of each, from another seed, and asks for eighteen. */
const walks = 4;

test.each(plantedFaults.map((fault) => [fault.name, fault] as const))(
  "with %s planted the first suggestion names it, and with none nothing is suggested",
  (_, fault) => {
    expect(timesNamed(fault, walks, 1)).toBeGreaterThanOrEqual(walks - 1);
  },
);
