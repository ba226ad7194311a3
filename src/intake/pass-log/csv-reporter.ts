import type { ProblemList } from "../problem-list.ts";
import { quoted } from "../quotation.ts";

/** Says what is wrong in one CSV file, at a record and field whose line is looked up later. */
export class CsvReporter {
  readonly file: string;
  readonly problems: ProblemList;
  /** The names in the header, for messages that say which column a value stands in. */
  names: readonly string[] = [];

  constructor(file: string, problems: ProblemList) {
    this.file = file;
    this.problems = problems;
  }

  error(
    record: number,
    field: number | null,
    code: string,
    found: string,
    expected: string,
    advice: string,
  ): void {
    this.problems.addInCsv(
      this.file,
      { record, field },
      { severity: "error", code, found, expected, advice },
    );
  }

  warning(
    record: number,
    field: number | null,
    code: string,
    found: string,
    expected: string,
    advice: string,
  ): void {
    this.problems.addInCsv(
      this.file,
      { record, field },
      { severity: "warning", code, found, expected, advice },
    );
  }

  /** About the value of one cell. */
  cell(record: number, field: number, code: string, value: string, expected: string, advice: string): void {
    this.error(record, field, code, `${this.names[field] ?? "column"} = ${quoted(value)}`, expected, advice);
  }

  /** About the file as a whole. */
  whole(severity: "error" | "warning", code: string, found: string, expected: string, advice: string): void {
    this.problems.add(this.file, null, { severity, code, found, expected, advice });
  }
}
