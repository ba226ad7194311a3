import type { FullText, ProblemText } from "./card/problem.ts";
import { quoted } from "./card/wording.ts";
import type { CsvPlace, ProblemList } from "./problem-list.ts";
import { referenceUnknown } from "./yaml.ts";

/** Reports what is wrong in one CSV file; the lines of its records are looked up later. */
export class CsvReport {
  readonly file: string;
  readonly problems: ProblemList;
  /** The names in the header, for messages that say which column a value stands in. */
  names: readonly string[] = [];

  constructor(file: string, problems: ProblemList) {
    this.file = file;
    this.problems = problems;
  }

  /** About the value of a cell, which is shown where the problem does not say what was found. */
  cell(
    { record, field, value }: { record: number; field: number; value: string },
    problem: ProblemText,
  ): void {
    const found = problem.found ?? `${this.names[field] ?? "column"} = ${quoted(value)}`;
    this.at({ record, field }, { ...problem, found });
  }

  /** About a record, or a field of it. */
  at(place: CsvPlace, problem: FullText): void {
    this.problems.report({ file: this.file, ...place }, problem);
  }

  /** About the file as a whole. */
  whole(problem: FullText): void {
    this.problems.report({ file: this.file }, problem);
  }
}

/** The same for a sheet of a workbook, whose records are placed by their row. */
export class SheetReport extends CsvReport {
  /** The name of the sheet; null before it is known. */
  sheet: string | null = null;
  /** By field: the column of the sheet, from 0. */
  columns: readonly number[] = [];

  override at({ record, field }: CsvPlace, problem: FullText): void {
    this.inCell({ record, column: (this.columns[field ?? 0] ?? field ?? 0) + 1 }, problem);
  }

  /** About a cell by its row and column in the sheet, from 1. */
  inCell({ record, column }: { record: number; column: number }, problem: FullText): void {
    this.problems.report({ file: this.file, line: record, column, ...this.#inSheet() }, problem);
  }

  override whole(problem: FullText): void {
    this.problems.report({ file: this.file, ...this.#inSheet() }, problem);
  }

  #inSheet(): { sheet?: string } {
    return this.sheet === null ? {} : { sheet: this.sheet };
  }
}

/** The keys and list positions that lead to a value of a YAML file. */
export type Path = readonly (string | number)[];

/** Where the values of a YAML file stand, and how they were typed. */
export interface YamlPlaces {
  /** The place of a value; of the nearest one above it where it is missing. */
  valueAt(path: Path): { line: number; column: number };
  /** The place of the key that leads to a value. */
  keyAt(path: Path): { line: number; column: number };
  /** How a scalar was typed; null where it is missing, a list or a map. */
  sourceAt(path: Path): string | null;
}

/** The names that one section of facility.yaml declares. */
export interface DeclaredNames {
  names: ReadonlySet<string>;
  /** `the id of a read point`. */
  what: string;
  section: string;
}

/** Reports what is wrong in facility.yaml, at the value or the key concerned. */
export class YamlReport {
  readonly places: YamlPlaces;
  readonly file: string;
  readonly problems: ProblemList;

  constructor(places: YamlPlaces, file: string, problems: ProblemList) {
    this.places = places;
    this.file = file;
    this.problems = problems;
  }

  /** About a value, which is shown where the problem does not say what was found. */
  value(path: Path, problem: ProblemText): void {
    const source = this.places.sourceAt(path);
    const shown = source === null ? nameOf(path) : `${nameOf(path)}: ${quoted(source)}`;
    this.#report(this.places.valueAt(path), problem, shown);
  }

  /** About a key rather than its value. */
  key(path: Path, problem: ProblemText): void {
    this.#report(this.places.keyAt(path), problem, `the key ${quoted(String(path.at(-1)))}`);
  }

  /** About the file as a whole. */
  whole(problem: FullText): void {
    this.problems.report({ file: this.file }, problem);
  }

  #report(at: { line: number; column: number }, problem: ProblemText, shown: string): void {
    this.problems.report({ file: this.file, ...at }, { ...problem, found: problem.found ?? shown });
  }

  /** Reports a value that is not among the declared names. */
  reference(path: Path, name: string, declared: DeclaredNames): void {
    if (!declared.names.has(name)) this.value(path, referenceUnknown.declared({ name, ...declared }));
  }

  /** The same where the name is a key. */
  keyReference(path: Path, name: string, declared: DeclaredNames): void {
    if (!declared.names.has(name)) this.key(path, referenceUnknown.declared({ name, ...declared }));
  }
}

/** The key a person looks for: read_points[2].at.x is "x", read_points[2] is entry 3 of "read_points". */
export function nameOf(path: Path): string {
  const keys = path.filter((step) => typeof step === "string");
  const last = path.at(-1);
  const key = quoted(String(keys.at(-1) ?? "facility.yaml"));
  return typeof last === "number" ? `entry ${last + 1} of ${key}` : key;
}
