import type { ReadPoint } from "../../../src/model/facility.ts";
import type { WalkedFacility } from "../../../src/model/rows.ts";
import { type HeardRow, heardFacility, twoRounds } from "../../../tests/analysis/diagnosis/heard.ts";
import { seededStream } from "../walk-model.ts";
import { normalStream, nothingSaid, type PlantedFault, subjectIs } from "./planted-fault.ts";

/** A fault of antennas, tags or surroundings. */
interface RadioFault {
  /** By so many dB an antenna hears a tag of a model weaker; 0 where left out. */
  lossDb?: (antenna: string, model: string) => number;
  /** The share of passes that hear tags of the neighbour; 0 where left out. */
  neighbourShare?: number;
}

const antennas = ["1", "2", "3", "4"];
const models = ["broad", "narrow", "round", "square"];
const passes = 24;
const tags = 40;
/** Levels of a good tag, what is decoded, and how tags, places before an antenna and single passes scatter. */
const levels = { usualDbm: -65, weakestDbm: -70, ofTag: 1, ofPlace: 3, ofPass: 3 };

/** Faults that are told by which antenna heard what, and how strong. */
export const radioFaults: readonly PlantedFault[] = [
  {
    name: "a bad antenna",
    walk: walkWith({ lossDb: (antenna) => (antenna === "3" ? 12 : 0) }),
    isNamed: subjectIs("antenna", { antenna: "3" }),
  },
  {
    name: "a bad tag model",
    walk: walkWith({ lossDb: (_, model) => (model === "narrow" ? 6 : 0) }),
    isNamed: subjectIs("tag-model", { model: "narrow" }),
  },
  {
    name: "a neighbour's tags",
    walk: walkWith({ neighbourShare: 0.3 }),
    isNamed: subjectIs("stray-source", { source: "neighbour", readPoint: "dock-2" }),
  },
  { name: "no fault, antennas", walk: walkWith({}), isNamed: nothingSaid },
];

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

/** 24 passes of 40 tags before four antennas. With even seeds there is a round without the fault before. */
function walkWith({ lossDb = () => 0, neighbourShare = 0 }: RadioFault): (seed: number) => WalkedFacility {
  return (seed) => {
    const random = seededStream(seed);
    const normal = normalStream(random);
    const load = Array.from({ length: tags }, (_, i) => ({
      tag: `T${i}`,
      model: models[i % models.length]!,
      ofPlace: antennas.map(() => levels.ofTag * normal() + levels.ofPlace * normal()),
    }));
    const rows: HeardRow[] = [];
    for (const round of seed % 2 === 0 ? ["as-found", "as-left"] : ["as-left"]) {
      for (let pass = 1; pass <= passes; pass += 1) {
        const at = { round, readPoint: "dock-1", pass: `${pass}` };
        for (const { tag, model, ofPlace } of load) {
          const by: Record<string, number> = {};
          for (const [i, antenna] of antennas.entries()) {
            const loss = round === "as-left" ? lossDb(antenna, model) : 0;
            const level = levels.usualDbm + ofPlace[i]! + levels.ofPass * normal() - loss;
            if (level >= levels.weakestDbm) by[antenna] = level;
          }
          rows.push({ ...at, tag, columns: { model }, by });
        }
        if (round === "as-left" && random() < neighbourShare)
          rows.push({ ...at, tag: `N${pass % 5}`, role: "stray", by: { 2: -69 } });
      }
    }
    for (let i = 0; i < 5; i += 1)
      rows.push({ round: "as-left", readPoint: "dock-2", pass: "1", tag: `N${i}`, by: { 1: -50 } });
    return heardFacility({ readPoints, rounds: twoRounds, compareTags: "model", criteria: [] }, rows);
  };
}
