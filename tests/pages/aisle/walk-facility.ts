import { mkdir, mkdtemp, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { judgeAll } from "../../../src/commands/data/judge-all.ts";
import type { Result } from "../../../src/model/result/result.ts";

/** The tags of the load, which differ in their last four digits. */
export const cage = Array.from(
  { length: 20 },
  (_, i) => `331645AA3C0019400006${(4096 + 37 * i).toString(16).toUpperCase()}`,
);

export interface WalkOptions {
  /** Whether the plan names its load; else tags are only counted. */
  load: boolean;
  /** Further lines of facility.yaml. */
  criteria?: string;
  /** Pass logs by name. */
  logs?: Record<string, string>;
}

/** A data folder of one facility with two read points, one of which is to get twelve passes. */
export async function walkFacility({ load, criteria = "", logs = {} }: WalkOptions): Promise<string> {
  const data = await mkdtemp(join(tmpdir(), "proofwalk-aisle-"));
  const folder = join(data, "yard");
  await mkdir(join(folder, "passes"), { recursive: true });
  await mkdir(join(folder, "manifests"));
  await writeFile(join(folder, "facility.yaml"), facilityYaml(load, criteria));
  await writeFile(join(folder, "manifests", "cage.csv"), `${["tag", ...cage].join("\n")}\n`);
  for (const [name, text] of Object.entries(logs)) await writeFile(join(folder, "passes", name), text);
  return data;
}

/** What the tool makes of a data folder. */
export async function judged(data: string): Promise<Result> {
  for await (const result of judgeAll({ data, only: [] }, { step() {}, done() {} })) return result;
  throw new Error("The folder holds no facility.");
}

function facilityYaml(load: boolean, criteria: string): string {
  return `
name: Invented yard
client: Invented client
time_zone: Europe/Dublin
report: { number: YRD-001, revision: A, issued: 2026-05-22 }
rounds:
  - { id: as-found, title: As found, date: 2026-05-20 }
  - { id: as-left, title: As left, date: 2026-05-21 }
read_points:
  - { id: desk-1, name: Encoding desk }
  - { id: dock-1, name: Dock door 1 }
conditions:
  - { column: speed_m_s, label: Speed, unit: m/s, bands: [0, 1, 2] }
  - { column: orientation, label: Tag orientation }
  - { column: cover, label: Cover }
criteria:
  - id: reads
    title: The dock door reads at least 90 % of the tags
    measure: tag-read-rate
    at_least: 0.9
    read_points: [dock-1]
    where: { speed_m_s: { to: 2 } }
    minimum_passes: 12
${criteria}
plan:
  seed: 7
  tags_per_pass: ${cage.length}
  same_tags: true
  ${load ? "manifest: cage" : ""}
  expected_rate: 0.99
  each: { speed_m_s: [1, 1 to 2], orientation: [flat, edge-on] }
  read_points: [dock-1, desk-1]
`;
}
