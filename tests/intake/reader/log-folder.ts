import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { DuckDBInstance } from "@duckdb/node-api";
import { ProblemList } from "../../../src/intake/problems/problem-list.ts";
import { readReaderLogs } from "../../../src/intake/reader-log/read.ts";
import type { PassWindow, ReaderLogs, WalkSession } from "../../../src/intake/reader-log/reader-log.ts";
import type { ReaderLogSpec } from "../../../src/model/facility.ts";
import type { Problem } from "../../../src/model/problem.ts";

/** 2026-05-21 08:00:00 UTC, in microseconds. */
export const startUs = Date.UTC(2026, 4, 21, 8) * 1000;

export const columns = {
  time: "time",
  date: null,
  lastTime: null,
  epc: ["epc"],
  antenna: "antenna",
  rssi: "rssi",
  count: "count",
};
export const header = "time,epc,antenna,rssi,count";
export const codeA = "30340789000C0E42DFDC1C35";
export const codeB = "30340789000C0E42DFDC1C36";

/** One pass at dock-1, from 10 to 20 seconds after the start. */
export const window: PassWindow = {
  pass: 0,
  readPoint: "dock-1",
  fromUs: startUs + 10_000_000,
  toUs: startUs + 20_000_000,
};

/** A row of a plain log, so many seconds after the start. */
export const row = (second: number, epc: string = codeA, antenna = "1", rssi = "-61.5", count = "1") =>
  `${startUs + Math.round(second * 1e6)},${epc},${antenna},${rssi},${count}`;

/** A log of these rows. */
export const lines = (...rows: string[]) => `${rows.join("\n")}\n`;

/** What three reads come to: the first code at 11 s and 12 s, the second at 13 s. */
export const bothTags = [`0 ${codeA} 1 2 -6150 11 12`, `0 ${codeB} 1 1 -6150 13 13`];

/** A plain log: microseconds, dBm, one read point; tests change one thing about it. */
export function spec(change: Partial<ReaderLogSpec> = {}): ReaderLogSpec {
  return {
    files: ["log.csv"],
    readPoint: { kind: "fixed", readPoint: "dock-1" },
    columns,
    rows: null,
    only: [],
    time: { unit: "us", zone: null, format: null },
    rssiUnit: "dBm",
    delimiter: null,
    decimal: ".",
    header: "yes",
    clockOffsetS: 0,
    clockComparisons: [],
    noLastTime: false,
    epcForm: "hex",
    codesChecked: false,
    ...change,
  };
}

export interface Outcome {
  logs: ReaderLogs;
  problems: Problem[];
}

/** Writes the files into a folder of their own, reads them as reader logs, and clears the folder away. */
export async function readFiles(
  files: Record<string, string | Buffer>,
  specs: ReaderLogSpec[] = [spec()],
  windows: PassWindow[] = [window],
  options: {
    zone?: string;
    threads?: number;
    largeBytes?: number;
    sessions?: WalkSession[];
    whileReading?: (folder: string) => void;
  } = {},
): Promise<Outcome> {
  const folder = mkdtempSync(join(tmpdir(), "proofwalk-reader-"));
  try {
    for (const [name, text] of Object.entries(files)) {
      mkdirSync(dirname(join(folder, name)), { recursive: true });
      writeFileSync(join(folder, name), text);
    }
    const problems = new ProblemList("hall");
    const reading = readReaderLogs({
      folder,
      specs,
      windows,
      sessions: options.sessions ?? allDay(specs, windows),
      loadCodes: new Set([codeA, codeB]),
      facilityZone: options.zone ?? null,
      problems,
      // More threads change nothing: that has a test of its own.
      threads: options.threads ?? 1,
      // As typed columns, the way of large logs, and line by line where anything is odd.
      largeBytes: options.largeBytes ?? 0,
    });
    const { whileReading } = options;
    const again = whileReading === undefined ? undefined : setInterval(whileReading, 5, folder);
    const logs = await reading.finally(() => clearInterval(again));
    return { logs, problems: problems.sorted(() => null) };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Sessions from 1970 to 2100, one a read point in the order of first mention. */
function allDay(specs: readonly ReaderLogSpec[], windows: readonly PassWindow[]): WalkSession[] {
  const named = specs.flatMap(({ readPoint }) =>
    readPoint.kind === "fixed" ? [readPoint.readPoint] : Object.values(readPoint.values),
  );
  const points = new Set([...named, ...windows.map(({ readPoint }) => readPoint)]);
  const toUs = Date.UTC(2100, 0, 1) * 1000 - 1;
  return [...points].map((readPoint) => ({ readPoint, round: 0, fromUs: 0, toUs, walkedUs: 0 }));
}

/** What was heard, in words: pass, code, antenna, reads, hundredths of a dBm, first and last second. */
export function heard({ logs }: Outcome): string[] {
  const { heard: tags } = logs;
  return Array.from({ length: tags.length }, (_, index) => {
    const antenna = tags.antenna[index]!;
    return [
      tags.pass[index],
      tags.codes[tags.code[index]!],
      antenna < 0 ? "-" : tags.antennas[antenna],
      tags.reads[index],
      tags.rssi[index],
      (tags.firstUs[index]! - startUs) / 1e6,
      (tags.lastUs[index]! - startUs) / 1e6,
    ].join(" ");
  });
}

/** The counts of each file: rows = used + repeated + elsewhere + refused, and other events where they are counted. */
export function counts({ logs }: Outcome): string[] {
  return logs.files.map(
    ({ rows, used, repeated, elsewhere, otherEvents, refused }) =>
      `${rows} = ${used} + ${repeated} + ${elsewhere} + ${refused}${otherEvents === null ? "" : `, ${otherEvents} other`}`,
  );
}

/** Kinds of problems with their lines. */
export function told({ problems }: Outcome): string[] {
  return problems.map(({ severity, code, line }) => `${severity} ${code}${line === null ? "" : ` ${line}`}`);
}

/** A Parquet file made by a query. */
export async function parquet(select: string): Promise<Buffer> {
  const folder = mkdtempSync(join(tmpdir(), "proofwalk-parquet-"));
  try {
    const instance = await DuckDBInstance.create(":memory:");
    const connection = await instance.connect();
    await connection.run(`COPY (${select}) TO '${join(folder, "log.parquet")}' (FORMAT parquet)`);
    connection.closeSync();
    instance.closeSync();
    return readFileSync(join(folder, "log.parquet"));
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
