import { byCodePoint, stableBy } from "../../model/order.ts";
import type { Problem } from "../../model/problem.ts";
import type { FullText } from "./problem.ts";
import { printable } from "./wording.ts";

/** How many problems of one kind in one file are listed; the rest are counted. */
const mostOfAKind = 50;

/** Where in a CSV file something stands, before lines are known. */
export interface CsvPlace {
  /** The byte at which the record starts. */
  record: number;
  /** The field's index in the record; null for the whole record. */
  field: number | null;
}

/** Where something stands: in a file as a whole, at a line of it, or at a record of a CSV file. */
type Place =
  | { file: string | null; line?: undefined; column?: undefined; record?: undefined }
  | { file: string; line: number; column: number; record?: undefined }
  | ({ file: string; line?: undefined; column?: undefined } & CsvPlace);

interface Entry {
  problem: Problem;
  place: CsvPlace | null;
}

interface Kind {
  entries: Entry[];
  beyond: number;
}

/** Collects the problems of one facility: every one is counted, so many of a kind are listed, in a fixed order. */
export class ProblemList {
  readonly facility: string | null;
  readonly #kinds = new Map<string, Kind>();
  #errors = 0;

  constructor(facility: string | null) {
    this.facility = facility;
  }

  get hasErrors(): boolean {
    return this.#errors > 0;
  }

  report(place: Place, { severity, code, found, expected, advice }: FullText): void {
    if (severity === "error") this.#errors += 1;
    const { file, line = null, column = null } = place;
    const key = `${file ?? ""}\u0000${code}`;
    let kind = this.#kinds.get(key);
    if (kind === undefined) {
      kind = { entries: [], beyond: 0 };
      this.#kinds.set(key, kind);
    }
    if (kind.entries.length >= mostOfAKind) {
      kind.beyond += 1;
      return;
    }
    const { facility } = this;
    // Whatever was quoted, and wherever: no message steers the terminal that shows it.
    const words = {
      found: printable(found),
      expected: printable(expected),
      advice: printable(advice),
    };
    const problem = { severity, code, facility, file, line, column, ...words };
    kind.entries.push({ problem, place: place.record === undefined ? null : place });
  }

  /** The places in CSV files that still want a line, by file. */
  openPlaces(): Map<string, CsvPlace[]> {
    const open = new Map<string, CsvPlace[]>();
    for (const { entries } of this.#kinds.values()) {
      for (const { problem, place } of entries) {
        if (place === null || problem.file === null) continue;
        const places = open.get(problem.file);
        if (places === undefined) open.set(problem.file, [place]);
        else places.push(place);
      }
    }
    return open;
  }

  /**
   * Everything in the order of file, line, column and kind.
   *
   * @param lineOf turns a place into a line and column; null where it cannot be found again
   */
  sorted(lineOf: (file: string, place: CsvPlace) => { line: number; column: number } | null): Problem[] {
    const problems: Problem[] = [];
    for (const { entries, beyond } of this.#kinds.values()) {
      for (const { problem, place } of entries) {
        if (place === null || problem.file === null) {
          problems.push(problem);
          continue;
        }
        const at = lineOf(problem.file, place);
        problems.push({ ...problem, line: at?.line ?? null, column: at?.column ?? null });
      }
      const last = entries.at(-1);
      if (beyond === 0 || last === undefined) continue;
      problems.push({
        ...last.problem,
        line: null,
        column: null,
        found: `and ${beyond} more of the same kind`,
        expected: last.problem.expected,
        advice: `The first ${entries.length} are listed; the rest will show once they are put right.`,
      });
    }
    return problems
      .map((each) => ({ ...each, file: each.file === null ? null : printable(each.file) }))
      .sort(byPlace);
  }
}

const byPlace = stableBy<Problem>(
  (a, b) => byCodePoint(a.file ?? "", b.file ?? ""),
  // What concerns a whole file, or counts the rest of a kind, follows what has a line.
  (a, b) => (a.line ?? Number.MAX_SAFE_INTEGER) - (b.line ?? Number.MAX_SAFE_INTEGER),
  (a, b) => (a.column ?? Number.MAX_SAFE_INTEGER) - (b.column ?? Number.MAX_SAFE_INTEGER),
  (a, b) => byCodePoint(a.code, b.code),
);
