import { measures } from "../../measures/index.ts";
import { type ConditionValues, valuesOf } from "../../model/conditions.ts";
import type { Criterion, Facility } from "../../model/facility.ts";
import { bareName } from "./column-words.ts";

/** What facility.yaml says about the columns of its tables. */
export interface DeclaredColumns {
  /** Conditions and the columns that criteria compare: each kept row by row. */
  names: string[];
  /** Those of them whose values are numbers: banded, or taken as a range by a criterion. */
  numeric: Set<string>;
  /** By column, of declared conditions. */
  values: Map<string, ConditionValues>;
  /** Columns whose name ends in their unit, as people like to leave it out, with that unit. */
  withUnit: Map<string, string>;
  /** By bare name: the column of the condition whose label it is, with its unit where it has one. */
  labels: Map<string, string>;
}

/** Of tables in which nothing of facility.yaml stands but its names. */
export const nothingDeclared: DeclaredColumns = {
  names: [],
  numeric: new Set(),
  values: new Map(),
  withUnit: new Map(),
  labels: new Map(),
};

/** What the header of a pass log or a manifest may say besides what the tool itself reads. */
export function declaredColumns(facility: Facility): DeclaredColumns {
  const names = new Set(facility.conditions.map((condition) => condition.column));
  const numeric = new Set<string>();
  const values = new Map<string, ConditionValues>();
  const withUnit = new Map([["rssi_dbm", "dBm"]]);
  const labels = new Map<string, string>();
  for (const condition of facility.conditions) {
    const own = valuesOf(condition);
    values.set(condition.column, own);
    if (own.numeric) numeric.add(condition.column);
    if (condition.unit !== null) withUnit.set(condition.column, condition.unit);
    const label = bareName(`${condition.label ?? ""} ${condition.unit ?? ""}`);
    if (label !== "" && !labels.has(label)) labels.set(label, condition.column);
  }
  for (const criterion of facility.criteria) {
    for (const name of columnsNamedBy(criterion)) names.add(name);
    for (const clause of criterion.where) {
      if (clause.kind === "range" && names.has(clause.column)) numeric.add(clause.column);
    }
  }
  if (facility.compareTags !== null) names.add(facility.compareTags);
  return { names: [...names], numeric, values, withUnit, labels };
}

/** The columns that a criterion names for its measure. */
function columnsNamedBy(criterion: Criterion): string[] {
  const parameters = Object.entries(measures.get(criterion.measure).criterion?.parameters ?? {});
  const named = parameters.filter(([, { namesColumn }]) => namesColumn).map(([key]) => criterion[key]);
  return named.filter((column) => typeof column === "string");
}
