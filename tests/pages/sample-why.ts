import type { Diagnosis } from "../../src/model/diagnosis/diagnosis.ts";
import type { Why } from "../../src/model/diagnosis/why.ts";
import { hostile } from "./sample-result.ts";

const tags = Array.from({ length: 6 }, (_, i) => `3376451FD8000000000003E${i}`);
const counts = { missed: 8, presented: 10, elsewhereMissed: 2, elsewherePresented: 50 };
const levels = { n: 50, minDbm: -70, q05Dbm: -68, medianDbm: -60, maxDbm: -51.5 };

/** What each part of the page may hold. */
export const sampleWhy: Why = {
  round: "as-left",
  map: {
    tags: [...tags],
    passes: ["P-01", "P-02", "P-03", "P-04"],
    cells: ["mmmm", "rrmm", "rr.m", "rrrr", "rrrr", "...."],
    leftOut: { tags: 3, passes: 0 },
  },
  standingOut: {
    tags: [{ id: tags[0]!, ...counts, ratio: [9.44, null], pAdjusted: 0.00001 }],
    passes: [{ id: "P-04", ...counts, ratio: [3.12, 9.41], pAdjusted: 0.02 }],
  },
  runOfPasses: {
    passesWithMisses: 4,
    p: 0.003,
    run: { from: "P-03", to: "P-04", passes: 2, ...counts },
  },
  drivers: {
    drivers: [
      {
        column: "orientation",
        reference: "facing",
        levels: [
          { value: "facing", missed: 2, presented: 50, odds: null, ratio: null, p: null },
          {
            value: "edge-on",
            missed: 8,
            presented: 10,
            odds: { value: 7, lower: 4, upper: 12 },
            ratio: { value: 5, lower: 3.14, upper: 9.41 },
            p: 0.00001,
          },
        ],
      },
      {
        column: "load",
        reference: "full",
        levels: [
          { value: "full", missed: 5, presented: 30, odds: null, ratio: null, p: null },
          {
            value: hostile.markup,
            missed: 5,
            presented: 30,
            odds: { value: 1, lower: 0.4, upper: 2.4 },
            ratio: { value: 1, lower: 0.4, upper: 2.3 },
            p: 0.9,
          },
        ],
      },
    ],
    pairs: [
      { subject: { orientation: "edge-on", load: "full" }, ...counts, ratio: [4.2, 30.4], pAdjusted: 0.001 },
    ],
    notToldApart: [{ columns: ["speed_m_s", "load"] }],
  },
  signal: {
    weakestDecodedDbm: -72.5,
    all: levels,
    q05LowerDbm: -69,
    inHandDb: 4.5,
    byAntenna: [{ ...levels, antenna: "1" }],
    byCondition: [{ ...levels, column: "orientation", value: "edge-on" }],
    readByLevel: [{ fromDbm: -72, toDbm: -66, presented: 1000, read: 999 }],
  },
  antennas: [
    {
      antenna: "1",
      heard: 50,
      reads: 400,
      alone: 31,
      silent: false,
      stateWithout: "not-met",
      medianDbm: -58,
      change: { round: "as-found", medianDbm: -55, changeDb: -3, scatterDb: 1.2, weaker: true },
    },
    {
      antenna: "2",
      heard: 0,
      reads: null,
      alone: 0,
      silent: true,
      stateWithout: null,
      medianDbm: null,
      change: null,
    },
  ],
  strays: {
    passes: 3,
    ofPasses: 26,
    minutes: null,
    bySource: [
      { source: "neighbour", readPoint: "exit", tags: 1, passes: 2, reads: 9 },
      { source: "stranger", readPoint: null, tags: 1, passes: 1, reads: null },
    ],
    tags: [
      {
        tag: "E2801160600002075A1B0001",
        uri: "urn:epc:raw:96.xE2801160600002075A1B0001",
        source: "neighbour",
        readPoint: "exit",
        where: [{ readPoint: "exit", round: "as-left", manifest: "trolley-1", minute: null }],
        passes: 2,
        reads: 9,
        strongestDbm: -66.5,
        antennas: ["1", "2"],
        firstMs: 2400,
      },
      {
        tag: hostile.formula,
        uri: null,
        source: "stranger",
        readPoint: null,
        where: [],
        passes: 1,
        reads: null,
        strongestDbm: null,
        antennas: [],
        firstMs: null,
      },
    ],
    leftOut: 2,
  },
  idleTags: {
    passes: null,
    ofPasses: null,
    minutes: 52.9,
    bySource: [{ source: "this-job", readPoint: null, tags: 1, passes: null, reads: 3 }],
    tags: [
      {
        tag: tags[4]!,
        uri: null,
        source: "this-job",
        readPoint: null,
        where: [{ readPoint: null, round: null, manifest: null, minute: "2026-05-21 10:31" }],
        passes: null,
        reads: 3,
        strongestDbm: -70.5,
        antennas: ["2"],
        firstMs: null,
      },
    ],
    leftOut: 0,
  },
  settings: [
    {
      setting: "transmit_power_dbm",
      declared: "30",
      logged: [{ file: "reads/dock-2.csv", values: ["27"] }],
      agrees: false,
    },
    {
      setting: "session",
      declared: null,
      logged: [{ file: "reads/dock-2.csv", values: ["1", "2"] }],
      agrees: true,
    },
  ],
  tagTrials: {
    column: "model",
    models: [
      { model: "A", tags: 3, presented: 30, read: 30, lower: 0.88, upper: 1, medianDbm: -58, state: "met" },
      {
        model: "B",
        tags: 3,
        presented: 30,
        read: 20,
        lower: 0.49,
        upper: 0.81,
        medianDbm: null,
        state: null,
      },
    ],
    pairs: [
      {
        first: "A",
        second: "B",
        passes: 10,
        difference: 0.3333,
        lower: 0.2,
        upper: 0.45,
        p: 0.0004,
        pAdjusted: 0.0004,
        toldApart: true,
      },
    ],
  },
};

export const sampleDiagnosis: Diagnosis = {
  sentence: "Edge-on tags are missed 3.1 to 9.4 times as often as facing ones.",
  missShares: { tags: 0.6, passes: 0.1, rest: 0.3 },
  suggestions: [
    {
      kind: "condition",
      subject: { orientation: "edge-on" },
      sentence: "Edge-on tags are missed 3.1 to 9.4 times as often as facing ones.",
      evidence: { ...counts, ratio: [3.14, 9.41], p: 0.0001 },
    },
    {
      kind: "pass",
      subject: { pass: "P-04" },
      sentence: "Pass P-04 missed 8 of 10 tags, all other passes 2 of 50.",
      evidence: { ...counts, ratio: [3.12, null], p: 0.02 },
    },
    {
      kind: "setting",
      subject: { setting: "transmit_power_dbm" },
      sentence: "The log states 27 dBm where the round declares 30.",
      evidence: {
        missed: null,
        presented: null,
        elsewhereMissed: null,
        elsewherePresented: null,
        ratio: null,
        p: null,
      },
    },
  ],
};
