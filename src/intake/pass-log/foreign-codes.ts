import { type NearestReading, nearestReading } from "../../codes/nearest-reading.ts";
import type { ColumnName, ReaderLogSpec } from "../../model/facility.ts";
import { readerLogCodesForeign } from "../problems/reader-log.ts";
import type { YamlReport } from "../problems/reports.ts";
import { type ColumnTexts, type ForeignCodes, readPointsOf } from "../reader-log/reader-log.ts";

interface ForeignTask {
  specs: readonly ReaderLogSpec[];
  /** Read points of passes that presented a tag. */
  presenting: ReadonlySet<string>;
  /** The codes of the loads as their manifests write them. */
  loadCodes: readonly string[];
}

/**
 * Objects to read points where tags were presented and no code of the manifests was read at any time, although others were:
 * the codes are then written otherwise, or the log is another read point's. Only a remark where the entry says that the codes
 * were checked.
 */
export function checkForeignCodes(
  foreign: readonly ForeignCodes[],
  { specs, presenting, loadCodes }: ForeignTask,
  report: YamlReport,
): void {
  const [loadCode] = loadCodes;
  if (loadCode === undefined) return;
  for (const { readPoint, codes, otherColumns } of foreign) {
    if (!presenting.has(readPoint)) continue;
    const entries = [...specs.keys()].filter((index) => readPointsOf(specs[index]!).includes(readPoint));
    const unchecked = entries.find((index) => !specs[index]!.codesChecked);
    const facts = { readPoint, codes: codes.length, code: codes[0]!.text, loadCode };
    report.value(
      ["reader_logs", unchecked ?? entries[0]!],
      unchecked === undefined
        ? readerLogCodesForeign.checked(facts)
        : readerLogCodesForeign.unchecked({
            ...facts,
            ...nearestColumn(nearestReading(codes, loadCodes), otherColumns, loadCodes),
            epcForm: specs[unchecked]!.epcForm,
          }),
    );
  }
}

/** The column of a log, and the reading of it, in which most codes of the loads are found; the column is null where it is that of the entry. */
function nearestColumn(
  own: NearestReading | null,
  otherColumns: readonly ColumnTexts[],
  loadCodes: readonly string[],
): { nearest: NearestReading | null; column: ColumnName | null } {
  let best: { nearest: NearestReading | null; column: ColumnName | null } = { nearest: own, column: null };
  for (const { column, texts } of otherColumns) {
    const nearest = nearestReading(
      texts.map((text) => ({ text, form: null })),
      loadCodes,
    );
    if (nearest !== null && nearest.matches > (best.nearest?.matches ?? 0)) best = { nearest, column };
  }
  return best;
}
