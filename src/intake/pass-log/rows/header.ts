import { measures } from "../../../measures/index.ts";
import { type ConditionValues, valuesOf } from "../../../model/conditions.ts";
import type { Criterion, Facility } from "../../../model/facility.ts";
import { trimmed } from "../../csv/cells.ts";
import type { CsvRecord } from "../../csv/records.ts";
import { columnDuplicate, columnMisspelt, columnUndeclared, columnUnnamed } from "../../problems/csv-file.ts";
import type { CsvReport } from "../../problems/reports.ts";
import { folded, nearMiss } from "../../problems/wording.ts";

/** What facility.yaml says about the columns of logs and manifests. */
export interface DeclaredColumns {
  /** Conditions and the columns that criteria compare: each kept row by row. */
  names: string[];
  /** Those of them whose values are numbers: banded, or taken as a range by a criterion. */
  numeric: Set<string>;
  /** By column, of declared conditions. */
  values: Map<string, ConditionValues>;
  /** Columns whose name ends in their unit, as people like to leave it out. */
  withUnit: Set<string>;
}

export function declaredColumns(facility: Facility): DeclaredColumns {
  const names = new Set(facility.conditions.map((condition) => condition.column));
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
    for (const name of columnsNamedBy(criterion)) names.add(name);
    for (const clause of criterion.where) {
      if (clause.kind === "range" && names.has(clause.column)) numeric.add(clause.column);
    }
  }
  return { names: [...names], numeric, values, withUnit };
}

/** The columns that a criterion names for its measure. */
function columnsNamedBy(criterion: Criterion): string[] {
  const parameters = Object.entries(measures.get(criterion.measure).criterion?.parameters ?? {});
  const named = parameters.filter(([, { namesColumn }]) => namesColumn).map(([key]) => criterion[key]);
  return named.filter((column) => typeof column === "string");
}

export interface Header {
  /** Byte at which its record starts. */
  at: number;
  /** Fields that a record must have; blank ones at the end are not counted. */
  width: number;
  /** Field by column name. */
  fields: Map<string, number>;
  /** Columns that nobody declared. */
  extras: { name: string; field: number }[];
}

/**
 * Reads a header. A name that is nearly right is objected to and then taken as what it was meant to be, so that one slip
 * does not bring a hundred others with it.
 *
 * @param own columns that the tool itself reads
 */
export function readHeader(
  { cells, at }: CsvRecord,
  own: readonly string[],
  declared: DeclaredColumns,
  report: CsvReport,
): Header {
  const names = cells.map(trimmed);
  while (names.at(-1) === "") names.pop();
  report.names = names;
  const known = new Set([...own, ...declared.names]);
  const header: Header = { at, width: names.length, fields: new Map(), extras: [] };
  const meantBy = suggester(names, known, declared.withUnit);
  const extras = new Map<string, number>();
  for (const [field, written] of names.entries()) {
    const place = { record: at, field };
    if (written === "") {
      report.at(place, columnUnnamed.with({ number: field + 1 }));
      continue;
    }
    const meant = known.has(written) ? written : meantBy(written);
    if (meant !== null && meant !== written) {
      report.at(place, columnMisspelt.with({ written, meant, known: [...known].sort() }));
    }
    const name = meant ?? written;
    const fields = meant === null ? extras : header.fields;
    const first = fields.get(name);
    if (first !== undefined) report.at(place, columnDuplicate.with({ name, first: first + 1 }));
    else fields.set(name, field);
  }
  header.extras = [...extras].map(([name, field]) => ({ name, field }));
  return header;
}

/** Says which known column a name is meant to be; null where it resembles none that is missing. */
function suggester(
  names: readonly string[],
  known: ReadonlySet<string>,
  withUnit: ReadonlySet<string>,
): (written: string) => string | null {
  const missing = [...known].filter((name) => !names.includes(name));
  return (written) => {
    const word = folded(written);
    return (
      [...known].find((name) => folded(name) === word) ??
      [...withUnit].find((name) => missing.includes(name) && folded(name).startsWith(`${word}_`)) ??
      nearMiss(written, missing)
    );
  };
}

/**
 * Remarks on the columns that nobody declared.
 *
 * @param file what it is: `pass log`
 */
export function remarkOnExtras({ at, extras }: Header, file: string, report: CsvReport): void {
  for (const { name, field } of extras) {
    report.at({ record: at, field }, columnUndeclared.with({ name, file }));
  }
}
