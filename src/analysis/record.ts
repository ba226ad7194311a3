import type { FacilityInput } from "../model/pass-log.ts";
import { fileChanges, notEvidence, type RecordResult } from "../model/record/record.ts";

/** What facility.yaml says of revisions, corrections and clocks, with what became of the files since; nothing where it says none. */
export function recordOf({ facility, inputs, earlier }: FacilityInput): { record?: RecordResult } {
  const { revisions, corrections, readerLogs } = facility;
  const clocks = readerLogs
    .filter(({ clockOffsetS, clockComparisons }) => clockOffsetS !== 0 || clockComparisons.length > 0)
    .map(({ files, clockOffsetS, clockComparisons }) => ({
      files,
      offsetS: clockOffsetS,
      comparisons: clockComparisons,
    }));
  if (revisions.length + corrections.length + clocks.length === 0) return {};
  const files = { inputs, corrections, passedOver: notEvidence(revisions) };
  return {
    record: {
      revisions: revisions.map((stated) => {
        const kept = earlier.find(({ revision }) => revision === stated.revision);
        return { ...stated, files: kept === undefined ? null : fileChanges(kept, files) };
      }),
      corrections,
      clocks,
    },
  };
}
