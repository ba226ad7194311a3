import { measures } from "../../measures/index.ts";
import type { Criterion, Facility } from "../../model/facility.ts";

/** What facility.yaml says about the columns of logs and manifests. */
export interface Vocabulary {
  /** Conditions and the columns that criteria compare: each kept row by row. */
  columns: string[];
  /** Those of them whose values are numbers: banded, or taken as a range by a criterion. */
  numeric: Set<string>;
  /** Edges by column. */
  bands: Map<string, number[]>;
  /** Columns whose name ends in their unit, as people like to leave it out. */
  withUnit: Set<string>;
}

export function vocabularyOf(facility: Facility): Vocabulary {
  const columns = new Set(facility.conditions.map((condition) => condition.column));
  const numeric = new Set<string>();
  const bands = new Map<string, number[]>();
  const withUnit = new Set(["rssi_dbm"]);
  for (const condition of facility.conditions) {
    if (condition.bands !== null) {
      numeric.add(condition.column);
      bands.set(condition.column, condition.bands);
    }
    if (condition.unit !== null) withUnit.add(condition.column);
  }
  for (const criterion of facility.criteria) {
    for (const column of comparedColumns(criterion)) columns.add(column);
    for (const clause of criterion.where) {
      if (clause.kind === "range" && columns.has(clause.column)) numeric.add(clause.column);
    }
  }
  return { columns: [...columns], numeric, bands, withUnit };
}

/** The columns that a criterion names for its measure. */
function comparedColumns(criterion: Criterion): string[] {
  const parameters = Object.entries(measures.get(criterion.measure).criterion?.parameters ?? {});
  const named = parameters.filter(([, { namesColumn }]) => namesColumn).map(([key]) => criterion[key]);
  return named.filter((column) => typeof column === "string");
}
