import { byCodePoint, stableBy } from "../../model/order.ts";
import { causeKey, foundMore, type Problem } from "../../model/problem.ts";
import type { FullText } from "./card/problem.ts";
import { printable } from "./card/wording.ts";

/** How many problems of one cause are listed; the rest are counted. */
export const mostOfACause = 1000;
/** How many causes of one kind are told apart; a kind that has more is one cause from there on. */
const mostCausesOfAKind = 200;

/** Where in a CSV file something stands, before lines are known. */
export interface CsvPlace {
  /** The byte at which the record starts. */
  record: number;
  /** The field's index in the record; null for the whole record. */
  field: number | null;
}

/** Where something stands: in a file as a whole, at a line of it, or at a record of a CSV file. */
type Place =
  | { file: string | null; sheet?: string; line?: undefined; column?: undefined; record?: undefined }
  | { file: string; sheet?: string; line: number; column: number; record?: undefined }
  | ({ file: string; sheet?: undefined; line?: undefined; column?: undefined } & CsvPlace);

/** A problem at its place, as far as that is known. Whatever it quotes: no message steers the terminal that shows it. */
export function placedProblem(
  place: {
    facility: string | null;
    file?: string | null;
    sheet?: string | undefined;
    line?: number | undefined;
    column?: number | undefined;
  },
  { severity, code, found, expected, advice }: FullText,
): Problem {
  const { facility, file = null, sheet, line = null, column = null } = place;
  return {
    severity,
    code,
    facility,
    file,
    ...(sheet === undefined ? {} : { sheet: printable(sheet) }),
    line,
    column,
    found: printable(found),
    expected: printable(expected),
    advice: printable(advice),
  };
}

interface Entry {
  problem: Problem;
  place: CsvPlace | null;
}

interface Cause {
  entries: Entry[];
  beyond: number;
  /** The files of what is not listed. */
  beyondIn: Set<string | null>;
}

/** Collects the problems of one facility: every one is counted, so many of a cause are listed, in a fixed order. */
export class ProblemList {
  readonly facility: string | null;
  readonly #causes = new Map<string, Cause>();
  /** By code: how many causes it has. */
  readonly #causesOfKind = new Map<string, number>();
  #errors = 0;

  constructor(facility: string | null) {
    this.facility = facility;
  }

  get hasErrors(): boolean {
    return this.#errors > 0;
  }

  report(place: Place, text: FullText): void {
    if (text.severity === "error") this.#errors += 1;
    const problem = placedProblem({ facility: this.facility, ...place }, text);
    const cause = this.#causeOf(problem);
    if (cause.entries.length >= mostOfACause) {
      cause.beyond += 1;
      cause.beyondIn.add(place.file);
    } else cause.entries.push({ problem, place: place.record === undefined ? null : place });
  }

  #causeOf(problem: Problem): Cause {
    const known = this.#causes.get(causeKey(problem));
    if (known !== undefined) return known;
    const { code } = problem;
    const ofKind = this.#causesOfKind.get(code) ?? 0;
    const key = ofKind < mostCausesOfAKind ? causeKey(problem) : code;
    const cause = this.#causes.get(key) ?? { entries: [], beyond: 0, beyondIn: new Set() };
    if (!this.#causes.has(key)) this.#causesOfKind.set(code, ofKind + 1);
    this.#causes.set(key, cause);
    return cause;
  }

  /** The places in CSV files that still want a line, by file. */
  openPlaces(): Map<string, CsvPlace[]> {
    const open = new Map<string, CsvPlace[]>();
    for (const { entries } of this.#causes.values()) {
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
    for (const { entries, beyond, beyondIn } of this.#causes.values()) {
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
        file: beyondIn.size === 1 ? [...beyondIn][0]! : null,
        line: null,
        column: null,
        found: foundMore(last.problem.found, beyond),
        count: beyond,
      });
    }
    return problems
      .map((each) => ({ ...each, file: each.file === null ? null : printable(each.file) }))
      .sort(byPlace);
  }
}

const byPlace = stableBy<Problem>(
  (a, b) => byCodePoint(a.file ?? "", b.file ?? ""),
  (a, b) => byCodePoint(a.sheet ?? "", b.sheet ?? ""),
  // What concerns a whole file, or counts the rest of a kind, follows what has a line.
  (a, b) => (a.line ?? Number.MAX_SAFE_INTEGER) - (b.line ?? Number.MAX_SAFE_INTEGER),
  (a, b) => (a.column ?? Number.MAX_SAFE_INTEGER) - (b.column ?? Number.MAX_SAFE_INTEGER),
  (a, b) => byCodePoint(a.code, b.code),
);
