import { measures } from "../../measures/index.ts";
import { quoted } from "../quotation.ts";
import type { LogContext } from "./log-context.ts";

/** Whether the logs have the columns that the measure of a criterion needs. */
export function checkMeasuredColumns(context: LogContext): void {
  const { facility, passes, files, manifests } = context;
  const blamed = new Set<string>();
  for (const criterion of facility.criteria) {
    const needed = measures.get(criterion.measure).log.columns?.(criterion) ?? [];
    if (needed.length === 0) continue;
    const covered = facility.readPoints.map((point) => criterion.readPoints.includes(point.id));
    for (const pass of passes.passes) {
      if (!covered[pass.readPoint] || pass.voidReasons !== null) continue;
      const key = `${criterion.id}\u0000${pass.file}\u0000${pass.manifest ?? ""}`;
      if (blamed.has(key)) continue;
      blamed.add(key);
      const { report, header } = files[pass.file]!;
      const manifest = manifests.get(pass.manifest ?? "");
      const lacking = needed.find(
        ({ column }) => !header.fields.has(column) && manifest?.columns.has(column) !== true,
      );
      if (lacking === undefined) continue;
      const { severity, code, column, purpose, advice } = lacking;
      report[severity](
        header.record,
        null,
        code,
        `no column ${quoted(column)}`,
        `${column}, which criterion ${quoted(criterion.id)} ${purpose}`,
        advice,
      );
    }
  }
}
