import { judgeFacility } from "../../src/analysis/judge.ts";
import type { RateEstimate } from "../../src/model/estimate.ts";
import type { Concession, Criterion, Facility, ReadPoint } from "../../src/model/facility.ts";
import type { FacilityInput, PassLog } from "../../src/model/pass-log.ts";
import type { Spread } from "../../src/model/result/figures.ts";
import type { HeardSummary } from "../../src/model/result/heard.ts";
import type { ReadPointResult } from "../../src/model/result/read-point.ts";
import type { Result } from "../../src/model/result/result.ts";
import { wilsonBounds } from "../../src/statistics/wilson.ts";
import { criterion, facility, type WalkedRow, walked } from "../analysis/walked.ts";
import { sampleComparisons } from "./sample-comparisons.ts";

/** Text that must show as text wherever a free field is printed. */
export const hostile = {
  markup: `<script>alert("x")</script> & </title> 'quoted' {{ 7*7 }} <b>bold</b>`,
  formula: `=HYPERLINK("http://example.invalid","click")`,
  rightToLeft: "\u202eمرحبا שלום\u202c",
  long: "Lorem-".repeat(50),
};

/** A rate of k in n by Wilson at 95 %, with the design effect that a test says it has. */
export function sampleEstimate(k: number, n: number, designEffect = 1): RateEstimate {
  const common = { kind: "rate" as const, k, n, confidence: 0.95, method: "wilson" };
  if (n === 0)
    return { ...common, value: null, lower: null, upper: null, effectiveN: null, designEffect: null };
  const effectiveN = n / designEffect;
  return { ...common, value: k / n, ...wilsonBounds(k / n, effectiveN, 0.95), effectiveN, designEffect };
}

const speeds = ["0.5", "1.5", "2.5"];
const loads = ["full", "half", "empty"];
const days = { "as-found": "2026-05-18", "as-left": "2026-05-21" };

/** How one round was walked at one read point. */
interface Walk {
  readPoint: string;
  round: keyof typeof days;
  passes: number;
  tags: number;
  /** Whether the tag with this index was missed in the pass with this index. */
  missed?: (pass: number, tag: number) => boolean;
  /** Codes read uninvited in a pass; null where its log records none. */
  strays?: (pass: number) => string[] | null;
  voids?: Record<number, string>;
  isTally?: boolean;
  /** The signal of a tag that was read; left out where none is recorded. */
  rssiDbm?: (pass: number, tag: number) => number | null;
  loads?: string[];
}

const tagCode = (index: number) => `3376451FD8${(1000 + index).toString(16).toUpperCase().padStart(14, "0")}`;

const passId = (pass: number) => `P-${String(pass + 1).padStart(2, "0")}`;

/** Strong signals that differ a little from tag to tag and from pass to pass. */
const strong = (pass: number, tag: number) => -63.25 + ((pass * 7 + tag * 5) % 41) / 4;

function rowsOf(walk: Walk): WalkedRow[] {
  const { readPoint, round, isTally = false, missed = () => false, strays = () => [] } = walk;
  return Array.from({ length: walk.passes }, (_, pass): WalkedRow[] => {
    const speed_m_s = speeds[pass % (walk.passes > 20 ? 3 : 2)]!;
    const ownLoads = walk.loads ?? loads;
    const load = ownLoads[Math.floor(pass / 3) % ownLoads.length]!;
    const found = strays(pass);
    const voidReason = walk.voids?.[pass];
    const common = {
      readPoint,
      round,
      pass: passId(pass),
      straysRecorded: found !== null,
      ...(voidReason === undefined ? {} : { void: voidReason }),
    };
    const tags = Array.from({ length: walk.tags }, (_, tag) => tag);
    if (isTally) {
      const read = tags.filter((tag) => !missed(pass, tag)).length;
      return [
        { ...common, tally: { presented: walk.tags, read }, tallyStrays: 0, columns: { speed_m_s, load } },
      ];
    }
    const presented = tags.map((tag): WalkedRow => {
      const read = !missed(pass, tag);
      const rssiDbm = read ? (walk.rssiDbm ?? strong)(pass, tag) : null;
      return {
        ...common,
        tag: tagCode(tag),
        read,
        ...(rssiDbm === null ? {} : { rssiDbm, antenna: tag % 5 < 3 ? "1" : "2" }),
        columns: { speed_m_s, load, orientation: tag % 3 === 0 ? "edge-on" : "facing" },
      };
    });
    const uninvited = (found ?? []).map((tag): WalkedRow => ({ ...common, role: "stray", tag }));
    return [...presented, ...uninvited];
  }).flat();
}

const walks: Walk[] = [
  {
    readPoint: "dock-1",
    round: "as-found",
    passes: 24,
    tags: 24,
    missed: (pass, tag) => (pass * 7 + tag * 3) % 41 === 0,
  },
  { readPoint: "dock-1", round: "as-left", passes: 48, tags: 25 },
  {
    readPoint: "dock-2",
    round: "as-found",
    passes: 24,
    tags: 24,
    missed: (pass, tag) => tag === 5 || (tag % 3 === 0 && (pass + tag) % 5 === 0),
    voids: { 3: "forklift stopped in the doorway" },
  },
  {
    readPoint: "dock-2",
    round: "as-left",
    passes: 26,
    tags: 24,
    missed: (pass, tag) => tag === 5 || (tag % 3 === 0 && (pass + tag) % 9 === 0),
    voids: { 4: "forklift stopped in the doorway", 12: hostile.markup },
    strays: (pass) => {
      if (pass > 22) return null;
      return pass % 4 === 2 ? ["E2801160600002075A1B0001", hostile.formula] : [];
    },
    rssiDbm: (pass, tag) => (pass === 25 ? null : strong(pass, tag)),
    loads: ["full", "half"],
  },
  {
    readPoint: "exit",
    round: "as-left",
    passes: 24,
    tags: 10,
    missed: (pass, tag) => pass === 9 && tag === 2,
    strays: () => null,
    rssiDbm: (pass, tag) => -60.25 - ((pass * 7 + tag * 5) % 41) / 4,
  },
  {
    readPoint: "van",
    round: "as-found",
    passes: 12,
    tags: 20,
    missed: (pass, tag) => pass + tag === 3,
    isTally: true,
  },
  { readPoint: "desk", round: "as-left", passes: 6, tags: 1 },
];

const timed = ["dock-1", "desk"];

/** The log of the walks, with times, and with what people write on one pass by way of attack. */
function sampleLog(): PassLog {
  const log = walked(walks.flatMap(rowsOf));
  for (const pass of log.passes) {
    const number = Number(pass.id.slice(2)) - 1;
    const minute = String(number % 60).padStart(2, "0");
    const day = days[pass.round as keyof typeof days];
    pass.startedAt = `${day}T08:${minute}:00Z`;
    pass.endedAt = `${day}T08:${minute}:20Z`;
    pass.startedAtLocal = `${day} 09:${minute}:00`;
    pass.endedAtLocal = `${day} 09:${minute}:20`;
    pass.walkedBy = ["A. Sample"];
    pass.file = `passes/${pass.round}.csv`;
    if (pass.round === "as-left" && timed.includes(pass.readPoint)) {
      pass.form = "timed";
      pass.readsFrom = "reader-log";
    }
    if (pass.readPoint !== "dock-2" || pass.round !== "as-left" || number !== 7) continue;
    pass.id = "P-<7>";
    pass.walkedBy = [hostile.rightToLeft];
    pass.notes = [hostile.markup, hostile.formula, hostile.long];
    pass.extras = [{ column: "weather <i>", values: [hostile.formula] }];
  }
  const idle = (
    readPoint: string,
    minutes: number,
    heard: { minute: string; reads: number; tags: number }[],
  ) => ({
    readPoint,
    round: "as-left",
    minutes,
    heard,
    clockMinutes: Math.ceil(minutes),
    stays: { tags: heard.length, squares: heard.length, longestMinutes: Math.min(heard.length, 1) },
    tags: [],
  });
  log.heard = {
    length: 0,
    pass: new Int32Array(),
    tag: new Int32Array(),
    antenna: new Int16Array(),
    antennas: [],
    reads: new Float64Array(),
    rssiDbm: new Float64Array(),
    firstMs: new Float64Array(),
    minute: new Int32Array(),
    minutes: [],
    settings: [],
    weakest: [],
    idle: [
      idle("dock-1", 31.7, [
        { minute: "2026-05-21T08:09Z", reads: 4, tags: 1 },
        { minute: "2026-05-21T08:31Z", reads: 61, tags: 1 },
        { minute: "2026-05-21T08:40Z", reads: 2, tags: 1 },
      ]),
      idle("desk", 3.5, []),
    ],
  };
  return log;
}

const point = (id: string, name: string, rest: Partial<ReadPoint>): ReadPoint => ({
  id,
  name,
  kind: null,
  at: null,
  equipment: {},
  signOffRound: "as-left",
  ...rest,
});

const readPoints: ReadPoint[] = [
  point("dock-1", "Dock door 1", {
    kind: "dock door",
    at: { x: 16, y: 22 },
    equipment: { reader: "four-port fixed reader", serial: "R-0417", firmware: "3.2.1" },
  }),
  point("dock-2", "Dock door 2", {
    kind: "dock door",
    at: { x: 16, y: 48 },
    equipment: { reader: "four-port fixed reader", serial: "R-0418", note: hostile.markup },
  }),
  point("exit", "Exit pedestal", { kind: "pedestal", at: { x: 84, y: 30 } }),
  point("van", hostile.markup, {
    kind: "reader in a vehicle",
    at: { x: 80, y: 82 },
    equipment: { reader: hostile.formula },
    signOffRound: "as-found",
  }),
  point("desk", "Encoding desk", {
    kind: "desk",
    at: { x: 48, y: 84 },
    equipment: { reader: "desk reader" },
  }),
  point("ceiling", "Ceiling reader, drying hall", { kind: "ceiling reader" }),
];

const criteria: Criterion[] = [
  criterion({
    id: "dock-read-rate",
    title: "Dock doors read at least 97 % of the tags presented",
    limit: 0.97,
    readPoints: ["dock-1", "dock-2"],
    where: [
      { column: "speed_m_s", kind: "range", from: null, to: 2 },
      { column: "load", kind: "values", values: ["full", "half"] },
    ],
    forEach: ["orientation"],
    minimumPasses: 15,
  }),
  criterion({
    id: "read-rate",
    title: "The exit, the van and the desk read at least 99 % of the tags presented",
    readPoints: ["exit", "van", "desk"],
    minimumPasses: 10,
  }),
  criterion({
    id: "strays",
    title: "At most 8 % of the passes hear a stray",
    measure: "stray-pass-rate",
    limit: 0.08,
    sense: "at-most",
    readPoints: ["dock-1", "dock-2"],
  }),
  criterion({
    id: "signal",
    title: "All but the weakest twentieth of the tags arrive above -70 dBm",
    measure: "rssi-quantile",
    limit: -70,
    quantile: 0.05,
    readPoints: ["dock-1", "dock-2", "exit"],
  }),
  criterion({
    id: "idle",
    title: "With nothing presented, less than three tags are read in ten minutes",
    measure: "idle-read-rate",
    limit: 0.3,
    sense: "at-most",
    readPoints: ["dock-1", "desk"],
  }),
];

const concessions: Concession[] = [
  {
    criterion: "strays",
    readPoint: "dock-2",
    grantedBy: "Client's operations lead",
    on: "2026-05-22",
    until: "2026-08-31",
    reason: "The neighbouring lane is closed until the curtain is fitted.",
  },
  {
    criterion: "read-rate",
    readPoint: "van",
    grantedBy: hostile.markup,
    on: "2026-03-01",
    until: "2026-05-01",
    reason: hostile.formula,
  },
];

const sampleFacility: Facility = facility({
  id: "sample-plant",
  name: "Sample wash plant",
  client: "Sample Crate Cooperative",
  address: "1 Quay Road\nSampleton",
  timeZone: "Europe/Dublin",
  floorPlan: {
    widthMetres: 60,
    depthMetres: 38,
    areas: [
      { name: "Loading bay", x: 4, y: 6, width: 26, height: 60 },
      { name: "Wash line", x: 34, y: 6, width: 36, height: 60 },
      { name: "Exit <lane>", x: 74, y: 6, width: 22, height: 60 },
      { name: "Yard", x: 4, y: 70, width: 92, height: 26 },
    ],
  },
  report: { number: "SMP-001", revision: "B", issued: "2026-05-22" },
  preparedBy: { name: "A. Sample", organisation: "Sample Installers", role: "Commissioning engineer" },
  witnessedBy: [{ name: "B. Sample", organisation: "Sample Crate Cooperative", role: null }],
  rounds: [
    { id: "as-found", title: "As found", date: days["as-found"], changes: null, settings: {} },
    {
      id: "as-left",
      title: "As left",
      date: days["as-left"],
      changes: "Antenna 3 lowered by 0.4 m",
      settings: {
        "dock-1": { transmit_power_dbm: "30", session: "1" },
        "dock-2": { transmit_power_dbm: "31.5" },
      },
    },
  ],
  conditions: [
    { column: "speed_m_s", label: "Speed", unit: "m/s", bands: [0, 1, 2, 3] },
    { column: "orientation", label: "Tag orientation", unit: null, bands: null },
    { column: "load", label: "Load", unit: null, bands: null },
  ],
  readPoints,
  criteria,
  concessions,
  openPoints: [
    {
      id: "P1",
      readPoint: "dock-2",
      text: "Fit the absorber curtain between the lanes.",
      owner: "Sample Installers",
      due: "2026-06-12",
      closed: null,
    },
    { id: "P2", readPoint: null, text: hostile.markup, owner: hostile.formula, due: null, closed: null },
    {
      id: "P3",
      readPoint: "exit",
      text: "Replace the cracked cable gland.",
      owner: null,
      due: "2026-05-20",
      closed: "2026-05-21",
    },
  ],
  passWindow: { beforeS: 0.5, afterS: 1 },
  revisions: [
    {
      revision: "A",
      issued: "2026-05-19",
      changes: hostile.markup,
      by: hostile.formula,
      mark: "0123456789abcdef0123456789abcdef",
      result: "revisions/A/result.json",
    },
  ],
  corrections: [
    {
      file: "passes/as-left.csv",
      what: "Pass 7: the end was typed an hour late.",
      why: hostile.markup,
      by: "R. Sample",
      on: "2026-05-20",
    },
  ],
});

const input: FacilityInput = {
  facility: sampleFacility,
  log: sampleLog(),
  plannedLoad: null,
  journeys: [],
  earlier: [
    {
      revision: "A",
      issued: "2026-05-19",
      inputs: [
        { path: "passes/as-left.csv", sha256: "0".repeat(64) },
        { path: "passes/taken-out.csv", sha256: "1".repeat(64) },
      ],
    },
  ],
  problems: [
    {
      severity: "warning",
      code: "undeclared-column",
      facility: "sample-plant",
      file: "passes/as-left.csv",
      line: 1,
      column: 9,
      found: `column "weather <i>"`,
      expected: "a declared column",
      advice: "It is kept and shown with the pass; declare it under conditions to judge by it.",
    },
  ],
  inputs: [
    { path: "facility.yaml", sha256: "a".repeat(64), bytes: 4211, rows: null, used: null, void: null },
    { path: "passes/as-found.csv", sha256: "b1".repeat(32), bytes: 80211, rows: 1392, used: 1368, void: 24 },
    { path: "passes/as-left.csv", sha256: "c2".repeat(32), bytes: 99120, rows: 2070, used: 2022, void: 48 },
    {
      path: "reads/dock-1.csv.gz",
      sha256: "e3".repeat(32),
      bytes: 1_204_311,
      rows: 48_213,
      used: 48_004,
      void: 0,
      reader: { repeated: 12, elsewhere: 190, refused: 7 },
    },
  ],
};

function judged(said: Partial<FacilityInput> = {}): Result {
  return judgeFacility({ ...input, ...said }, "0.0.0-sample");
}

const spread = (
  n: number,
  min: number,
  [q05, median, q95]: [number, number, number],
  max: number,
): Spread => ({
  n,
  min,
  q05,
  median,
  q95,
  max,
});

/** What a four-antenna reader read at the dock: one antenna that nothing hangs on, a bystander, a few strangers. */
const dockReads: Pick<HeardSummary, "antennas" | "strays"> = {
  antennas: [
    {
      antenna: "1",
      tagsRead: 1172,
      onlyHere: 31,
      strongestDbm: spread(1172, -71.25, [-66.5, -55.5, -46], -41.25),
    },
    {
      antenna: "2",
      tagsRead: 1090,
      onlyHere: 4,
      strongestDbm: spread(1090, -72.5, [-68, -58.25, -49], -44),
    },
    {
      antenna: "3",
      tagsRead: 803,
      onlyHere: 0,
      strongestDbm: spread(803, -72.25, [-70.5, -63, -54.5], -50),
    },
    { antenna: "10", tagsRead: 12, onlyHere: 0, strongestDbm: null },
  ],
  strays: [
    {
      tag: "3034257BF400B7800004CB2F",
      uri: "urn:epc:id:sgtin:0614141.000734.314159",
      bystander: true,
      passes: 3,
      reads: 41,
      strongestDbm: -66.5,
    },
    {
      tag: "E2801160600002075A1B0001",
      uri: "urn:epc:raw:96.xE2801160600002075A1B0001",
      bystander: false,
      passes: 1,
      reads: 1,
      strongestDbm: null,
    },
    { tag: hostile.markup, uri: null, bystander: false, passes: 1, reads: 2, strongestDbm: -71 },
  ],
};

/** The result with reads in each of its timed passes: the sample's log has times and outcomes, but no single reads. */
function withReads(result: Result): Result {
  return {
    ...result,
    readPoints: result.readPoints.map((readPoint) => ({
      ...readPoint,
      rounds: readPoint.rounds.map((round) => {
        if (round.heard === null) return round;
        const { tagsPresented } = round.heard;
        const heard: HeardSummary = {
          ...round.heard,
          tagsRead: tagsPresented,
          readsPerTag: spread(tagsPresented, 1, [3, 14, 39.5], 212),
          firstReadMs: spread(tagsPresented, 512.25, [940, 3180.5, 7420], 15210),
          ...(readPoint.id === "dock-1" ? dockReads : {}),
        };
        return { ...round, heard };
      }),
    })),
  };
}

/** A result with every state, void passes, strays, both kinds of concession, hostile text, RSSI and open points. */
export const sampleResult: Result = {
  ...withReads(judged()),
  // Every kind of change, which no walk of a reasonable length would show.
  comparisons: sampleComparisons(sampleEstimate),
};

/** The same tool's result of a facility with nothing declared that may be left out. */
export const bareResult: Result = judged({
  facility: facility({
    id: "bare",
    name: "Bare hall",
    rounds: [{ id: "only", title: "only", date: null, changes: null, settings: {} }],
    signOffRound: "only",
    readPoints: [point("door", "Door", { signOffRound: "only" })],
    criteria: [],
  }),
  log: walked([]),
  problems: [],
  inputs: [{ path: "facility.yaml", sha256: "d".repeat(64), bytes: 90, rows: null, used: null, void: null }],
});

/** Everything met and nothing in the way. */
export const cleanResult: Result = withReads(
  judged({
    facility: {
      ...sampleFacility,
      id: "clean",
      name: "Clean depot",
      readPoints: readPoints.slice(0, 1),
      criteria: criteria
        .filter(({ id }) => id === "dock-read-rate" || id === "signal")
        .map((asked) => ({ ...asked, readPoints: ["dock-1"] })),
      concessions: [],
      openPoints: [],
    },
    problems: [],
  }),
);

/** The sample with a single read point, and nothing left that names another. */
export function sampleWith(readPoint: ReadPointResult): Result {
  const isHere = (entry: { readPoint: string | null }) => entry.readPoint === readPoint.id;
  return {
    ...sampleResult,
    readPoints: [readPoint],
    findings: sampleResult.findings.filter(isHere),
    comparisons: sampleResult.comparisons.filter(isHere),
    concessions: sampleResult.concessions.filter(isHere),
    openPoints: sampleResult.openPoints.filter(isHere),
  };
}
