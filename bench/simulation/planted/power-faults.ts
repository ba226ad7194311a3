import type { WalkedFacility } from "../../../src/model/rows.ts";
import { type WalkedRow, walkedFacility } from "../../../tests/analysis/walked.ts";
import { seededStream } from "../walk-model.ts";
import { normalStream, nothingSaid, type PlantedFault } from "./planted-fault.ts";

const passes = 24;
const tags = 40;
/** What is missed at any power, on the logit scale, and how passes and tags scatter about it. */
const usual = { logit: Math.log(0.01 / 0.99), scatter: 0.3 };
/** The powers of the log, the one at which half of the tags are read, the rise of the log odds with a dB, the scatter of tags. */
const power = { stepsDbm: [12, 15, 18, 21, 24, 27, 30], halfDbm: 18, slope: 0.8, scatterDb: 1.5 };

/** Faults of the transmit power, told by a power log. */
export const powerFaults: readonly PlantedFault[] = [
  { name: "a mis-set power", walk: walkAt(21), isNamed: (first) => first?.kind === "power" },
  { name: "no fault, power log", walk: walkAt(30), isNamed: nothingSaid },
];

/** 24 passes of 40 tags with the reader left at a power, and the same tags at each power of the log. */
function walkAt(inUseDbm: number): (seed: number) => WalkedFacility {
  return (seed) => {
    const random = seededStream(seed);
    const normal = normalStream(random);
    const load = Array.from({ length: tags }, () => ({
      logit: usual.logit + usual.scatter * normal(),
      halfDbm: power.halfDbm + power.scatterDb * normal(),
    }));
    const isHeard = (dbm: number, halfDbm: number) =>
      random() >= 1 / (1 + Math.exp(power.slope * (dbm - halfDbm)));
    const rows: WalkedRow[] = [];
    for (let pass = 1; pass <= passes; pass += 1) {
      const ofPass = usual.scatter * normal();
      const startedAt = `2026-05-21T10:${String(pass).padStart(2, "0")}:00Z`;
      for (const [tag, { logit, halfDbm }] of load.entries()) {
        const isMissed = random() < 1 / (1 + Math.exp(-(logit + ofPass)));
        const read = isHeard(inUseDbm, halfDbm) && !isMissed;
        rows.push({ pass: `${pass}`, tag: `T${tag}`, startedAt, straysRecorded: false, read });
      }
    }
    const walked = walkedFacility({ criteria: [] }, rows);
    const steps = power.stepsDbm.map((powerDbm) => ({
      powerDbm,
      presented: tags,
      read: load.filter(({ halfDbm }) => isHeard(powerDbm, halfDbm)).length,
    }));
    walked.log.power.push({ readPoint: "dock-1", round: "as-left", inUseDbm, steps, cohorts: null });
    return walked;
  };
}
