import { quoted } from "../quotation.ts";
import type { LogContext } from "./log-context.ts";

/** Whether the logs have the two columns that an agreement criterion compares. */
export function checkAgreementColumns(context: LogContext): void {
  const { facility, passes, files, manifests } = context;
  const blamed = new Set<string>();
  for (const criterion of facility.criteria) {
    const { observed, expected } = criterion;
    if (criterion.measure !== "agreement-rate" || observed === null || expected === null) continue;
    const covered = facility.readPoints.map((point) => criterion.readPoints.includes(point.id));
    for (const pass of passes.passes) {
      if (!covered[pass.readPoint] || pass.voidReasons !== null) continue;
      const key = `${criterion.id}\u0000${pass.file}\u0000${pass.manifest ?? ""}`;
      if (blamed.has(key)) continue;
      blamed.add(key);
      const { report, header } = files[pass.file]!;
      const manifest = manifests.get(pass.manifest ?? "");
      const has = (column: string) => header.fields.has(column) || manifest?.columns.has(column) === true;
      if (!has(expected)) {
        report.warning(
          header.record,
          null,
          "agreement-column-missing",
          `no column ${quoted(expected)}`,
          `${expected}, which criterion ${quoted(criterion.id)} compares with ${observed}`,
          "These passes do not enter the criterion. Add the column if what was true is known.",
        );
      } else if (!has(observed)) {
        report.error(
          header.record,
          null,
          "agreement-column-missing",
          `no column ${quoted(observed)}`,
          `${observed}, which criterion ${quoted(criterion.id)} compares with ${expected}`,
          "Add the column with what the read point concluded: blank where it concluded nothing.",
        );
      }
    }
  }
}
