import { seededStream } from "../../../bench/simulation/walk-model.ts";
import { diagnose } from "../../../src/analysis/diagnosis/diagnose.ts";
import type { Suggestion } from "../../../src/model/diagnosis/diagnosis.ts";
import type { WalkedFacility } from "../../../src/model/rows.ts";

/** One tag in one pass, as a reader with several antennas hears it. */
export interface HeardPresentation {
  round: string;
  readPoint: string;
  pass: string;
  tag: string;
  role: "presented" | "stray";
  columns: Record<string, string>;
  /** The strongest level in dBm by each antenna that heard it. */
  by: Record<string, number>;
}

/** A fault of antennas, tags or surroundings that is planted into walks, and what the first suggestion has to name. */
export interface PlantedRadioFault {
  name: string;
  /** By so many dB an antenna hears a tag of a model weaker. */
  lossDb(antenna: string, model: string): number;
  /** The share of passes that hear tags of the neighbour. */
  neighbourShare: number;
  isNamed(first: Suggestion | undefined): boolean;
}

const antennas = ["1", "2", "3", "4"];
const models = ["broad", "narrow", "round", "square"];
const passes = 24;
const tags = 40;
/** Levels of a good tag, what is decoded, and how tags, places before an antenna and single passes scatter. */
const levels = { usualDbm: -65, weakestDbm: -70, ofTag: 1, ofPlace: 3, ofPass: 3 };

const subjectIs = (kind: Suggestion["kind"], subject: Record<string, string>) => (first?: Suggestion) =>
  first?.kind === kind && JSON.stringify(first.subject) === JSON.stringify(subject);

export const plantedRadioFaults: readonly PlantedRadioFault[] = [
  {
    name: "a bad antenna",
    lossDb: (antenna) => (antenna === "3" ? 12 : 0),
    neighbourShare: 0,
    isNamed: subjectIs("antenna", { antenna: "3" }),
  },
  {
    name: "a bad tag model",
    lossDb: (_, model) => (model === "narrow" ? 6 : 0),
    neighbourShare: 0,
    isNamed: subjectIs("tag-model", { model: "narrow" }),
  },
  {
    name: "a neighbour's tags",
    lossDb: () => 0,
    neighbourShare: 0.3,
    isNamed: subjectIs("stray-source", { source: "neighbour", readPoint: "dock-2" }),
  },
  { name: "no fault", lossDb: () => 0, neighbourShare: 0, isNamed: (first) => first === undefined },
];

/** How many of some walks with the fault have it named first. `walked` makes of a walk what the analysis starts from. */
export function timesRadioFaultNamed(
  fault: PlantedRadioFault,
  walks: number,
  walked: (presented: readonly HeardPresentation[]) => WalkedFacility,
): number {
  let named = 0;
  for (let seed = 1; seed <= walks; seed += 1) {
    const walk = walked(walkWith(fault, seed));
    const { diagnosis } = diagnose(walk, walk.facility.readPoints[0]!);
    if (fault.isNamed(diagnosis?.suggestions[0])) named += 1;
  }
  return named;
}

/** 24 passes of 40 tags before four antennas. With even seeds there is a round without the fault before. */
function walkWith(fault: PlantedRadioFault, seed: number): HeardPresentation[] {
  const random = seededStream(seed);
  // Sums of twelve are near enough to normal.
  const normal = () => Array.from({ length: 12 }, random).reduce((sum, one) => sum + one, -6);
  const load = Array.from({ length: tags }, (_, i) => ({
    tag: `T${i}`,
    model: models[i % models.length]!,
    ofPlace: antennas.map(() => levels.ofTag * normal() + levels.ofPlace * normal()),
  }));
  const presented: HeardPresentation[] = [];
  for (const round of seed % 2 === 0 ? ["as-found", "as-left"] : ["as-left"]) {
    for (let pass = 1; pass <= passes; pass += 1) {
      const at = { round, readPoint: "dock-1", pass: `${pass}` };
      for (const { tag, model, ofPlace } of load) {
        const by: Record<string, number> = {};
        for (const [i, antenna] of antennas.entries()) {
          const lossDb = round === "as-left" ? fault.lossDb(antenna, model) : 0;
          const level = levels.usualDbm + ofPlace[i]! + levels.ofPass * normal() - lossDb;
          if (level >= levels.weakestDbm) by[antenna] = level;
        }
        presented.push({ ...at, tag, role: "presented", columns: { model }, by });
      }
      if (round === "as-left" && random() < fault.neighbourShare)
        presented.push({ ...at, tag: `N${pass % 5}`, role: "stray", columns: {}, by: { 2: -69 } });
    }
  }
  for (let i = 0; i < 5; i += 1) {
    const at = { round: "as-left", readPoint: "dock-2", pass: "1" };
    presented.push({ ...at, tag: `N${i}`, role: "presented", columns: {}, by: { 1: -50 } });
  }
  return presented;
}
