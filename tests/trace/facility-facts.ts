import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { parse } from "yaml";

export interface StatedCriterion {
  id: string;
  title: string;
  measure: string;
  at_least?: number;
  at_most?: number;
  where?: { speed_m_s: { to: number } };
  for_each?: string[];
  quantile?: number;
}

/** What facility.yaml states, as it stands there. */
export interface FacilityFacts {
  confidence: number;
  report: { number: string; revision: string; issued: string };
  rounds: { id: string; title: string; date: string }[];
  conditions: { column: string; bands?: number[] }[];
  criteria: StatedCriterion[];
}

export async function facilityFacts(facilityFolder: string): Promise<FacilityFacts> {
  return parse(await readFile(join(facilityFolder, "facility.yaml"), "utf8")) as FacilityFacts;
}
