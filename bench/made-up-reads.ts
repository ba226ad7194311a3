import { mkdirSync, rmSync, writeFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { DuckDBInstance } from "@duckdb/node-api";

const readPoints = 12;
const tags = 60;
const passes = 500;
/** Rows that are of no load, however long the log: what a site lists of them must not depend on its length. */
const strays = 1000;
/** Each minute of the session holds one pass a read point, this long; with the pass window around it a second and a half more. */
const passSeconds = 48;
const start = Date.UTC(2026, 4, 21, 8);
const minutes = Math.ceil(passes / readPoints);

const codeOf = (tag: number): string =>
  `3374257BF40C0E4000${(4096 + tag).toString(16).toUpperCase().padStart(6, "0")}`;

function facilityYaml(log: string): string {
  const ids = Array.from({ length: readPoints }, (_, i) => i + 1);
  return [
    "name: Benchmark depot",
    "time_zone: Europe/Dublin",
    "report: { number: B-2, revision: A, issued: 2026-05-22 }",
    "rounds: [{ id: as-left, title: As left, date: 2026-05-21 }]",
    "read_points:",
    ...ids.map((i) => `  - { id: dock-${i}, name: Dock door ${i}, kind: dock door, at: { x: 10, y: 10 } }`),
    "reader_logs:",
    `  - files: ${log}`,
    `    read_point: { column: ReaderName, values: { ${ids.map((i) => `R-${i}: dock-${i}`).join(", ")} } }`,
    "    columns: { time: FirstSeenTimestampUTC, epc: EPC, antenna: AntennaID, rssi: PeakRSSI, count: TagSeenCount }",
    "    time: { unit: us }",
    "pass_window: { before_s: 0.5, after_s: 1.0 }",
    "criteria:",
    "  - { id: reads, title: Tags are read, measure: tag-read-rate, at_least: 0.98 }",
    "  - { id: whole, title: Passes are complete, measure: complete-pass-rate, at_least: 0.5 }",
    "  - { id: strays, title: Few strays, measure: stray-pass-rate, at_most: 0.5 }",
    "  - { id: idle, title: Quiet between passes, measure: idle-read-rate, at_most: 100 }",
    "",
  ].join("\n");
}

const clock = (minute: number, second: number): string =>
  new Date(start + (minute * 60 + second) * 1000).toISOString().replace(".000Z", "Z");

/**
 * A facility with timed passes at every read point and one reader log of `rows` rows, in the order of time, over the same
 * passes however many rows there are. One presentation in 250 is never heard; some thousand rows are of
 * strays.
 *
 * @returns where the log is
 */
export async function makeReads(folder: string, rows: number): Promise<string> {
  rmSync(folder, { recursive: true, force: true });
  for (const room of ["passes", "manifests", "reads"]) mkdirSync(join(folder, room), { recursive: true });
  writeFileSync(join(folder, "facility.yaml"), facilityYaml("reads/session.csv"));
  writeFileSync(
    join(folder, "manifests", "load.csv"),
    `tag\n${Array.from({ length: tags }, (_, tag) => `${codeOf(tag)}\n`).join("")}`,
  );
  const walked = Array.from({ length: passes }, (_, pass) => {
    const minute = Math.floor(pass / readPoints);
    return `P${pass},dock-${(pass % readPoints) + 1},${clock(minute, 5)},${clock(minute, 5 + passSeconds)},load\n`;
  });
  writeFileSync(
    join(folder, "passes", "walk.csv"),
    `pass,read_point,started_at,ended_at,manifest\n${walked.join("")}`,
  );
  const log = resolve(folder, "reads", "session.csv");
  const instance = await DuckDBInstance.create(":memory:");
  const connection = await instance.connect();
  const stepUs = Math.floor((minutes * 60_000_000) / rows);
  // Hashes of the row number are the chance: the same file on every machine.
  await connection.run(`COPY (
    SELECT ${start * 1000} + i * ${stepUs} AS FirstSeenTimestampUTC, 'R-' || point AS ReaderName,
      CASE WHEN stray THEN '331645AA3C0032800000' || (9000 + i % 40)
        ELSE '3374257BF40C0E4000' || printf('%06X', 4096 + CASE WHEN unheard THEN (tag + 1) % ${tags} ELSE tag END) END AS EPC,
      1 + (hash(i * 8 + 3) % 4)::INTEGER AS AntennaID, printf('%.1f', -45 - (hash(i * 8 + 4) % 60)::INTEGER / 2) AS PeakRSSI,
      1 + (hash(i * 8 + 5) % 9)::INTEGER AS TagSeenCount
    FROM (SELECT i, point, tag, hash(i * 8 + 6) % ${Math.ceil(rows / strays)} = 0 AS stray,
        hash((i * ${stepUs} // 60000000 * 100 + point) * 100 + tag) % 250 = 0 AS unheard
      FROM (SELECT range AS i, 1 + (hash(range * 8 + 1) % ${readPoints})::INTEGER AS point,
        (hash(range * 8 + 2) % ${tags})::INTEGER AS tag FROM range(${rows})))
    ) TO '${log.replaceAll("'", "''")}' (FORMAT csv, HEADER)`);
  connection.closeSync();
  instance.closeSync();
  return log;
}
