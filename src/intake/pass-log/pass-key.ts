import { listing } from "../quotation.ts";
import { didYouMean } from "../suggestion.ts";
import { trimmed } from "./cells.ts";
import type { LogContext, LogFile } from "./log-context.ts";
import type { OpenPass } from "./pass-book.ts";

/** Finds the pass that a record belongs to. Consecutive records of one pass cost three comparisons. */
export class PassKey {
  readonly #context: LogContext;
  readonly #file: LogFile;
  readonly #roundField: number;
  readonly #pointField: number;
  readonly #passField: number;
  readonly #rounds: Map<string, number>;
  readonly #points: Map<string, number>;
  readonly #blamed = new Set<OpenPass>();
  #lastRound: string | undefined;
  #lastPoint: string | undefined;
  #lastPass: string | undefined;
  #last: OpenPass | null = null;

  constructor(context: LogContext, file: LogFile) {
    this.#context = context;
    this.#file = file;
    this.#roundField = file.header.fields.get("round") ?? -1;
    this.#pointField = file.header.fields.get("read_point")!;
    this.#passField = file.header.fields.get("pass")!;
    this.#rounds = new Map(context.facility.rounds.map((round, i) => [round.id, i]));
    this.#points = new Map(context.facility.readPoints.map((point, i) => [point.id, i]));
  }

  /** The pass, opened where it is new; null, with the reason reported, where there is none to be had. */
  passOf(record: string[], ordinal: number): OpenPass | null {
    const round = this.#roundField < 0 ? undefined : record[this.#roundField];
    const point = record[this.#pointField]!;
    const id = record[this.#passField]!;
    if (
      this.#last !== null &&
      id === this.#lastPass &&
      point === this.#lastPoint &&
      round === this.#lastRound
    ) {
      return this.#last;
    }
    const pass = this.#find(trimmed(round ?? ""), trimmed(point), trimmed(id), ordinal);
    this.#last = pass;
    this.#lastRound = round;
    this.#lastPoint = point;
    this.#lastPass = id;
    return pass;
  }

  #find(round: string, point: string, id: string, ordinal: number): OpenPass | null {
    const roundIndex = this.#roundOf(round, ordinal);
    const pointIndex = this.#pointOf(point, ordinal);
    if (id === "") {
      this.#file.report.cell(
        ordinal,
        this.#passField,
        "pass-blank",
        id,
        "the name of the pass",
        "Give each pass a name, P1 say; rows of one pass share it.",
      );
    }
    if (roundIndex < 0 || pointIndex < 0 || id === "") return null;
    const known = this.#context.passes.find(roundIndex, pointIndex, id);
    if (known === undefined) {
      const { form, index } = this.#file;
      return this.#context.passes.open(roundIndex, pointIndex, id, form, index, ordinal);
    }
    if (known.file === this.#file.index) return known;
    if (!this.#blamed.has(known)) {
      this.#blamed.add(known);
      const other = this.#context.files[known.file]!;
      this.#file.report.cell(
        ordinal,
        this.#passField,
        "pass-in-two-files",
        id,
        "a pass in one log only",
        `The pass already stands in ${other.path} (${other.form} form): keep one of the two, or rename this one.`,
      );
    }
    return null;
  }

  #roundOf(name: string, ordinal: number): number {
    const { rounds } = this.#context.facility;
    if (name === "" && rounds.length === 1) return 0;
    const index = this.#rounds.get(name);
    if (index !== undefined) return index;
    const ids = rounds.map((round) => round.id);
    this.#file.report.cell(
      ordinal,
      this.#roundField,
      name === "" ? "round-blank" : "round-unknown",
      name,
      `the id of a round: ${listing(ids)}`,
      name === ""
        ? "Say which round the pass belongs to."
        : `${didYouMean(name, ids)}Correct it, or add the round to facility.yaml.`,
    );
    return -1;
  }

  #pointOf(name: string, ordinal: number): number {
    const index = this.#points.get(name);
    if (index !== undefined) return index;
    const ids = this.#context.facility.readPoints.map((point) => point.id);
    this.#file.report.cell(
      ordinal,
      this.#pointField,
      name === "" ? "read-point-blank" : "read-point-unknown",
      name,
      ids.length === 0
        ? "a read point of facility.yaml, which lists none"
        : `the id of a read point: ${listing(ids)}`,
      name === ""
        ? "Say which read point was passed."
        : `${didYouMean(name, ids)}Correct it, or add the read point to facility.yaml.`,
    );
    return -1;
  }
}

/** Objects to a second row of a pass in the forms that have one row a pass. */
export function refuseRepeat(pass: OpenPass, ordinal: number, file: LogFile): boolean {
  if (pass.record === ordinal) return false;
  file.report.cell(
    ordinal,
    file.header.fields.get("pass")!,
    "pass-twice",
    pass.id,
    `one row a pass in a ${file.form} log`,
    "An earlier row has the same round, read point and pass: rename this one or remove the row.",
  );
  return true;
}
