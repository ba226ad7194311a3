import { rateEstimate } from "../../measures/evidence/rates.ts";
import { type PresentationCounter, presentationCounter } from "../../measures/presentations.ts";
import { type Combination, combinationKey } from "../../model/conditions.ts";
import type { Estimate } from "../../model/estimate.ts";
import type { Condition } from "../../model/facility.ts";
import type { ConditionBreakdown, ConditionGrid } from "../../model/result.ts";
import { rowCombinations } from "../../model/row-combinations.ts";
import { namesAt, type ReadPointRound, type WalkedFacility } from "../../model/rows.ts";

/** The read rate by each declared condition on its own. */
export function breakDown(
  walked: WalkedFacility,
  { readPoint }: ReadPointRound,
  rows: Int32Array,
): ConditionBreakdown[] {
  return walked.facility.conditions.map((condition) => {
    const { column } = condition;
    const rateUnder = countCombinations(walked, [condition], rows);
    const values = namesAt(walked, { column, readPoints: [readPoint] });
    return { column, groups: values.map((value) => ({ value, ...rateUnder({ [column]: value }) })) };
  });
}

/** The read rate by each pair of declared conditions; a cell with no passes was walked by nobody. */
export function crossConditions(
  walked: WalkedFacility,
  { readPoint }: ReadPointRound,
  rows: Int32Array,
): ConditionGrid[] {
  const { conditions } = walked.facility;
  const valuesOf = ({ column }: Condition) => namesAt(walked, { column, readPoints: [readPoint] });
  const pairs = conditions.flatMap((first, i) =>
    conditions.slice(i + 1).map((second) => [first, second] as const),
  );
  return pairs.map(([first, second]) => {
    const rateUnder = countCombinations(walked, [first, second], rows);
    const rowValues = valuesOf(first);
    const columnValues = valuesOf(second);
    const cells = rowValues.flatMap((row) =>
      columnValues.map((column) => ({
        row,
        column,
        ...rateUnder({ [first.column]: row, [second.column]: column }),
      })),
    );
    return { rowColumn: first.column, columnColumn: second.column, rowValues, columnValues, cells };
  });
}

/** Counts presentations by the combination of values that they were walked under. */
function countCombinations({ facility, log }: WalkedFacility, conditions: Condition[], rows: Int32Array) {
  const { pass, tag, presentations, tagsRead } = log.rows;
  const combinations = rowCombinations(conditions, log);
  const counters: PresentationCounter[] = [];
  for (const row of rows) {
    const combination = combinations.of(row);
    counters[combination] ??= presentationCounter();
    counters[combination].add(pass[row]!, tag[row]!, presentations[row]!, tagsRead[row]!);
  }
  const byKey = new Map(counters.map((counter, one) => [combinationKey(combinations.record(one)), counter]));
  return (combination: Combination): { passes: number; tagReadRate: Estimate } => {
    const counter = byKey.get(combinationKey(combination)) ?? presentationCounter();
    return { passes: counter.passes(), tagReadRate: rateEstimate(counter.counts(), facility) };
  };
}
