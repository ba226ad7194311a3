import { planResult } from "../../src/analysis/plan/plan-result.ts";
import type { Plan } from "../../src/model/facility.ts";
import type { Result } from "../../src/model/result/result.ts";
import { indexRows } from "../../src/model/rows.ts";
import { facility, type WalkedRow, walked } from "../analysis/walked.ts";
import { hostile, sampleResult } from "./sample-result.ts";

/** Two read points of the sample; a little of it walked, under a load that somebody named maliciously. */
const plan: Plan = {
  seed: 7,
  tagsPerPass: 40,
  manifest: null,
  sameTags: false,
  expectedRate: 0.998,
  each: [
    { column: "speed_m_s", values: ["1", "1 to 2"] },
    { column: "load", values: ["full", hostile.markup] },
  ],
  readPoints: ["dock-1", "dock-2"],
};

/** So many passes of 40 tags each. */
export function walkedPasses(readPoint: string, speed: string, load: string, count: number): WalkedRow[] {
  return Array.from({ length: count }, (_, i) => ({
    readPoint,
    pass: `${readPoint} ${speed} ${load} ${i}`,
    tally: { presented: 40, read: 40 },
    columns: { speed_m_s: speed, load },
  }));
}

/** The sample, planned; `rows` are what was walked of the plan. */
export function plannedSample(rows: WalkedRow[] = [], said: Partial<Plan> = {}): Result {
  const log = walked(rows);
  const planned = facility({
    id: "planned-plant",
    conditions: sampleResult.conditions,
    criteria: sampleResult.criteria,
    readPoints: sampleResult.readPoints.map(({ id, name, signOffRound }) => ({
      id,
      name,
      kind: null,
      at: null,
      equipment: {},
      signOffRound,
    })),
    plan: { ...plan, ...said },
  });
  const load = said.manifest ? { tags: ["T1", "T2"], columns: {} } : null;
  return {
    ...sampleResult,
    facility: { ...sampleResult.facility, id: "planned-plant" },
    plan: planResult({ facility: planned, log, index: indexRows(log) }, load),
  };
}
