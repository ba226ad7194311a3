import { measures } from "../../measures/index.ts";
import type { Measure } from "../../measures/measure.ts";
import type { FacilityStart, ProposedCriterion } from "./facility-text.ts";

/** What `new` writes for somebody who has no files yet: an example to replace. */
export function exampleStart(timeZone: string): FacilityStart {
  return {
    timeZone,
    dateOrder: null,
    rounds: [{ id: "as-found", date: null }],
    readPoints: [{ id: "dock-1", name: "Dock door 1", kind: "dock door" }],
    conditions: [
      { column: "speed_m_s", label: "Speed", unit: "m/s", bands: [0, 1, 2] },
      { column: "orientation", label: "Tag orientation", unit: null, bands: null },
    ],
    criteria: proposedCriteria(() => true),
    readerLogs: "",
    sheets: {},
    manifest: null,
    isFound: false,
  };
}

/** The header of an empty itemised log, with the conditions of the example. */
export const emptyLog =
  "round,pass,read_point,started_at,ended_at,speed_m_s,orientation,tag,presented,read,rssi_dbm,antenna,reads,void_reason,walked_by,note\n";

/**
 * A requirement to agree on for each measure that proposes one.
 *
 * @param isCounted whether the logs have a pass that a measure counts
 */
export function proposedCriteria(isCounted: (measure: Measure) => boolean): ProposedCriterion[] {
  return measures.all().flatMap((measure): ProposedCriterion[] => {
    const { id, proposal, usualSense } = measure;
    if (proposal === undefined || !isCounted(measure)) return [];
    const limit = usualSense === "at-least" ? "at_least" : "at_most";
    const keys = { measure: id, [limit]: proposal.limit, minimum_passes: proposal.minimumPasses };
    return [{ id, title: proposal.title, keys }];
  });
}
