import { measures } from "../../measures/index.ts";
import { type ConditionValues, valuesOf } from "../../model/conditions.ts";
import type { Criterion, Facility } from "../../model/facility.ts";

/** What facility.yaml says about the columns of logs and manifests. */
export interface Vocabulary {
  /** Conditions and the columns that criteria compare: each kept row by row. */
  columns: string[];
  /** Those of them whose values are numbers: banded, or taken as a range by a criterion. */
  numeric: Set<string>;
  /** By column, of declared conditions. */
  values: Map<string, ConditionValues>;
  /** Columns whose name ends in their unit, as people like to leave it out. */
  withUnit: Set<string>;
}

export function vocabularyOf(facility: Facility): Vocabulary {
  const columns = new Set(facility.conditions.map((condition) => condition.column));
  const numeric = new Set<string>();
  const values = new Map<string, ConditionValues>();
  const withUnit = new Set(["rssi_dbm"]);
  for (const condition of facility.conditions) {
    const own = valuesOf(condition);
    values.set(condition.column, own);
    if (own.numeric) numeric.add(condition.column);
    if (condition.unit !== null) withUnit.add(condition.column);
  }
  for (const criterion of facility.criteria) {
    for (const column of comparedColumns(criterion)) columns.add(column);
    for (const clause of criterion.where) {
      if (clause.kind === "range" && columns.has(clause.column)) numeric.add(clause.column);
    }
  }
  return { columns: [...columns], numeric, values, withUnit };
}

/** The columns that a criterion names for its measure. */
function comparedColumns(criterion: Criterion): string[] {
  const parameters = Object.entries(measures.get(criterion.measure).criterion?.parameters ?? {});
  const named = parameters.filter(([, { namesColumn }]) => namesColumn).map(([key]) => criterion[key]);
  return named.filter((column) => typeof column === "string");
}
