import { diagnose } from "../../src/analysis/diagnosis/diagnose.ts";
import type { Suggestion } from "../../src/model/diagnosis/diagnosis.ts";
import type { Facility, Round } from "../../src/model/facility.ts";
import { noRssi, type PassLog, Role } from "../../src/model/pass-log.ts";
import { type ForwardLink, spareDb, usualTag } from "../../src/model/radio/link-budget.ts";
import type { RadioSettings } from "../../src/model/radio/radio-settings.ts";
import { indexRows } from "../../src/model/rows.ts";
import { plantedFacility, plantedPass } from "../simulation/planted-faults.ts";
import { seededStream } from "../simulation/walk-model.ts";

/** A fault of cable or speed that is planted into walks, and what the first suggestion has to name. */
interface PlantedSettingFault {
  name: string;
  /** What a cable loses beyond what is stated of it. */
  cableDb: number;
  /** How long the zone is. */
  zoneM: number;
  kinds: Suggestion["kind"][];
}

export const plantedSettingFaults: readonly PlantedSettingFault[] = [
  { name: "a cable of 6 dB", cableDb: 6, zoneM: 2, kinds: ["reach", "radio-setting"] },
  { name: "a speed too high for the zone", cableDb: 0, zoneM: 0.4, kinds: ["time-to-answer"] },
  { name: "neither", cableDb: 0, zoneM: 2, kinds: [] },
];

const passes = 24;
const tags = 40;
/** Tags a second, which is also what facility.yaml states. */
const readerTagsPerS = 200;
/** On the way to the tag, the best of its reads in a pass: how tags and presentations scatter. */
const scatterDb = { ofTag: 1, ofPresentation: 2 };
/** What is missed for no reason of the radio. */
const strayMissRate = 0.01;
/** A tag's answer at the nearest distance, and the weakest that is decoded. */
const answer = { nearDbm: -48, weakestDbm: -85 };
const speedsMPerS = [1, 4];
const distancesM = [2, 4, 6.7];

const link: ForwardLink = {
  eirpDbm: 33,
  frequencyMhz: 915,
  tagGainDbi: usualTag.gainDbi,
  tagThresholdDbm: usualTag.thresholdDbm,
};

/** How many of some walks with the fault have it named first: nothing said where there is none. */
export function timesSettingFaultNamed(fault: PlantedSettingFault, walks: number): number {
  let named = 0;
  for (let seed = 1; seed <= walks; seed += 1) {
    const walked = walkWith(fault, seed);
    const first = diagnose(walked, walked.facility.readPoints[0]!).diagnosis?.suggestions[0];
    if (first === undefined ? fault.kinds.length === 0 : fault.kinds.includes(first.kind)) named += 1;
  }
  return named;
}

interface Presentation {
  pass: number;
  tag: number;
  speed: string;
  distance: string;
  rssiDbm: number;
}

/**
 * 24 passes of 40 tags. With even seeds there is a round without the fault before, with signals, and all tags pass at 4 m; with odd ones the
 * log says how far away they were, and no signals.
 */
function walkWith(fault: PlantedSettingFault, seed: number) {
  const random = seededStream(seed);
  // Sums of twelve are near enough to normal.
  const normal = () => Array.from({ length: 12 }, random).reduce((sum, one) => sum + one, -6);
  const ofTags = Array.from({ length: tags }, () => scatterDb.ofTag * normal());
  const hasBefore = seed % 2 === 0;
  const rounds = hasBefore ? ["as-found", "as-left"] : ["as-left"];
  const presented: Presentation[] = [];
  rounds.forEach((round, number) => {
    const isFaulty = round === "as-left";
    const lossDb = isFaulty ? fault.cableDb : 0;
    const zoneM = isFaulty ? fault.zoneM : 2;
    for (let i = 0; i < passes; i += 1) {
      const speed = speedsMPerS[i % 2]! * (0.9 + 0.2 * random());
      const distanceM = hasBefore ? 4 : distancesM[Math.floor(i / 2) % 3]!;
      const inTime = Math.min(1, (readerTagsPerS * zoneM) / speed / tags);
      for (let tag = 0; tag < tags; tag += 1) {
        const scatter = ofTags[tag]! + scatterDb.ofPresentation * normal();
        const spare = spareDb(link, distanceM) - lossDb + scatter;
        const level = answer.nearDbm - 40 * Math.log10(distanceM / distancesM[0]!) - 2 * lossDb + 2 * scatter;
        const isRead =
          spare >= 0 && level >= answer.weakestDbm && random() < inTime && random() >= strayMissRate;
        presented.push({
          pass: number * passes + i,
          tag,
          speed: speed.toFixed(2),
          distance: String(distanceM),
          rssiDbm: isRead ? level : noRssi,
        });
      }
    }
  });
  const log = logOf(presented, { rounds, hasBefore });
  return { facility: facilityOf(fault, rounds), log, index: indexRows(log) };
}

function logOf(
  presented: readonly Presentation[],
  { rounds, hasBefore }: { rounds: readonly string[]; hasBefore: boolean },
): PassLog {
  const { length } = presented;
  const column = (of: (one: Presentation) => string) => {
    const values = [...new Set(presented.map(of))];
    return { values, index: Int32Array.from(presented, (one) => values.indexOf(of(one))) };
  };
  const columns = new Map([["speed_m_s", column(({ speed }) => speed)]]);
  if (!hasBefore)
    columns.set(
      "distance_m",
      column(({ distance }) => distance),
    );
  return {
    passes: rounds.flatMap((round) =>
      Array.from({ length: passes }, (_, i) => ({ ...plantedPass(i + 1), round, rssiRecorded: hasBefore })),
    ),
    tags: Array.from({ length: tags }, (_, i) => `T${i}`),
    heard: null,
    power: [],
    rows: {
      length,
      pass: Int32Array.from(presented, ({ pass }) => pass),
      tag: Int32Array.from(presented, ({ tag }) => tag),
      role: new Uint8Array(length).fill(Role.presented),
      presentations: new Int32Array(length).fill(1),
      tagsRead: Int32Array.from(presented, ({ rssiDbm }) => (rssiDbm === noRssi ? 0 : 1)),
      readCounts: new Int32Array(length),
      rssiDbm: Float64Array.from(presented, ({ rssiDbm }) => (hasBefore ? rssiDbm : noRssi)),
      antenna: new Int16Array(length).fill(-1),
      antennas: [],
      columns,
    },
  };
}

function facilityOf(fault: PlantedSettingFault, rounds: readonly string[]): Facility {
  const radio = (zoneM: number): RadioSettings => ({
    region: "us",
    limitDbmEirp: null,
    limitDbmErp: null,
    source: null,
    frequencyMhz: link.frequencyMhz,
    cableLossDb: 1,
    antennaGainDbi: 6,
    antennaGainDbic: null,
    antennaSizeM: null,
    heightM: null,
    tiltDeg: null,
    zoneM,
    speedMPerS: null,
    readerTagsPerS,
    distanceM: null,
    tagGainDbi: null,
    tagThresholdDbm: null,
  });
  return {
    ...plantedFacility,
    rounds: rounds.map(
      (id): Round => ({
        id,
        title: id,
        date: null,
        changes: null,
        settings: { "dock-1": { transmit_power_dbm: "28" } },
        radio: { "dock-1": radio(id === "as-left" ? fault.zoneM : 2) },
      }),
    ),
    conditions: [
      { column: "speed_m_s", label: "Speed", unit: "m/s", bands: [0, 2, 5] },
      { column: "distance_m", label: "Distance", unit: "m", bands: null },
    ],
  };
}
