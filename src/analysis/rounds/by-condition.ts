import { rateEstimate } from "../../measures/evidence/rates.ts";
import { PresentationCounter } from "../../measures/presentations.ts";
import { valuesOf } from "../../model/conditions.ts";
import type { Estimate } from "../../model/estimate.ts";
import type { ConditionBreakdown, ConditionGrid } from "../../model/result/round.ts";
import { namesAt, type WalkedFacility } from "../../model/rows.ts";

/** A declared condition with the names of its values that the report shows. */
export interface ShownCondition {
  column: string;
  values: string[];
  /** Index into `values` of the name of a row's value; -1 for a blank. */
  placeOf(row: number): number;
}

/** The declared conditions as the report shows them at a read point. */
export function shownConditions(walked: WalkedFacility, readPoint: string): ShownCondition[] {
  return walked.facility.conditions.map((condition) => {
    const { column } = condition;
    const values = namesAt(walked, { column, readPoints: [readPoint] });
    const logged = walked.log.rows.columns.get(column);
    if (logged === undefined) return { column, values, placeOf: () => -1 };
    const { nameOf } = valuesOf(condition);
    const places = new Map<string | null, number>(values.map((value, place) => [value, place]));
    const placeOfText = Int32Array.from(logged.values, (text) => places.get(nameOf(text)) ?? -1);
    const { index } = logged;
    return { column, values, placeOf: (row) => (index[row] === -1 ? -1 : placeOfText[index[row]!]!) };
  });
}

/** The read rate of some rows by each condition on its own, and by each pair of conditions. */
export function ratesByCondition(
  { facility, log }: WalkedFacility,
  conditions: ShownCondition[],
  rows: Int32Array,
): { byCondition: ConditionBreakdown[]; grids: ConditionGrid[] } {
  const counter = new PresentationCounter(log);
  const rateOf = (own: Int32Array): { passes: number; tagReadRate: Estimate } => {
    const { counts, passes } = counter.count(own);
    return { passes, tagReadRate: rateEstimate(counts, facility) };
  };
  const shown = conditions.map(({ column, values, placeOf }) => ({
    column,
    values,
    places: rows.map((row) => placeOf(row)),
  }));
  const byCondition = shown.map(({ column, values, places }) => {
    const parts = partsOf(rows, places, values.length);
    return { column, groups: values.map((value, place) => ({ value, ...rateOf(parts[place]!) })) };
  });
  const pairs = shown.flatMap((first, i) => shown.slice(i + 1).map((second) => [first, second] as const));
  const grids = pairs.map(([first, second]) => {
    const width = second.values.length;
    const cellOf = new Int32Array(rows.length);
    for (let i = 0; i < rows.length; i += 1) {
      const row = first.places[i]!;
      const column = second.places[i]!;
      cellOf[i] = row === -1 || column === -1 ? -1 : row * width + column;
    }
    const parts = partsOf(rows, cellOf, first.values.length * width);
    // A cell with no passes was walked by nobody.
    const cells = first.values.flatMap((row, i) =>
      second.values.map((column, j) => ({ row, column, ...rateOf(parts[i * width + j]!) })),
    );
    return {
      rowColumn: first.column,
      columnColumn: second.column,
      rowValues: first.values,
      columnValues: second.values,
      cells,
    };
  });
  return { byCondition, grids };
}

/** Some rows, parted by a number of each, from 0 to below `parts`; rows of number -1 are in no part. */
function partsOf(rows: Int32Array, numberOf: Int32Array, parts: number): Int32Array[] {
  const ends = new Int32Array(parts);
  for (let i = 0; i < rows.length; i += 1) if (numberOf[i]! >= 0) ends[numberOf[i]!]! += 1;
  for (let part = 1; part < parts; part += 1) ends[part]! += ends[part - 1]!;
  const starts = Int32Array.from(ends, (_, part) => ends[part - 1] ?? 0);
  const next = starts.slice();
  const parted = new Int32Array(rows.length);
  for (let i = 0; i < rows.length; i += 1) {
    const number = numberOf[i]!;
    if (number >= 0) parted[next[number]!++] = rows[i]!;
  }
  return Array.from(starts, (start, part) => parted.subarray(start, ends[part]));
}
