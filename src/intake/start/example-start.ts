import type { FacilityStart, ProposedCriterion } from "./facility-text.ts";

/** What `new` writes for somebody who has no files yet: an example to replace. */
export function exampleStart(timeZone: string): FacilityStart {
  return {
    timeZone,
    rounds: [{ id: "as-found", date: null }],
    readPoints: [{ id: "dock-1", name: "Dock door 1", kind: "dock door" }],
    conditions: [
      { column: "speed_m_s", label: "Speed", unit: "m/s", bands: [0, 1, 2] },
      { column: "orientation", label: "Tag orientation", unit: null, bands: null },
    ],
    criteria: proposedCriteria({ hasStrays: true }),
    readerLogs: "",
    manifest: null,
    isFound: false,
  };
}

/** The header of an empty itemised log, with the conditions of the example. */
export const emptyLog =
  "round,pass,read_point,started_at,ended_at,speed_m_s,orientation,tag,presented,read,rssi_dbm,antenna,reads,void_reason,walked_by,note\n";

/** The requirements that most facilities have, by what their logs can show. */
function proposedCriteria({ hasStrays }: { hasStrays: boolean }): ProposedCriterion[] {
  const reads: ProposedCriterion = {
    id: "tag-read-rate",
    title: "every read point reads at least 99 % of the tags presented",
    keys: { measure: "tag-read-rate", at_least: 0.99, minimum_passes: 20 },
  };
  const strays: ProposedCriterion = {
    id: "strays",
    title: "at most one pass in twenty reads a tag that is not in it",
    keys: { measure: "stray-pass-rate", at_most: 0.05, minimum_passes: 20 },
  };
  return hasStrays ? [reads, strays] : [reads];
}
