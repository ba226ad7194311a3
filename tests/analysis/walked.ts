import type { Criterion, Facility } from "../../src/model/facility.ts";
import { noRssi, type Pass, type PassLog, Role } from "../../src/model/pass-log.ts";
import { indexRows, type WalkedFacility } from "../../src/model/rows.ts";

/** One row of a walk as a test writes it down; what is left out is usual. */
export interface WalkedRow {
  round?: string;
  readPoint?: string;
  pass: string;
  /** Of the pass, in UTC. */
  startedAt?: string;
  tag?: string;
  role?: keyof typeof Role;
  read?: boolean;
  /** A tally's counts. */
  tally?: { presented: number; read: number };
  /** How often the tag was read. */
  readCount?: number;
  rssiDbm?: number;
  /** Set by an RSSI on any row of the pass; to be said where every tag was missed. */
  rssiRecorded?: boolean;
  antenna?: string;
  columns?: Record<string, string>;
  void?: string;
  straysRecorded?: boolean;
  tallyStrays?: number;
}

/** Makes the log that intake would hand over; passes in the order of their first row. */
export function walked(rows: WalkedRow[]): PassLog {
  const passes: Pass[] = [];
  const numbers = new Map<string, number>();
  const tags: string[] = [];
  const antennas: string[] = [];
  const intern = (list: string[], text: string | undefined) => {
    if (text === undefined) return -1;
    const found = list.indexOf(text);
    return found === -1 ? list.push(text) - 1 : found;
  };
  const names = [...new Set(rows.flatMap((row) => Object.keys(row.columns ?? {})))];
  const columns = names.map((name) => {
    const values: string[] = [];
    const index = Int32Array.from(rows, (row) => intern(values, row.columns?.[name]));
    return [name, { values, index }] as const;
  });
  const passOf = rows.map((row) => {
    const round = row.round ?? "as-left";
    const readPoint = row.readPoint ?? "dock-1";
    const key = [round, readPoint, row.pass].join("|");
    let number = numbers.get(key);
    if (number === undefined) {
      number = passes.push(emptyPass(round, readPoint, row.pass)) - 1;
      numbers.set(key, number);
    }
    const pass = passes[number]!;
    if (row.void !== undefined) pass.voidReason = row.void;
    if (row.startedAt !== undefined) pass.startedAt = row.startedAt;
    if (row.straysRecorded === false) pass.straysRecorded = false;
    if (row.tally !== undefined) Object.assign(pass, { form: "tally", namesTags: false });
    if (row.tallyStrays !== undefined) pass.tallyStrays = row.tallyStrays;
    if (row.rssiDbm !== undefined || row.rssiRecorded) pass.rssiRecorded = true;
    return number;
  });
  const role = (row: WalkedRow) => Role[row.role ?? "presented"];
  return {
    passes,
    tags,
    heard: null,
    power: [],
    rows: {
      length: rows.length,
      pass: Int32Array.from(passOf),
      tag: Int32Array.from(rows, (row) => intern(tags, row.tag)),
      role: Uint8Array.from(rows, role),
      presentations: Int32Array.from(
        rows,
        (row) => row.tally?.presented ?? (role(row) === Role.nothing ? 0 : 1),
      ),
      tagsRead: Int32Array.from(rows, (row) => row.tally?.read ?? ((row.read ?? true) ? 1 : 0)),
      readCounts: Int32Array.from(rows, (row) => row.readCount ?? 0),
      rssiDbm: Float64Array.from(rows, (row) => row.rssiDbm ?? noRssi),
      antenna: Int16Array.from(rows, (row) => intern(antennas, row.antenna)),
      antennas,
      columns: new Map(columns),
    },
  };
}

function emptyPass(round: string, readPoint: string, id: string): Pass {
  return {
    round,
    readPoint,
    id,
    form: "itemised",
    namesTags: true,
    readsFrom: "pass-log",
    startedAt: null,
    endedAt: null,
    startedAtLocal: null,
    endedAtLocal: null,
    voidReason: null,
    walkedBy: [],
    notes: [],
    extras: [],
    straysRecorded: true,
    tallyStrays: null,
    rssiRecorded: false,
    manifest: null,
    file: "passes/walk.csv",
  };
}

/** A criterion that asks 99 % of the tags, but for what a test says of it. */
export function criterion(said: Partial<Criterion> = {}): Criterion {
  return {
    id: "read-rate",
    title: "Tags are read",
    measure: "tag-read-rate",
    limit: 0.99,
    sense: "at-least",
    readPoints: ["dock-1"],
    where: [],
    forEach: [],
    minimumPasses: 0,
    quantile: null,
    observed: null,
    expected: null,
    ...said,
  };
}

/** A facility of one dock door and one round, but for what a test says of it. */
export function facility(said: Partial<Facility> = {}): Facility {
  return {
    id: "depot",
    name: "Depot",
    client: null,
    address: null,
    timeZone: null,
    dateOrder: null,
    compareWithReader: false,
    pseudonyms: false,
    sheets: {},
    report: null,
    preparedBy: null,
    retest: null,
    signOff: null,
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
    conditions: [],
    criteria: [criterion()],
    concessions: [],
    openPoints: [],
    floorPlan: null,
    readerLogs: [],
    passWindow: { beforeS: 0, afterS: 0 },
    compareTags: null,
    plan: null,
    revisions: [],
    corrections: [],
    attachments: [],
    ...said,
  };
}

/** What the analysis starts from: a facility and its walk. */
export function walkedFacility(said: Partial<Facility> = {}, rows: WalkedRow[] = []): WalkedFacility {
  const log = walked(rows);
  return { facility: facility(said), log, index: indexRows(log) };
}
