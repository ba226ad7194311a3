import { diagnose } from "../../src/analysis/diagnosis/diagnose.ts";
import type { Suggestion } from "../../src/model/diagnosis/diagnosis.ts";
import type { Facility } from "../../src/model/facility.ts";
import { noRssi, type Pass, type PassLog, Role } from "../../src/model/pass-log.ts";
import { indexRows } from "../../src/model/rows.ts";
import { seededStream } from "./walk-model.ts";

/** One presentation of a walk without a fault: which tag, in which pass, how it lay. */
interface Presentation {
  pass: number;
  tag: number;
  orientation: string;
  height: string;
  speed: string;
}

/** A fault that is planted into walks, and what the first suggestion has to name. */
export interface PlantedFault {
  name: string;
  /** The share of such presentations that is missed; null where the fault does not touch it. */
  missRate(presentation: Presentation): number | null;
  isNamed(first: Suggestion | undefined): boolean;
  /** The transmit power that the reader is left at; with it comes a power log. Left out where there is none. */
  inUseDbm?: number;
}

const passes = 24;
const tags = 40;
/** What every presentation is missed with, on the logit scale, and how passes and tags scatter about it. */
const usual = { logit: Math.log(0.01 / 0.99), scatter: 0.3 };
const orientations = ["flat", "edge-on", "upright"];
const heights = ["top", "middle", "bottom"];
const speeds = ["slow", "fast"];
/** Of the power log: its powers, the power at which half of the tags are read, how steep, and how tags scatter about it. */
const power = { steps: [12, 15, 18, 21, 24, 27, 30], halfDbm: 18, slope: 0.8, scatterDb: 1.5 };

const subjectIs = (kind: Suggestion["kind"], subject: Record<string, string>) => (first?: Suggestion) =>
  first?.kind === kind && JSON.stringify(first.subject) === JSON.stringify(subject);

/** The first and last bad pass of the planted run. */
const run = { from: 9, to: 14 };

export const plantedFaults: readonly PlantedFault[] = [
  {
    name: "a dead tag",
    missRate: ({ tag }) => (tag === 17 ? 0.9 : null),
    isNamed: subjectIs("tag", { tag: "T17" }),
  },
  {
    name: "a weak position",
    missRate: ({ height }) => (height === "top" ? 0.12 : null),
    isNamed: subjectIs("condition", { height: "top" }),
  },
  {
    name: "a pair of conditions",
    missRate: ({ orientation, height }) => (orientation === "edge-on" && height === "top" ? 0.3 : null),
    isNamed: subjectIs("condition", { orientation: "edge-on", height: "top" }),
  },
  {
    name: "a run of bad passes",
    missRate: ({ pass }) => (pass >= run.from && pass <= run.to ? 0.2 : null),
    isNamed: (first) => {
      if (first?.kind !== "run-of-passes") return false;
      const [from, to] = [Number(first.subject.from), Number(first.subject.to)];
      const shared = Math.min(to, run.to) - Math.max(from, run.from) + 1;
      // Most of what is named was planted, and most of what was planted is named.
      return shared * 2 > to - from + 1 && shared * 2 > run.to - run.from + 1;
    },
  },
  {
    name: "a mis-set power",
    inUseDbm: 21,
    missRate: () => null,
    isNamed: (first) => first?.kind === "power",
  },
  { name: "no fault", missRate: () => null, isNamed: (first) => first === undefined },
  {
    name: "no fault, power log",
    inUseDbm: 30,
    missRate: () => null,
    isNamed: (first) => first === undefined,
  },
];

/** How many of some walks with the fault have it named first: nothing said where there is none. */
export function timesNamed(fault: PlantedFault, walks: number, firstSeed = 1): number {
  let named = 0;
  for (let seed = firstSeed; seed < firstSeed + walks; seed += 1) {
    const walked = walkWith(fault, seed);
    const { diagnosis } = diagnose(walked, walked.facility.readPoints[0]!);
    if (fault.isNamed(diagnosis?.suggestions[0])) named += 1;
  }
  return named;
}

/** 24 passes of 40 tags. With even seeds a tag lies in its own place throughout, as in a load; with odd ones anywhere. */
function walkWith(fault: PlantedFault, seed: number) {
  const random = seededStream(seed);
  const pick = (list: readonly string[]) => list[Math.floor(random() * list.length)]!;
  // Sums of twelve are near enough to normal.
  const normal = () => Array.from({ length: 12 }, random).reduce((sum, one) => sum + one, -6);
  const placesOfTags = Array.from({ length: tags }, () => ({
    orientation: pick(orientations),
    height: pick(heights),
  }));
  const ofTags = placesOfTags.map(() => usual.scatter * normal());
  const { inUseDbm } = fault;
  // The same tags go through the passes and through the power log.
  const halfOfTags =
    inUseDbm === undefined ? [] : ofTags.map(() => power.halfDbm + power.scatterDb * normal());
  const missAt = (dbm: number, tag: number) => 1 / (1 + Math.exp(power.slope * (dbm - halfOfTags[tag]!)));
  const presented: Presentation[] = [];
  const isRead: boolean[] = [];
  for (let pass = 1; pass <= passes; pass += 1) {
    const speed = speeds[pass % 2]!;
    const ofPass = usual.scatter * normal();
    for (let tag = 0; tag < tags; tag += 1) {
      const place =
        seed % 2 === 0 ? placesOfTags[tag]! : { orientation: pick(orientations), height: pick(heights) };
      const one = { pass, tag, speed, ...place };
      const missRate = fault.missRate(one) ?? 1 / (1 + Math.exp(-(usual.logit + ofPass + ofTags[tag]!)));
      presented.push(one);
      isRead.push(random() >= missRate && (inUseDbm === undefined || random() >= missAt(inUseDbm, tag)));
    }
  }
  const log = logOf(presented, isRead);
  if (inUseDbm !== undefined) {
    const steps = power.steps.map((powerDbm) => {
      const read = ofTags.filter((_, tag) => random() >= missAt(powerDbm, tag)).length;
      return { powerDbm, presented: tags, read };
    });
    log.power.push({ readPoint: "dock-1", round: "as-left", inUseDbm, steps });
  }
  return { facility, log, index: indexRows(log) };
}

function logOf(presented: readonly Presentation[], isRead: readonly boolean[]): PassLog {
  const { length } = presented;
  const column = (values: readonly string[], of: (one: Presentation) => string) => ({
    values: [...values],
    index: Int32Array.from(presented, (one) => values.indexOf(of(one))),
  });
  return {
    passes: Array.from({ length: passes }, (_, i) => passNumber(i + 1)),
    tags: Array.from({ length: tags }, (_, i) => `T${i}`),
    heard: null,
    power: [],
    rows: {
      length,
      pass: Int32Array.from(presented, ({ pass }) => pass - 1),
      tag: Int32Array.from(presented, ({ tag }) => tag),
      role: new Uint8Array(length).fill(Role.presented),
      presentations: new Int32Array(length).fill(1),
      tagsRead: Int32Array.from(isRead, Number),
      readCounts: new Int32Array(length),
      rssiDbm: new Float64Array(length).fill(noRssi),
      antenna: new Int16Array(length).fill(-1),
      antennas: [],
      columns: new Map([
        ["orientation", column(orientations, ({ orientation }) => orientation)],
        ["height", column(heights, ({ height }) => height)],
        ["speed", column(speeds, ({ speed }) => speed)],
      ]),
    },
  };
}

function passNumber(number: number): Pass {
  const startedAt = `2026-05-21T10:${String(number).padStart(2, "0")}:00Z`;
  return {
    round: "as-left",
    readPoint: "dock-1",
    id: `${number}`,
    form: "itemised",
    namesTags: true,
    readsFrom: "pass-log",
    startedAt,
    endedAt: startedAt,
    startedAtLocal: null,
    endedAtLocal: null,
    voidReason: null,
    walkedBy: [],
    notes: [],
    extras: [],
    straysRecorded: false,
    tallyStrays: null,
    rssiRecorded: false,
    manifest: null,
    file: "passes/walk.csv",
  };
}

const facility: Facility = {
  id: "planted",
  name: "Planted faults",
  client: null,
  address: null,
  timeZone: "Europe/Dublin",
  retest: null,
  pseudonyms: false,
  compareTags: null,
  signOff: null,
  dateOrder: null,
  compareWithReader: false,
  sheets: {},
  report: null,
  preparedBy: null,
  witnessedBy: [],
  confidence: 0.95,
  interval: "wilson",
  missCorrelation: 0.02,
  smallestChangeThatMatters: 0.005,
  rounds: [{ id: "as-left", title: "As left", date: null, changes: null, settings: {} }],
  signOffRound: "as-left",
  readPoints: [
    { id: "dock-1", name: "Dock 1", kind: null, at: null, equipment: {}, signOffRound: "as-left" },
  ],
  conditions: ["orientation", "height", "speed"].map((column) => ({
    column,
    label: column,
    unit: null,
    bands: null,
  })),
  criteria: [],
  concessions: [],
  openPoints: [],
  floorPlan: null,
  readerLogs: [],
  passWindow: { beforeS: 0, afterS: 0 },
  plan: null,
  revisions: [],
  corrections: [],
};
