import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { parse } from "csv-parse/sync";
import { describe, expect, it } from "vitest";
import type { HeardSummary } from "../../src/model/result/heard.ts";
import type { RoundResult } from "../../src/model/result/round.ts";
import { demonstrationSite } from "../browser/demonstration-site.ts";

/*
 * Everything below counts the raw logs once more, line by line and without a database, and shares nothing with the tool.
 */
const folder = fileURLToPath(new URL("../../data/ternhaven-depot/", import.meta.url));
const textOf = (path: string): string => readFileSync(`${folder}${path}`, "utf8");
const rowsOf = (path: string): Record<string, string>[] => parse(textOf(path), { columns: true });

interface Read {
  readPoint: string;
  us: number;
  code: string;
  antenna: string;
  hundredths: number;
  reads: number;
}

interface RawLog {
  reads: Read[];
  rows: number;
  refused: number;
  elsewhere: number;
  repeated: number;
}

function rawLog(
  path: string,
  readOf: (cells: string[]) => Read | "refused" | "elsewhere",
  delimiter: string,
): RawLog {
  const lines = textOf(path)
    .split("\n")
    .filter((line) => line !== "" && !line.startsWith("#") && !line.startsWith("FirstSeen"));
  const seen = new Set<string>();
  const log: RawLog = { reads: [], rows: lines.length, refused: 0, elsewhere: 0, repeated: 0 };
  for (const line of lines) {
    const read = readOf(line.split(delimiter));
    if (read === "refused" || read === "elsewhere") log[read] += 1;
    else if (seen.has(line)) log.repeated += 1;
    else log.reads.push(read);
    seen.add(line);
  }
  return log;
}

const points: Record<string, string> = { "R-31": "door-b", "R-32": "gate-1" };

const doorRead = (cells: string[]): Read | "refused" | "elsewhere" => {
  const [time, reader, code, antenna, rssi, count] = cells as [
    string,
    string,
    string,
    string,
    string,
    string,
  ];
  if (cells.length !== 6 || code.length % 2 === 1 || Number(time) < 1e15) return "refused";
  const readPoint = points[reader];
  if (readPoint === undefined) return "elsewhere";
  return {
    readPoint,
    us: Number(time),
    code,
    antenna,
    hundredths: Math.round(Number(rssi) * 100),
    reads: Number(count),
  };
};

const returnsRead = (cells: string[]): Read | "refused" => {
  const [time, antenna, code, rssi, count] = cells as [string, string, string, string, string];
  const readerMs = Date.parse(`${time.replace(",", ".")}-03:00`);
  if (cells.length !== 5 || Number.isNaN(readerMs)) return "refused";
  return {
    readPoint: "returns-1",
    us: (readerMs - 32_000) * 1000,
    code: code.slice(2).toUpperCase(),
    antenna,
    hundredths: Math.round(Number(rssi.replace(",", ".")) * 100),
    reads: Number(count),
  };
};

const logs: Record<string, RawLog> = {
  "reads/doors-2026-06-08.csv": rawLog("reads/doors-2026-06-08.csv", doorRead, ","),
  "reads/doors-2026-06-10.csv": rawLog("reads/doors-2026-06-10.csv", doorRead, ","),
  "reads/returns-1.csv": rawLog("reads/returns-1.csv", returnsRead, ";"),
};
const allReads = Object.values(logs).flatMap(({ reads }) => reads);

const windows = ["door-b", "gate-1", "returns-1"].flatMap((readPoint) =>
  rowsOf(`passes/${readPoint}.csv`).map((row) => ({
    round: row.round!,
    readPoint,
    isVoid: row.void_reason !== "",
    fromUs: Date.parse(`${row.started_at!.replace(" ", "T")}-03:00`) * 1000 - 500_000,
    toUs: Date.parse(`${row.ended_at!.replace(" ", "T")}-03:00`) * 1000 + 1_000_000,
    load: rowsOf(`manifests/${row.manifest}.csv`),
  })),
);

/** What one round at one read point comes to. */
function counted(readPoint: string, round: string) {
  const own = windows.filter((window) => window.readPoint === readPoint && window.round === round);
  const here = allReads.filter((read) => read.readPoint === readPoint);
  const within = (read: Read, { fromUs, toUs }: { fromUs: number; toUs: number }) =>
    read.us >= fromUs && read.us <= toUs;
  let presented = 0;
  let strayPasses = 0;
  const tagReads: number[] = [];
  const firstUs: number[] = [];
  const antennas = new Map<string, { tagsRead: number; onlyHere: number; strongest: number }>();
  const strays = new Map<string, { passes: number; reads: number; strongest: number }>();
  const keyOf = (code: string, bystander: boolean) => `${code} ${bystander ? "bystander" : "stray"}`;
  for (const window of own.filter(({ isVoid }) => !isVoid)) {
    const byCode = new Map<string, Read[]>();
    for (const read of here)
      if (within(read, window)) byCode.set(read.code, [...(byCode.get(read.code) ?? []), read]);
    const load = window.load.filter((tag) => tag.presented !== "no").map(({ tag }) => tag!);
    presented += load.length;
    for (const tag of load) {
      const heard = byCode.get(tag);
      if (heard === undefined) continue;
      tagReads.push(heard.reduce((sum, { reads }) => sum + reads, 0));
      firstUs.push(Math.min(...heard.map(({ us }) => us)) - window.fromUs);
      const names = [...new Set(heard.map(({ antenna }) => antenna))];
      for (const name of names) {
        const sum = antennas.get(name) ?? { tagsRead: 0, onlyHere: 0, strongest: Number.NEGATIVE_INFINITY };
        const level = Math.max(
          ...heard.filter(({ antenna }) => antenna === name).map((read) => read.hundredths),
        );
        antennas.set(name, {
          tagsRead: sum.tagsRead + 1,
          onlyHere: sum.onlyHere + (names.length === 1 ? 1 : 0),
          strongest: Math.max(sum.strongest, level),
        });
      }
    }
    const uninvited = [...byCode].filter(([code]) => !load.includes(code));
    if (uninvited.length > 0) strayPasses += 1;
    for (const [code, heard] of uninvited) {
      const key = keyOf(
        code,
        window.load.some(({ tag }) => tag === code),
      );
      const sum = strays.get(key) ?? { passes: 0, reads: 0, strongest: Number.NEGATIVE_INFINITY };
      strays.set(key, {
        passes: sum.passes + 1,
        reads: sum.reads + heard.reduce((total, { reads }) => total + reads, 0),
        strongest: Math.max(sum.strongest, ...heard.map(({ hundredths }) => hundredths)),
      });
    }
  }
  const minutes = new Map<number, { reads: number; codes: Set<string> }>();
  const minuteOf = (us: number) => Math.floor(us / 60_000_000);
  // From the first opening to the last closing, and no further.
  const session = {
    fromUs: Math.min(...own.map(({ fromUs }) => fromUs)),
    toUs: Math.max(...own.map(({ toUs }) => toUs)),
  };
  for (const read of here) {
    const minute = minuteOf(read.us);
    if (!within(read, session) || own.some((window) => within(read, window))) continue;
    const sum = minutes.get(minute) ?? { reads: 0, codes: new Set() };
    minutes.set(minute, { reads: sum.reads + read.reads, codes: sum.codes.add(read.code) });
  }
  return { presented, strayPasses, tagReads, firstUs, antennas, strays, minutes };
}

const { results } = await demonstrationSite();
const result = results.find(({ facility }) => facility.id === "ternhaven-depot")!;
const rounds = ["door-b", "gate-1", "returns-1"].flatMap((id) =>
  result.readPoints
    .find((point) => point.id === id)!
    .rounds.map((round): [string, string, RoundResult, HeardSummary] => [id, round.id, round, round.heard!]),
);

describe("the readers' own logs of the demonstration", () => {
  it("come to the same counts by hand and by the tool, file by file", () => {
    const listed = result.inputs.filter(({ reader }) => reader !== undefined);
    expect(listed.map(({ path }) => path)).toEqual(Object.keys(logs));
    for (const { path, rows, used, reader } of listed) {
      const own = logs[path]!;
      expect({ rows, used, reader }, path).toEqual({
        rows: own.rows,
        used: own.reads.length,
        reader: { repeated: own.repeated, elsewhere: own.elsewhere, refused: own.refused },
      });
    }
  });

  it.each(rounds)("come to the same reads, misses and strays at %s, %s", (id, roundId, round, heard) => {
    const own = counted(id, roundId);
    expect([round.tagsRead, round.tagsPresented]).toEqual([own.tagReads.length, own.presented]);
    expect([heard.tagsRead, heard.tagsPresented]).toEqual([own.tagReads.length, own.presented]);
    expect(round.strayPassRate.k).toBe(own.strayPasses);
    expect([heard.readsPerTag!.min, heard.readsPerTag!.max]).toEqual([
      Math.min(...own.tagReads),
      Math.max(...own.tagReads),
    ]);
    expect(heard.firstReadMs!.min).toBeCloseTo(Math.min(...own.firstUs) / 1000, 6);
    expect(heard.firstReadMs!.max).toBeCloseTo(Math.max(...own.firstUs) / 1000, 6);
    for (const { antenna, tagsRead, onlyHere, strongestDbm } of heard.antennas)
      expect({ tagsRead, onlyHere, strongest: Math.round(strongestDbm!.max * 100) }, antenna).toEqual(
        own.antennas.get(antenna),
      );
    expect(heard.antennas).toHaveLength(own.antennas.size);
    expect(
      new Map(
        heard.strays.map(({ tag, bystander, passes, reads, strongestDbm }) => [
          `${tag} ${bystander ? "bystander" : "stray"}`,
          { passes, reads, strongest: Math.round(strongestDbm! * 100) },
        ]),
      ),
    ).toEqual(own.strays);
  });

  it.each(rounds)("come to the same reads between the passes at %s, %s", (id, roundId, _, heard) => {
    const own = counted(id, roundId);
    expect(heard.idle!.heard).toEqual(
      [...own.minutes]
        .sort(([a], [b]) => a - b)
        .map(([minute, { reads, codes }]) => ({
          minute: new Date(minute * 60_000).toISOString().replace(":00.000Z", "Z"),
          reads,
          tags: codes.size,
        })),
    );
  });

  it("refuse a few lines by name and forbid no verdict", () => {
    const own = result.problems.filter(({ file }) => file?.startsWith("reads/"));
    expect(own.every(({ severity }) => severity === "warning")).toBe(true);
    expect(new Set(own.map(({ code }) => code))).toEqual(
      new Set([
        "reader-log-line-refused",
        "reader-log-lines-refused",
        "reader-log-reader-unknown",
        "reader-log-rows-repeated",
      ]),
    );
  });

  it("hold tags at door B that one antenna of four catches alone", () => {
    const [, , , heard] = rounds.find(([id, round]) => id === "door-b" && round === "as-left")!;
    const alone = new Map(heard.antennas.map(({ antenna, onlyHere }) => [antenna, onlyHere]));
    expect(alone.get("4")).toBeGreaterThan(100);
    for (const antenna of ["1", "2", "3"]) expect(alone.get(antenna)).toBeLessThan(10);
  });

  it("hold strays at door B that carry no GS1 code", () => {
    const strays = rounds.filter(([id]) => id === "door-b").flatMap(([, , , heard]) => heard.strays);
    expect(strays.filter(({ tag }) => tag.startsWith("E2")).length).toBeGreaterThan(0);
    expect(strays.filter(({ tag }) => tag.startsWith("33")).length).toBeGreaterThan(0);
  });

  it("would lose more than half of the conveyor's reads inside passes to a clock 32 s ahead", () => {
    const own = windows.filter(({ readPoint }) => readPoint === "returns-1");
    const inside = (shiftUs: number) =>
      allReads.filter(
        ({ readPoint, us }) =>
          readPoint === "returns-1" &&
          own.some(({ fromUs, toUs }) => us + shiftUs >= fromUs && us + shiftUs <= toUs),
      ).length;
    expect(inside(32_000_000)).toBeLessThan(inside(0) / 2);
  });
});
