import type { Suggestion } from "../../../src/model/diagnosis/diagnosis.ts";
import { type ForwardLink, spareDb, usualTag } from "../../../src/model/radio/link-budget.ts";
import type { WalkedFacility } from "../../../src/model/rows.ts";
import { radioRound } from "../../../tests/analysis/radio/radio-walk.ts";
import { type WalkedRow, walkedFacility } from "../../../tests/analysis/walked.ts";
import { seededStream } from "../walk-model.ts";
import { normalStream, nothingSaid, type PlantedFault } from "./planted-fault.ts";

/** A fault of cable or speed. */
interface SettingFault {
  /** What a cable loses beyond what is stated of it; 0 where left out. */
  cableDb?: number;
  /** How long the zone is. */
  zoneM?: number;
}

const passes = 24;
const tags = 40;
/** Tags a second, which is also what the round states. */
const readerTagsPerS = 200;
/** On the way to the tag, the best of its reads in a pass: how tags and presentations scatter. */
const scatterDb = { ofTag: 1, ofPresentation: 2 };
/** What is missed for no reason of the radio. */
const missRate = 0.01;
/** A tag's answer at the nearest distance, and the weakest that is decoded. */
const answer = { nearDbm: -48, weakestDbm: -85 };
const speedsMPerS = [1, 4];
const distancesM = [2, 4, 6.7];
const usualZoneM = 2;

/** 28 dBm behind 1 dB of cable and 6 dBi. */
const link: ForwardLink = {
  eirpDbm: 33,
  frequencyMhz: 915,
  tagGainDbi: usualTag.gainDbi,
  tagThresholdDbm: usualTag.thresholdDbm,
};

const kindIs =
  (...kinds: Suggestion["kind"][]): PlantedFault["isNamed"] =>
  (first) =>
    first !== undefined && kinds.includes(first.kind);

/** Faults that are told by what the round states of its radio. */
export const settingFaults: readonly PlantedFault[] = [
  { name: "a cable of 6 dB", walk: walkWith({ cableDb: 6 }), isNamed: kindIs("reach", "radio-setting") },
  { name: "too fast for the zone", walk: walkWith({ zoneM: 0.4 }), isNamed: kindIs("time-to-answer") },
  { name: "no fault, settings", walk: walkWith({}), isNamed: nothingSaid },
];

const conditions = [
  { column: "speed_m_s", label: "Speed", unit: "m/s", bands: [0, 2, 5] },
  { column: "distance_m", label: "Distance", unit: "m", bands: null },
];

/**
 * 24 passes of 40 tags. With even seeds there is a round without the fault before, with signals, and all tags pass at 4 m; with odd ones the
 * log says how far away they were, and no signals.
 */
function walkWith({ cableDb = 0, zoneM = usualZoneM }: SettingFault): (seed: number) => WalkedFacility {
  return (seed) => {
    const random = seededStream(seed);
    const normal = normalStream(random);
    const ofTags = Array.from({ length: tags }, () => scatterDb.ofTag * normal());
    const hasBefore = seed % 2 === 0;
    const rounds = hasBefore ? ["as-found", "as-left"] : ["as-left"];
    const rows = rounds.flatMap((round): WalkedRow[] => {
      const isFaulty = round === "as-left";
      const lossDb = isFaulty ? cableDb : 0;
      return Array.from({ length: passes }, (_, i) => {
        const speed = speedsMPerS[i % 2]! * (0.9 + 0.2 * random());
        const distanceM = hasBefore ? 4 : distancesM[Math.floor(i / 2) % 3]!;
        const inTime = Math.min(1, (readerTagsPerS * (isFaulty ? zoneM : usualZoneM)) / speed / tags);
        const columns = {
          speed_m_s: speed.toFixed(2),
          ...(hasBefore ? {} : { distance_m: String(distanceM) }),
        };
        return ofTags.map((ofTag, tag): WalkedRow => {
          const scatter = ofTag + scatterDb.ofPresentation * normal();
          const farDb = 40 * Math.log10(distanceM / distancesM[0]!);
          const level = answer.nearDbm - farDb - 2 * lossDb + 2 * scatter;
          const isHeard =
            spareDb(link, distanceM) - lossDb + scatter >= 0 &&
            level >= answer.weakestDbm &&
            random() < inTime;
          const read = isHeard && random() >= missRate;
          const signal = read && hasBefore ? { rssiDbm: level } : {};
          return { round, pass: `${i + 1}`, tag: `T${tag}`, read, columns, ...signal };
        });
      }).flat();
    });
    const stated = { cableLossDb: 1, frequencyMhz: link.frequencyMhz, readerTagsPerS };
    return walkedFacility(
      {
        rounds: rounds.map((id) =>
          radioRound(id, { ...stated, zoneM: id === "as-left" ? zoneM : usualZoneM }, "28"),
        ),
        conditions,
        criteria: [],
      },
      rows,
    );
  };
}
