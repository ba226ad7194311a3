import type { Selection } from "../model/rows.ts";
import { Match } from "../model/rows.ts";
import type { Measure } from "./evidence.ts";

/**
 * Passes in which the column `observed` says what the column `expected` says: the direction, the carrier's badge with
 * the item. A pass counts where any of its matching rows has `expected` filled, and agrees where all those rows do;
 * a blank observation does not agree.
 */
export const agreementRate: Measure = {
  unit: "passes",
  gather: (selection, criterion) => {
    const agreeing = comparePasses(selection, criterion.observed ?? "", criterion.expected ?? "");
    const k = [...agreeing.values()].filter(Boolean).length;
    return { kind: "passes", passes: agreeing.size, k, n: agreeing.size, remarks: [] };
  },
};

function comparePasses(
  selection: Selection,
  observedName: string,
  expectedName: string,
): Map<number, boolean> {
  const { log, rows, match, withVoids } = selection;
  const { pass, columns } = log.rows;
  const agreeing = new Map<number, boolean>();
  const expected = columns.get(expectedName);
  const observed = columns.get(observedName);
  if (expected === undefined) return agreeing;
  for (const row of rows) {
    const number = pass[row]!;
    if (!withVoids && log.passes[number]!.voidReason !== null) continue;
    const wanted = expected.index[row]!;
    if (wanted === -1 || match(row) !== Match.yes) continue;
    const seen = observed?.index[row] ?? -1;
    const agrees = seen !== -1 && observed!.values[seen] === expected.values[wanted];
    agreeing.set(number, (agreeing.get(number) ?? true) && agrees);
  }
  return agreeing;
}
