import type { PlannedWalk } from "../../../src/analysis/plan/planned-walk.ts";

/** Passes of 40 tags, 99 % asked, Wilson at 95 %, but for what a test says of it. */
export function plannedWalk(said: Partial<PlannedWalk> = {}): PlannedWalk {
  return {
    trialsPerPass: 40,
    unit: "presentations",
    sameTags: false,
    sense: "at-least",
    limit: 0.99,
    minimumPasses: 1,
    basis: { confidence: 0.95, interval: "wilson", missCorrelation: 0.02 },
    ...said,
  };
}

/** The published kind: one tag a pass, exact, one-sided 95 %. */
export function oneTagWalk(limit: number, said: Partial<PlannedWalk> = {}): PlannedWalk {
  return plannedWalk({
    trialsPerPass: 1,
    limit,
    basis: { confidence: 0.9, interval: "exact", missCorrelation: 0.02 },
    ...said,
  });
}
