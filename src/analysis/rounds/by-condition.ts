import { rateEstimate } from "../../measures/evidence/rates.ts";
import { type PresentationCounter, presentationCounter } from "../../measures/presentations.ts";
import { type Combination, combinationKey } from "../../model/conditions.ts";
import type { Estimate } from "../../model/estimate.ts";
import type { Condition } from "../../model/facility.ts";
import type { ConditionBreakdown, ConditionGrid } from "../../model/result.ts";
import { rowCombinations } from "../../model/row-combinations.ts";
import { namesAt, type WalkedFacility } from "../../model/rows.ts";

/** A declared condition with the names of its values that the report shows. */
export interface ShownCondition {
  condition: Condition;
  values: string[];
}

/** The declared conditions as the report shows them at a read point. */
export function shownConditions(walked: WalkedFacility, readPoint: string): ShownCondition[] {
  return walked.facility.conditions.map((condition) => ({
    condition,
    values: namesAt(walked, { column: condition.column, readPoints: [readPoint] }),
  }));
}

/** The read rate of some rows by each condition on its own. */
export function breakDown(
  walked: WalkedFacility,
  conditions: ShownCondition[],
  rows: Int32Array,
): ConditionBreakdown[] {
  return conditions.map(({ condition, values }) => {
    const { column } = condition;
    const rateUnder = countCombinations(walked, [condition], rows);
    return { column, groups: values.map((value) => ({ value, ...rateUnder({ [column]: value }) })) };
  });
}

/** The read rate of some rows by each pair of conditions; a cell with no passes was walked by nobody. */
export function crossConditions(
  walked: WalkedFacility,
  conditions: ShownCondition[],
  rows: Int32Array,
): ConditionGrid[] {
  const pairs = conditions.flatMap((first, i) =>
    conditions.slice(i + 1).map((second) => [first, second] as const),
  );
  return pairs.map(([first, second]) => {
    const rateUnder = countCombinations(walked, [first.condition, second.condition], rows);
    const rowColumn = first.condition.column;
    const columnColumn = second.condition.column;
    const cells = first.values.flatMap((row) =>
      second.values.map((column) => ({
        row,
        column,
        ...rateUnder({ [rowColumn]: row, [columnColumn]: column }),
      })),
    );
    return { rowColumn, columnColumn, rowValues: first.values, columnValues: second.values, cells };
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
