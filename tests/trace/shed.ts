import { createHash } from "node:crypto";
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { type FacilityFacts, facilityFacts } from "./facility-facts.ts";
import { type JudgedFinding, judgedFindings } from "./judged-findings.ts";
import { type RawRow, rawRows } from "./raw-rows.ts";

export const dataFolder = fileURLToPath(new URL("../golden/itemised/data", import.meta.url));
const folder = join(dataFolder, "shed");

interface RawFile {
  path: string;
  bytes: number;
  sha256: string;
}

/** The facility traced here: what its files hold, and what this test makes of them. */
export interface Shed {
  facts: FacilityFacts;
  files: RawFile[];
  rows: RawRow[];
  /** Rows by round, void passes among them. */
  before: RawRow[];
  after: RawRow[];
  findings: JudgedFinding[];
}

export async function recountedShed(): Promise<Shed> {
  const facts = await facilityFacts(folder);
  const rows = await rawRows(folder);
  const before = rows.filter(({ round }) => round === "before");
  const after = rows.filter(({ round }) => round === "after");
  const files = await Promise.all(["facility.yaml", "passes/walks.csv"].map(rawFile));
  return { facts, files, rows, before, after, findings: judgedFindings(facts, after) };
}

async function rawFile(path: string): Promise<RawFile> {
  const bytes = await readFile(join(folder, path));
  return { path, bytes: bytes.length, sha256: createHash("sha256").update(bytes).digest("hex") };
}
