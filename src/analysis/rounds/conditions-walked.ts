import { type PresentationCounter, presentationCounter } from "../../measures/presentations.ts";
import { bandNames, nameColumn, nameIndexOf } from "../../model/condition-values.ts";
import type { Estimate } from "../../model/estimate.ts";
import type { Condition, Facility } from "../../model/facility.ts";
import { type PassLog, Role } from "../../model/pass-log.ts";
import type { ConditionBreakdown, ConditionGrid } from "../../model/result.ts";
import { seenValues } from "../criterion-groups.ts";
import { clusteredRate } from "../estimate.ts";

/** The values a read point's report shows for a condition: its bands, else every value seen there in any round. */
function valuesShown(condition: Condition, readPoint: string, log: PassLog): string[] {
  return condition.bands === null
    ? seenValues(condition.column, [readPoint], log)
    : bandNames(condition.bands);
}

/** The read rate by each declared condition on its own; valid passes only. */
export function breakDown(
  facility: Facility,
  readPoint: string,
  rows: Int32Array,
  log: PassLog,
): ConditionBreakdown[] {
  return facility.conditions.map((condition) => {
    const cells = countCells(facility, [condition], rows, log);
    return {
      column: condition.column,
      groups: valuesShown(condition, readPoint, log).map((value) => ({
        value,
        ...cells.rateOf([value]),
      })),
    };
  });
}

/** The read rate by each pair of declared conditions; a cell with no passes was walked by nobody. */
export function crossConditions(
  facility: Facility,
  readPoint: string,
  rows: Int32Array,
  log: PassLog,
): ConditionGrid[] {
  const { conditions } = facility;
  const pairs = conditions.flatMap((first, i) =>
    conditions.slice(i + 1).map((second) => [first, second] as const),
  );
  return pairs.map(([first, second]) => {
    const cells = countCells(facility, [first, second], rows, log);
    const rowValues = valuesShown(first, readPoint, log);
    const columnValues = valuesShown(second, readPoint, log);
    return {
      rowColumn: first.column,
      columnColumn: second.column,
      rowValues,
      columnValues,
      cells: rowValues.flatMap((row) =>
        columnValues.map((column) => ({ row, column, ...cells.rateOf([row, column]) })),
      ),
    };
  });
}

/** Sorts the presentations of some rows into cells, one for each combination of values seen. */
function countCells(facility: Facility, conditions: Condition[], rows: Int32Array, log: PassLog) {
  const named = conditions.map((condition) => {
    const column = log.rows.columns.get(condition.column);
    return column === undefined ? null : nameColumn(column, condition.bands);
  });
  const cells = new Map<string, PresentationCounter>();
  const { pass, tag, role, presentations, reads } = log.rows;
  for (const row of rows) {
    if (role[row] !== Role.presented || presentations[row] === 0) continue;
    if (log.passes[pass[row]!]!.voidReason !== null) continue;
    const names = named.map((column) => (column === null ? -1 : nameIndexOf(column, row)));
    if (names.includes(-1)) continue;
    const key = names.join(" ");
    let cell = cells.get(key);
    if (cell === undefined) {
      cell = presentationCounter();
      cells.set(key, cell);
    }
    cell.add(pass[row]!, tag[row]!, presentations[row]!, reads[row]!);
  }
  const rateOf = (values: string[]): { passes: number; tagReadRate: Estimate } => {
    const key = values.map((value, i) => named[i]?.names.indexOf(value) ?? -1).join(" ");
    const cell = cells.get(key) ?? presentationCounter();
    return { passes: cell.passes(), tagReadRate: clusteredRate(cell.counts(), facility) };
  };
  return { rateOf };
}
