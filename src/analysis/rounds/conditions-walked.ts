import { rateEstimate } from "../../measures/evidence/rates.ts";
import { type PresentationCounter, presentationCounter } from "../../measures/presentations.ts";
import { combinationKey } from "../../model/conditions.ts";
import type { Estimate } from "../../model/estimate.ts";
import type { Condition, Facility } from "../../model/facility.ts";
import type { PassLog } from "../../model/pass-log.ts";
import type { ConditionBreakdown, ConditionGrid } from "../../model/result.ts";
import { rowCombinations } from "../../model/row-combinations.ts";
import { matchAll, namesAt, presentationRows } from "../../model/rows.ts";

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
      groups: namesAt(log, {
        column: condition.column,
        readPoints: [readPoint],
        conditions: facility.conditions,
      }).map((value) => ({
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
    const rowValues = namesAt(log, { column: first.column, readPoints: [readPoint], conditions });
    const columnValues = namesAt(log, { column: second.column, readPoints: [readPoint], conditions });
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

/** Sorts the presentations of some rows by the combination of values that they were walked under. */
function countCells(facility: Facility, conditions: Condition[], rows: Int32Array, log: PassLog) {
  const { pass, tag, presentations, reads } = log.rows;
  const combinations = rowCombinations(conditions, log);
  const counters: PresentationCounter[] = [];
  const selection = { log, rows, match: matchAll, withVoids: false, readPoint: "", round: "" };
  for (const row of presentationRows(selection)) {
    const number = combinations.of(row);
    counters[number] ??= presentationCounter();
    counters[number].add(pass[row]!, tag[row]!, presentations[row]!, reads[row]!);
  }
  const byKey = new Map(
    counters.map((counter, number) => [combinationKey(combinations.record(number)), counter]),
  );
  const rateOf = (values: string[]): { passes: number; tagReadRate: Estimate } => {
    const record = Object.fromEntries(conditions.map(({ column }, i) => [column, values[i]!]));
    const counter = byKey.get(combinationKey(record)) ?? presentationCounter();
    return { passes: counter.passes(), tagReadRate: rateEstimate(counter.counts(), facility) };
  };
  return { rateOf };
}
