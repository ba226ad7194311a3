import type { CsvPlace, ProblemList } from "../problem-list.ts";
import { quoted } from "../quotation.ts";
import type { FullText, ProblemText } from "./problem.ts";

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
