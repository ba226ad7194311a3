import { closeSync, mkdirSync, openSync, rmSync, writeFileSync, writeSync } from "node:fs";
import { join } from "node:path";
import { type CsvStyle, csvText, forPassLogs } from "../src/pages/parts/csv-text.ts";

const orientations = ["flat", "edge-on"];
const speeds = ["0.5", "1", "1.5", "2"];

/** A seeded stream of numbers in 0..1 (a linear congruential generator: good enough to strew misses about). */
function stream(seed: number): () => number {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 4294967296;
  };
}

function facilityYaml(readPoints: string[]): string {
  return [
    "name: Benchmark depot",
    "client: Nobody",
    "time_zone: Europe/Dublin",
    "report: { number: B-1, revision: A, issued: 2026-05-22 }",
    "rounds: [{ id: as-left, title: As left, date: 2026-05-21 }]",
    "read_points:",
    ...readPoints.map((id) => `  - { id: ${id}, name: ${id}, kind: dock door, at: { x: 10, y: 10 } }`),
    "conditions:",
    "  - { column: speed_m_s, label: Speed, unit: m/s, bands: [0, 1, 2] }",
    "  - { column: orientation, label: Tag orientation }",
    "criteria:",
    "  - { id: reads, title: Tags are read, measure: tag-read-rate, at_least: 0.98 }",
    "  - { id: each, title: Each way up, measure: tag-read-rate, at_least: 0.95, for_each: [orientation] }",
    "  - { id: whole, title: Passes are complete, measure: complete-pass-rate, at_least: 0.5 }",
    "  - { id: level, title: Signal, measure: rssi-quantile, quantile: 0.05, at_least: -75 }",
    "",
  ].join("\n");
}

const style: CsvStyle = { ...forPassLogs, lineEnd: "\n" };

const header =
  "round pass read_point started_at ended_at speed_m_s orientation tag presented read rssi_dbm antenna reads void_reason walked_by note";

/** One facility folder whose itemised log has `passes` passes of `tags` tags, spread over the read points. */
export function makeFacility(
  folder: string,
  { readPoints, passes, tags, seed }: { readPoints: number; passes: number; tags: number; seed: number },
): string {
  rmSync(folder, { recursive: true, force: true });
  mkdirSync(join(folder, "passes"), { recursive: true });
  const ids = Array.from({ length: readPoints }, (_, i) => `dock-${i + 1}`);
  writeFileSync(join(folder, "facility.yaml"), facilityYaml(ids));
  const log = join(folder, "passes", "walk.csv");
  const file = openSync(log, "w");
  const random = stream(seed);
  writeSync(file, csvText([header.split(" ")], style));
  for (let pass = 0; pass < passes; pass += 1) {
    const minute = String(pass % 60).padStart(2, "0");
    const hour = String(8 + (Math.floor(pass / 60) % 10)).padStart(2, "0");
    const time = `2026-05-21 ${hour}:${minute}`;
    const head = [
      "as-left",
      `P${pass}`,
      ids[pass % readPoints]!,
      `${time}:00`,
      `${time}:20`,
      speeds[pass % 4]!,
    ];
    const rows = Array.from({ length: tags }, (_, tag) => {
      const code = `3374257BF40C0E4000${(4096 + tag).toString(16).toUpperCase().padStart(6, "0")}`;
      const level = random() > 0.004 ? (-50 - random() * 18).toFixed(1) : null;
      const heard = level === null ? ["no", "", "", ""] : ["yes", level, 1 + (tag % 4), 3];
      return [...head, orientations[tag % 2]!, code, "yes", ...heard, "", "A. Walker", ""];
    });
    writeSync(file, csvText(rows, style));
  }
  closeSync(file);
  return log;
}
