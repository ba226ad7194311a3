import { type EventCounts, eventEstimate, eventEvidence } from "../../src/measures/evidence/events.ts";
import type { Estimate } from "../../src/model/estimate.ts";
import type { Condition, Criterion } from "../../src/model/facility.ts";
import type {
  ConcessionResult,
  Finding,
  HeardSummary,
  PassResult,
  ReadPointResult,
  Result,
  RoundResult,
  Spread,
  ToSettle,
} from "../../src/model/result.ts";
import { sampleComparisons } from "./sample-comparisons.ts";

/** Text that must show as text wherever a free field is printed. */
export const hostile = {
  markup: `<script>alert("x")</script> & </title> 'quoted' {{ 7*7 }} <b>bold</b>`,
  formula: `=HYPERLINK("http://example.invalid","click")`,
  rightToLeft: "\u202eمرحبا שלום\u202c",
  long: "Lorem-".repeat(50),
};

/** A round number's worth of an interval, so that the sample can be written by its counts. */
export function sampleEstimate(k: number, n: number, designEffect = 1): Estimate {
  if (n === 0) {
    return {
      kind: "rate",
      value: null,
      k,
      n,
      lower: null,
      upper: null,
      confidence: 0.95,
      method: "wilson",
      effectiveN: null,
      designEffect: null,
    };
  }
  const p = k / n;
  const m = n / designEffect;
  const z = 1.959963984540054;
  const centre = (p + (z * z) / (2 * m)) / (1 + (z * z) / m);
  const half = (z / (1 + (z * z) / m)) * Math.sqrt((p * (1 - p)) / m + (z * z) / (4 * m * m));
  return {
    kind: "rate",
    value: p,
    k,
    n,
    lower: k === 0 ? 0 : Math.max(0, centre - half),
    upper: k === n ? 1 : Math.min(1, centre + half),
    confidence: 0.95,
    method: "wilson",
    effectiveN: m,
    designEffect,
  };
}

const conditions: Condition[] = [
  { column: "speed_m_s", label: "Speed", unit: "m/s", bands: [0, 1, 2, 3] },
  { column: "orientation", label: "Tag orientation", unit: null, bands: null },
  { column: "load", label: "Load", unit: null, bands: null },
];

const speeds = ["0 to 1", "1 to 2", "2 to 3"];
const orientations = ["edge-on", "facing"];
const loads = ["full", "half", "empty"];

interface RoundSpec {
  id: string;
  day: string;
  passes: number;
  tags: number;
  /** Whether the tag with this index was missed in the pass with this index. */
  missed: (pass: number, tag: number) => boolean;
  strays?: (pass: number) => string[] | null;
  voids?: Record<number, string>;
  hostilePass?: number;
  form?: string;
  heard?: (tagsPresented: number) => HeardSummary;
  rssi?: boolean;
  /** Loads that were walked. */
  loads?: string[];
}

function tagCode(index: number): string {
  return `3376451FD8${(1000 + index).toString(16).toUpperCase().padStart(14, "0")}`;
}

/** Five figures and how many values they are of. */
function spread(n: number, min: number, q05: number, median: number, q95: number, max: number): Spread {
  return { n, min, q05, median, q95, max };
}

/** What a four-antenna reader heard in an hour: one antenna that nothing hangs on, a parked cage, a few strangers. */
function heardWith(
  readings: Pick<HeardSummary, "antennas" | "strays" | "idle">,
): (presented: number) => HeardSummary {
  return (tagsPresented) => ({
    window: { beforeS: 0.5, afterS: 1 },
    tagsPresented,
    tagsRead: tagsPresented,
    readsPerTag: spread(tagsPresented, 1, 3, 14, 39.5, 212),
    firstReadMs: spread(tagsPresented, 512.25, 940, 3180.5, 7420, 15210),
    ...readings,
  });
}

const idleMinutes = [
  { minute: "2026-05-21T08:09Z", reads: 4, tags: 1 },
  { minute: "2026-05-21T08:31Z", reads: 61, tags: 1 },
  { minute: "2026-05-21T08:40Z", reads: 2, tags: 1 },
];

/** Of `heard` in that many minutes, the others silent. */
function idleCounts(minutes: number, heard: { tags: number }[]): EventCounts {
  const counts = heard.map(({ tags }) => tags);
  const silent = new Array<number>(Math.ceil(minutes) - heard.length).fill(0);
  const events = counts.reduce((sum, count) => sum + count, 0);
  return { events, minutes, byMinute: [...counts, ...silent] };
}

function idleEstimate(minutes: number, heard: { tags: number }[]): Estimate {
  return eventEstimate(idleCounts(minutes, heard), 0.95);
}

const dockHeard = heardWith({
  antennas: [
    {
      antenna: "1",
      tagsRead: 1172,
      onlyHere: 31,
      strongestDbm: spread(1172, -71.25, -66.5, -55.5, -46, -41.25),
    },
    { antenna: "2", tagsRead: 1090, onlyHere: 4, strongestDbm: spread(1090, -72.5, -68, -58.25, -49, -44) },
    { antenna: "3", tagsRead: 803, onlyHere: 0, strongestDbm: spread(803, -72.25, -70.5, -63, -54.5, -50) },
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
  idle: { minutes: 31.7, heard: idleMinutes, rate: idleEstimate(31.7, idleMinutes) },
});

/** A reader that names no antenna and heard nothing but what was presented to it. */
const deskHeard = heardWith({
  antennas: [],
  strays: [],
  idle: { minutes: 3.5, heard: [], rate: idleEstimate(3.5, []) },
});

/** The codes of the sample are GRAI-96 but for the last digits: some names are long. */
function uriOf(tag: string): string | null {
  return tag.endsWith("5") ? null : `urn:epc:id:grai:0614141.12345.${Number.parseInt(tag.slice(-6), 16)}`;
}

function roundOf(spec: RoundSpec): RoundResult {
  const passList: PassResult[] = [];
  interface Row {
    pass: number;
    tag: number;
    miss: boolean;
    values: Record<string, string>;
    valid: boolean;
  }
  const rows: Row[] = [];
  const walkedLoads = spec.loads ?? loads;
  for (let i = 0; i < spec.passes; i += 1) {
    const speed = speeds[i % (spec.passes > 20 ? 3 : 2)] as string;
    const load = walkedLoads[Math.floor(i / 3) % walkedLoads.length] as string;
    const voidReason = spec.voids?.[i] ?? null;
    const missedTags: string[] = [];
    for (let t = 0; t < spec.tags; t += 1) {
      const miss = spec.missed(i, t);
      if (miss) missedTags.push(tagCode(t));
      const orientation = orientations[t % 3 === 0 ? 0 : 1] as string;
      rows.push({
        pass: i,
        tag: t,
        miss,
        values: { speed_m_s: speed, orientation, load },
        valid: voidReason === null,
      });
    }
    const minute = String(i % 60).padStart(2, "0");
    const hour = 8 + Math.floor(i / 60);
    const strayTags = spec.strays ? spec.strays(i) : [];
    const isHostile = spec.hostilePass === i;
    passList.push({
      id: isHostile ? `P-<${i}>` : `P-${String(i + 1).padStart(2, "0")}`,
      form: spec.form ?? "itemised",
      readsFrom: spec.form === "timed" ? "reader-log" : "pass-log",
      startedAt: `${spec.day}T${String(hour).padStart(2, "0")}:${minute}:00Z`,
      endedAt: `${spec.day}T${String(hour).padStart(2, "0")}:${minute}:20Z`,
      startedAtLocal: `${spec.day} ${String(hour + 1).padStart(2, "0")}:${minute}:00`,
      endedAtLocal: `${spec.day} ${String(hour + 1).padStart(2, "0")}:${minute}:20`,
      voidReason,
      walkedBy: isHostile ? [hostile.rightToLeft] : ["A. Sample"],
      notes: isHostile ? [hostile.markup, hostile.formula, hostile.long] : [],
      conditions: { speed_m_s: [speed], orientation: [...orientations], load: [load] },
      extras: isHostile ? [{ column: "weather <i>", values: [hostile.formula] }] : [],
      tagsPresented: spec.tags,
      tagsRead: spec.tags - missedTags.length,
      reads: spec.form === "tally" ? null : 3 * (spec.tags - missedTags.length),
      missedTags: spec.form === "tally" ? null : missedTags,
      strayTags: spec.form === "tally" ? null : strayTags,
      strays: spec.form === "tally" ? 0 : (strayTags?.length ?? null),
      bystandersPresented: 0,
      manifest: null,
      file: `passes/${spec.id}.csv`,
    });
  }
  const valid = passList.filter((pass) => pass.voidReason === null);
  const counted = rows.filter((row) => row.valid);
  const sum = (list: PassResult[], pick: (pass: PassResult) => number) =>
    list.reduce((total, pass) => total + pick(pass), 0);
  const rate = (list: Row[]) =>
    sampleEstimate(list.filter((row) => !row.miss).length, list.length, list.length > 0 ? 1.6 : 1);
  const group = (list: Row[]) => ({
    passes: new Set(list.map((row) => row.pass)).size,
    tagReadRate: rate(list),
  });
  const valuesOf: Record<string, string[]> = {
    speed_m_s: speeds,
    orientation: orientations,
    load: ["empty", "full", "half"],
  };
  const columns = conditions.map((condition) => condition.column);
  const missedBy = new Map<string, { presented: number; missed: number; passes: string[] }>();
  for (const row of counted) {
    const code = tagCode(row.tag);
    const entry = missedBy.get(code) ?? { presented: 0, missed: 0, passes: [] };
    entry.presented += 1;
    if (row.miss) {
      entry.missed += 1;
      entry.passes.push((passList[row.pass] as PassResult).id);
    }
    missedBy.set(code, entry);
  }
  const read = sum(valid, (pass) => pass.tagsRead);
  const strayKnown = valid.filter((pass) => pass.strays !== null);
  return {
    id: spec.id,
    passes: valid.length,
    voidPasses: passList.length - valid.length,
    tagsPresented: sum(valid, (pass) => pass.tagsPresented),
    tagsRead: read,
    tagReadRate: rate(counted),
    completePassRate: sampleEstimate(
      valid.filter((pass) => pass.tagsRead === pass.tagsPresented).length,
      valid.length,
    ),
    strayPassRate: sampleEstimate(
      strayKnown.filter((pass) => (pass.strays ?? 0) > 0).length,
      strayKnown.length,
    ),
    bystanderReadRate: sampleEstimate(0, 0),
    withVoids: {
      tagsPresented: sum(passList, (pass) => pass.tagsPresented),
      tagsRead: sum(passList, (pass) => pass.tagsRead),
      tagReadRate: rate(rows),
    },
    byCondition: columns.map((column) => ({
      column,
      groups: (valuesOf[column] as string[]).map((value) => ({
        value,
        ...group(counted.filter((row) => row.values[column] === value)),
      })),
    })),
    grids: columns.flatMap((rowColumn, i) =>
      columns.slice(i + 1).map((columnColumn) => ({
        rowColumn,
        columnColumn,
        rowValues: valuesOf[rowColumn] as string[],
        columnValues: valuesOf[columnColumn] as string[],
        cells: (valuesOf[rowColumn] as string[]).flatMap((row) =>
          (valuesOf[columnColumn] as string[]).map((column) => ({
            row,
            column,
            ...group(
              counted.filter(
                (entry) => entry.values[rowColumn] === row && entry.values[columnColumn] === column,
              ),
            ),
          })),
        ),
      })),
    ),
    rssi:
      spec.rssi === false || read === 0
        ? null
        : {
            n: read,
            minDbm: -72.5,
            q05Dbm: -67.25,
            medianDbm: -57.5,
            q95Dbm: -46,
            maxDbm: -41.25,
            binWidthDb: 2,
            bins: Array.from({ length: 17 }, (_, i) => ({
              fromDbm: -74 + 2 * i,
              count: Math.round(read * Math.exp(-((i - 8) ** 2) / 18) * 0.13),
            })),
          },
    antennas:
      spec.form === "tally"
        ? []
        : [
            { antenna: "1", tagsRead: Math.floor(read * 0.6), medianRssiDbm: -55.5 },
            { antenna: "2", tagsRead: read - Math.floor(read * 0.6), medianRssiDbm: -60.25 },
          ],
    heard: spec.heard?.(sum(valid, (pass) => pass.tagsPresented)) ?? null,
    missedTags: [...missedBy.entries()]
      .filter(([, entry]) => entry.missed > 0 && spec.form !== "tally")
      .map(([tag, entry]) => ({ tag, uri: uriOf(tag), ...entry }))
      .sort((a, b) => b.missed - a.missed || (a.tag < b.tag ? -1 : 1)),
    passList,
  };
}

function unwalked(id: string): RoundResult {
  return roundOf({ id, day: "2026-05-18", passes: 0, tags: 0, missed: () => false, rssi: false });
}

const readPoints: ReadPointResult[] = [
  {
    id: "dock-1",
    name: "Dock door 1",
    kind: "dock door",
    at: { x: 16, y: 22 },
    equipment: { reader: "four-port fixed reader", serial: "R-0417", firmware: "3.2.1" },
    state: "met",
    signOffRound: "as-left",
    remarks: [],
    rounds: [
      roundOf({
        id: "as-found",
        day: "2026-05-18",
        passes: 24,
        tags: 24,
        missed: (pass, tag) => (pass * 7 + tag * 3) % 41 === 0,
      }),
      roundOf({
        id: "as-left",
        day: "2026-05-21",
        passes: 48,
        tags: 25,
        missed: () => false,
        form: "timed",
        heard: dockHeard,
      }),
    ],
  },
  {
    id: "dock-2",
    name: "Dock door 2",
    kind: "dock door",
    at: { x: 16, y: 48 },
    equipment: { reader: "four-port fixed reader", serial: "R-0418", note: hostile.markup },
    state: "not-met",
    signOffRound: "as-left",
    remarks: [],
    rounds: [
      roundOf({
        id: "as-found",
        day: "2026-05-18",
        passes: 24,
        tags: 24,
        missed: (pass, tag) => tag === 5 || (tag % 3 === 0 && (pass + tag) % 5 === 0),
        voids: { 3: "forklift stopped in the doorway" },
      }),
      roundOf({
        id: "as-left",
        day: "2026-05-21",
        passes: 26,
        tags: 24,
        missed: (pass, tag) => tag === 5 || (tag % 3 === 0 && (pass + tag) % 9 === 0),
        voids: { 4: "forklift stopped in the doorway", 11: hostile.markup },
        strays: (pass) => (pass % 12 === 2 ? ["E2801160600002075A1B0001", hostile.formula] : []),
        hostilePass: 7,
        loads: ["full", "half"],
      }),
    ],
  },
  {
    id: "exit",
    name: "Exit pedestal",
    kind: "pedestal",
    at: { x: 84, y: 30 },
    equipment: {},
    state: "undecided",
    signOffRound: "as-left",
    remarks: [],
    rounds: [
      unwalked("as-found"),
      roundOf({
        id: "as-left",
        day: "2026-05-21",
        passes: 24,
        tags: 10,
        missed: (pass, tag) => pass === 9 && tag === 2,
        strays: () => null,
      }),
    ],
  },
  {
    id: "van",
    name: hostile.markup,
    kind: "reader in a vehicle",
    at: { x: 80, y: 82 },
    equipment: { reader: hostile.formula },
    state: "undecided",
    signOffRound: "as-found",
    remarks: [{ code: "own-round", round: "as-found" }],
    rounds: [
      roundOf({
        id: "as-found",
        day: "2026-05-18",
        passes: 12,
        tags: 20,
        missed: (pass, tag) => (pass + tag) % 40 === 7,
        form: "tally",
        rssi: false,
      }),
      unwalked("as-left"),
    ],
  },
  {
    id: "desk",
    name: "Encoding desk",
    kind: "desk",
    at: { x: 48, y: 84 },
    equipment: { reader: "desk reader" },
    state: "untested",
    signOffRound: "as-left",
    remarks: [],
    rounds: [
      unwalked("as-found"),
      roundOf({
        id: "as-left",
        day: "2026-05-21",
        passes: 6,
        tags: 1,
        missed: () => false,
        form: "timed",
        heard: deskHeard,
      }),
    ],
  },
  {
    id: "ceiling",
    name: "Ceiling reader, drying hall",
    kind: "ceiling reader",
    at: null,
    equipment: {},
    state: "untested",
    signOffRound: "as-left",
    remarks: [{ code: "no-criterion" }],
    rounds: [unwalked("as-found"), unwalked("as-left")],
  },
];

function criterion(id: string, title: string, rest: Partial<Criterion>): Criterion {
  return {
    id,
    title,
    measure: "tag-read-rate",
    limit: 0.99,
    sense: "at-least",
    readPoints: readPoints.map((point) => point.id),
    where: [],
    forEach: [],
    minimumPasses: 1,
    quantile: null,
    observed: null,
    expected: null,
    ...rest,
  };
}

const criteria: Criterion[] = [
  criterion("dock-read-rate", "Dock doors read at least 99 % of the tags presented", {
    readPoints: ["dock-1", "dock-2"],
    where: [
      { column: "speed_m_s", kind: "range", from: null, to: 2 },
      { column: "load", kind: "values", values: ["full", "half"] },
    ],
    forEach: ["orientation"],
    minimumPasses: 20,
  }),
  criterion("read-rate", "The exit, the van and the desk read at least 99 % of the tags presented", {
    readPoints: ["exit", "van", "desk"],
    minimumPasses: 10,
  }),
  criterion("strays", "At most 5 % of the passes hear a stray", {
    measure: "stray-pass-rate",
    limit: 0.05,
    sense: "at-most",
    readPoints: ["dock-1", "dock-2"],
  }),
  criterion("signal", "All but the weakest twentieth of the tags arrive above -70 dBm", {
    measure: "rssi-quantile",
    limit: -70,
    quantile: 0.05,
    readPoints: ["dock-1", "dock-2", "exit"],
  }),
  criterion("idle", "With nothing presented, dock door 1 hears less than one tag in four minutes", {
    measure: "idle-read-rate",
    limit: 0.25,
    sense: "at-most",
    readPoints: ["dock-1"],
  }),
];

const concessions: ConcessionResult[] = [
  {
    criterion: "strays",
    readPoint: "dock-2",
    grantedBy: "Client's operations lead",
    on: "2026-05-22",
    until: "2026-08-31",
    reason: "The neighbouring lane is closed until the curtain is fitted.",
    expired: false,
  },
  {
    criterion: "read-rate",
    readPoint: "van",
    grantedBy: hostile.markup,
    on: "2026-03-01",
    until: "2026-05-01",
    reason: hostile.formula,
    expired: true,
  },
];

function finding(rest: Partial<Finding> & Pick<Finding, "criterion" | "readPoint" | "state">): Finding {
  const of = criteria.find((entry) => entry.id === rest.criterion) as Criterion;
  return {
    round: "as-left",
    group: null,
    measure: of.measure,
    limit: of.limit,
    sense: of.sense,
    passes: 24,
    voidPasses: 0,
    estimate: sampleEstimate(0, 0),
    withVoids: null,
    toSettle: null,
    concession: null,
    remarks: [],
    sensitivity: [],
    ...rest,
  };
}

function settle(
  furtherWithoutMiss: number | null,
  unit: "presentations" | "passes" = "presentations",
): ToSettle {
  return { unit, furtherWithoutMiss, retune: furtherWithoutMiss === null };
}

function rssi(
  value: number | null,
  lower: number | null,
  upper: number | null,
  k: number,
  n: number,
): Estimate {
  return {
    kind: "level",
    value,
    k,
    n,
    lower,
    upper,
    confidence: 0.95,
    method: "order-statistic",
    effectiveN: n,
    designEffect: 1,
    onMiss: { value: value === null, lower: lower === null, upper: false },
  };
}

const findings: Finding[] = [
  finding({
    criterion: "dock-read-rate",
    readPoint: "dock-1",
    state: "met",
    group: { orientation: "edge-on" },
    passes: 32,
    estimate: sampleEstimate(640, 640, 1.3),
    sensitivity: [
      { missCorrelation: 0, lower: 0.994, upper: 1, effectiveN: 640, state: "met" },
      { missCorrelation: 0.02, lower: 0.992, upper: 1, effectiveN: 492, state: "met" },
      { missCorrelation: 0.1, lower: 0.985, upper: 1, effectiveN: 247, state: "undecided" },
    ],
  }),
  finding({
    criterion: "dock-read-rate",
    readPoint: "dock-1",
    state: "met",
    group: { orientation: "facing" },
    passes: 32,
    estimate: sampleEstimate(1279, 1280, 1.5),
  }),
  finding({
    criterion: "dock-read-rate",
    readPoint: "dock-2",
    state: "not-met",
    group: { orientation: "edge-on" },
    estimate: sampleEstimate(171, 200, 2.1),
    voidPasses: 2,
    withVoids: sampleEstimate(180, 216, 2.2),
  }),
  finding({
    criterion: "dock-read-rate",
    readPoint: "dock-2",
    state: "undecided",
    group: { orientation: "facing" },
    estimate: sampleEstimate(396, 400, 1.8),
    voidPasses: 2,
    withVoids: sampleEstimate(420, 432, 2.2),
    toSettle: settle(null),
  }),
  finding({
    criterion: "read-rate",
    readPoint: "exit",
    state: "undecided",
    estimate: sampleEstimate(239, 240, 1.2),
    toSettle: settle(467),
  }),
  finding({
    criterion: "read-rate",
    readPoint: "van",
    round: "as-found",
    state: "undecided",
    passes: 12,
    estimate: sampleEstimate(234, 240, 1.4),
    toSettle: settle(null),
    concession: concessions[1] as ConcessionResult,
    remarks: [{ code: "forms-mixed" }],
  }),
  finding({
    criterion: "read-rate",
    readPoint: "desk",
    state: "untested",
    passes: 6,
    estimate: sampleEstimate(6, 6),
    toSettle: { furtherPasses: 4 },
    remarks: [{ code: "one-cluster", dimension: "tag" }],
  }),
  finding({
    criterion: "strays",
    readPoint: "dock-1",
    state: "undecided",
    passes: 48,
    estimate: sampleEstimate(0, 48),
    toSettle: settle(26, "passes"),
  }),
  finding({
    criterion: "strays",
    readPoint: "dock-2",
    state: "not-met",
    passes: 24,
    estimate: sampleEstimate(6, 24),
    concession: concessions[0] as ConcessionResult,
    remarks: [{ code: "strays-not-recorded", passes: 3 }],
  }),
  finding({
    criterion: "signal",
    readPoint: "dock-1",
    state: "met",
    passes: 48,
    estimate: rssi(-63.25, -64.5, -62, 1200, 1200),
  }),
  finding({
    criterion: "signal",
    readPoint: "dock-2",
    state: "not-met",
    estimate: rssi(null, null, -71.5, 548, 576),
    remarks: [{ code: "rssi-not-recorded", passes: 1 }],
  }),
  finding({
    criterion: "signal",
    readPoint: "exit",
    state: "undecided",
    estimate: rssi(-69.5, null, -66.25, 239, 240),
    toSettle: { unit: "presentations", furtherWithoutMiss: 88, retune: false },
  }),
  finding({
    criterion: "idle",
    readPoint: "dock-1",
    state: "undecided",
    passes: 48,
    estimate: idleEstimate(31.7, idleMinutes),
    toSettle: {
      unit: "idle minutes",
      furtherWithoutMiss: eventEvidence({
        counts: idleCounts(31.7, idleMinutes),
        passes: 1,
        remarks: [],
      }).further(
        { sense: "at-most", limit: 0.25 },
        { confidence: 0.95, interval: "wilson", missCorrelation: 0.02 },
      ),
      retune: false,
    },
  }),
];

/** A result with every state, void passes, strays, both kinds of concession, hostile text, RSSI and open points. */
export const sampleResult: Result = {
  schemaVersion: 1,
  tool: { name: "proofwalk", version: "0.0.0-sample" },
  facility: {
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
  },
  report: { number: "SMP-001", revision: "B", issued: "2026-05-22" },
  preparedBy: { name: "A. Sample", organisation: "Sample Installers", role: "Commissioning engineer" },
  witnessedBy: [{ name: "B. Sample", organisation: "Sample Crate Cooperative", role: null }],
  basis: { confidence: 0.95, interval: "wilson", missCorrelation: 0.02, smallestChangeThatMatters: 0.005 },
  signOffRound: "as-left",
  state: "not-met",
  rounds: [
    { id: "as-found", title: "As found", date: "2026-05-18", changes: null, settings: {} },
    {
      id: "as-left",
      title: "As left",
      date: "2026-05-21",
      changes: "Antenna 3 lowered by 0.4 m",
      settings: {
        "dock-1": { transmit_power_dbm: "30", session: "1" },
        "dock-2": { transmit_power_dbm: "31.5" },
      },
    },
  ],
  conditions,
  criteria,
  readPoints,
  findings,
  comparisons: sampleComparisons(sampleEstimate),
  plan: null,
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

/** The same facility with nothing declared that may be left out. */
export const bareResult: Result = {
  ...sampleResult,
  facility: {
    id: "bare",
    name: "Bare hall",
    client: null,
    address: null,
    timeZone: null,
    floorPlan: null,
  },
  report: null,
  preparedBy: null,
  witnessedBy: [],
  state: "untested",
  rounds: [{ id: "only", title: "only", date: null, changes: null, settings: {} }],
  signOffRound: "only",
  conditions: [],
  criteria: [],
  readPoints: [
    {
      id: "door",
      name: "Door",
      kind: null,
      at: null,
      equipment: {},
      state: "untested",
      signOffRound: "only",
      remarks: [{ code: "no-criterion" }],
      rounds: [
        {
          ...unwalked("only"),
          byCondition: [],
          grids: [],
        },
      ],
    },
  ],
  findings: [],
  comparisons: [],
  concessions: [],
  openPoints: [],
  problems: [],
  inputs: [{ path: "facility.yaml", sha256: "d".repeat(64), bytes: 90, rows: null, used: null, void: null }],
};

/** Everything met and nothing in the way. */
export const cleanResult: Result = {
  ...sampleResult,
  facility: { ...sampleResult.facility, id: "clean", name: "Clean depot" },
  state: "met",
  readPoints: [readPoints[0] as ReadPointResult],
  criteria: criteria
    .filter((entry) => entry.id === "dock-read-rate" || entry.id === "signal")
    .map((entry) => ({ ...entry, readPoints: ["dock-1"] })),
  findings: findings.filter((entry) => entry.readPoint === "dock-1" && entry.state === "met"),
  concessions: [],
  openPoints: [],
  problems: [],
};

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
