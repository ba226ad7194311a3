import { reservedColumns } from "../pass-log/forms/index.ts";
import { type DeclaredNames, nameOf, type Path, type YamlReport } from "../problems/reports.ts";
import { columnReserved, entryDuplicate, idDuplicate, nameUnusable } from "../problems/yaml.ts";
import type { Entry } from "../yaml/shape.ts";

/* Names that are declared, and that others refer to. */

/** What the sections of facility.yaml declare, for those that refer to it. */
export interface Declared {
  rounds: DeclaredNames;
  readPoints: DeclaredNames;
  columns: DeclaredNames;
  criteria: DeclaredNames;
}

/** Reports entries that share an id, at the second and later ones. */
export function checkUnique<Key extends string>(
  entries: Entry<Record<Key, string>>[],
  key: Key,
  report: YamlReport,
): void {
  const firstLines = new Map<string, number>();
  for (const { value, path } of entries) {
    const place = [...path, key];
    const firstLine = firstLines.get(value[key]);
    if (firstLine === undefined) firstLines.set(value[key], report.places.valueAt(place).line);
    else report.value(place, idDuplicate.with({ key, firstLine }));
  }
}

/** Where something stands, with whom to tell what is wrong with it. */
export interface YamlPlace {
  path: Path;
  report: YamlReport;
}

/** Checks each name of a list, once. */
export function checkNames(
  names: readonly string[],
  { path, report }: YamlPlace,
  check: (entry: Path, name: string) => void,
): void {
  names.forEach((name, i) => {
    if (names.indexOf(name) < i) report.value([...path, i], entryDuplicate.entry());
    else check([...path, i], name);
  });
}

export function checkColumnName(path: Path, column: string, report: YamlReport): void {
  checkName(path, column, report);
  if (reservedColumns.has(column)) report.value(path, columnReserved.with({ column }));
}

/** The logs are read without the blanks around a value, so an id must not need them. */
export function checkName(path: Path, name: string, report: YamlReport): void {
  if (name === name.trim() && !/[\r\n]/.test(name) && name !== "__proto__") return;
  report.value(path, nameUnusable.with({ name, key: nameOf(path) }));
}
