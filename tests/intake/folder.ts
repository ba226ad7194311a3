import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { openFacility } from "../../src/intake/facility/facility.ts";
import { readFacility } from "../../src/intake/read-facility-folder.ts";
import type { FacilityInput } from "../../src/model/pass-log.ts";
import type { Problem } from "../../src/model/problem.ts";

export type Files = Record<string, string | Buffer>;

/** A facility that is in order: tests change one thing about it. */
export const soundYaml = `name: Test hall
time_zone: Europe/Dublin
report: { number: T-1, revision: A, issued: 2026-05-22 }
rounds:
  - { id: as-found, date: 2026-05-18 }
  - { id: as-left, date: 2026-05-21 }
read_points:
  - { id: dock-1, name: Dock 1 }
  - { id: dock-2, name: Dock 2 }
conditions:
  - { column: speed_m_s, label: Speed, unit: m/s, bands: [0, 1, 2, 3] }
  - { column: orientation, label: Tag orientation }
`;

export const criterion = (text: string) => `criteria:\n  - { id: c1, ${text} }\n`;

export const soundLog = `round,pass,read_point,started_at,ended_at,speed_m_s,orientation,tag,presented,read,rssi_dbm,antenna,reads,void_reason,walked_by,note
as-left,P1,dock-1,2026-05-21 10:00:00,2026-05-21 10:00:30,1,flat,T1,yes,yes,-53.5,1,3,,A. Walker,
as-left,P1,dock-1,2026-05-21 10:00:00,2026-05-21 10:00:30,1,edge-on,T2,yes,no,,,,,A. Walker,
`;

/** Writes the files into a folder of their own, hands it over, and clears it away. */
export async function inFolder<T>(files: Files, use: (folder: string) => Promise<T>): Promise<T> {
  const folder = mkdtempSync(join(tmpdir(), "proofwalk-intake-"));
  try {
    for (const [name, text] of Object.entries(files)) {
      const path = join(folder, "hall", name);
      mkdirSync(dirname(path), { recursive: true });
      writeFileSync(path, text);
    }
    return await use(join(folder, "hall"));
  } finally {
    rmSync(folder, { recursive: true });
  }
}

export function read(files: Files): Promise<{ input: FacilityInput | null; problems: Problem[] }> {
  return inFolder({ "facility.yaml": soundYaml, ...files }, async (folder) =>
    readFacility(await openFacility(folder)),
  );
}

/** Reads a folder that must be in order. */
export async function readSound(files: Files): Promise<FacilityInput> {
  const { input, problems } = await read(files);
  if (input === null) throw new Error(`refused: ${JSON.stringify(problems, null, 1)}`);
  return input;
}

/** The problems as one line each: severity, place, code. */
export function places(problems: readonly Problem[]): string[] {
  return problems.map((p) => `${p.severity} ${p.file}:${p.line ?? "-"}:${p.column ?? "-"} ${p.code}`);
}

export function errors(problems: readonly Problem[]): Problem[] {
  return problems.filter((problem) => problem.severity === "error");
}

/** A log with the given header and rows, shorter to write than in full. */
export function log(header: string, ...rows: string[]): string {
  return `${[header, ...rows].join("\n")}\n`;
}
