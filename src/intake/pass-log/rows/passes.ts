import type { DateOrder, Facility } from "../../../model/facility.ts";
import { trimmed } from "../../csv/cells.ts";
import { inOrder, orderOf, type UnorderedTime, unorderedTime } from "../../csv/date-order.ts";
import type { CsvRecord } from "../../csv/records.ts";
import type { Instant, Times } from "../../csv/times.ts";
import {
  dateOrderTaken,
  dateOrderUnclear,
  passBlank,
  passContradictsItself,
  passInTwoFiles,
  readPointBlank,
  readPointUnknown,
  roundBlank,
  roundUnknown,
  voidReasonUnclear,
} from "../../problems/pass-log.ts";
import type { LogFile } from "./log-form.ts";
import type { Manifest } from "./manifest.ts";

/** A pass as its log tells it. */
export interface LogPass {
  number: number;
  /** Numbers of the facility's round and read point; -1 where the log names none that is known, which is an error. */
  round: number;
  readPoint: number;
  id: string;
  file: LogFile;
  /** Byte at which its first record starts. */
  at: number;
  startedAt: StatedTime | null;
  endedAt: StatedTime | null;
  voidReasons: Set<string> | null;
  walkedBy: Set<string> | null;
  notes: Set<string> | null;
  /** By undeclared column. */
  extras: Map<string, Set<string>> | null;
  straysRecorded: boolean;
  tallyStrays: number | null;
  rssiRecorded: boolean;
  /** Whether it lists missed tags, and lists none, not even the word. */
  isMissedBlank: boolean;
  manifest: Manifest | null;
  /** Whether its load could not be read, which is an error: then its rows say only how it was made. */
  isLoadUnknown: boolean;
}

/** A time, with the byte at which the record starts that states it. */
interface StatedTime {
  time: Instant;
  at: number;
}

/** Whether it counts: nobody gave a reason to void it. */
export function isValid({ voidReasons }: Pick<LogPass, "voidReasons">): boolean {
  return voidReasons === null;
}

/** Whether the reader's own log says what was read. */
export function isTimed({ file }: Pick<LogPass, "file">): boolean {
  return file.form.readsFrom === "reader-log";
}

function newPass(place: Pick<LogPass, "number" | "round" | "readPoint" | "id" | "file" | "at">): LogPass {
  return {
    ...place,
    startedAt: null,
    endedAt: null,
    voidReasons: null,
    walkedBy: null,
    notes: null,
    extras: null,
    straysRecorded: false,
    tallyStrays: null,
    rssiRecorded: false,
    isMissedBlank: false,
    manifest: null,
    isLoadUnknown: false,
  };
}

/** Stands in for the pass of a record that names none, so that the rest of the record is still looked at. */
export function placeholderPass(file: LogFile, at: number): LogPass {
  return newPass({ number: -1, round: -1, readPoint: -1, id: "", file, at });
}

/** All passes of a facility, known by round, read point and id together. */
export class PassBook {
  readonly passes: LogPass[] = [];
  readonly #byPlace = new Map<number, Map<string, LogPass>>();
  readonly #unplaced = new Map<string, LogPass>();

  find(round: number, readPoint: number, id: string): LogPass | undefined {
    return this.#idsAt(round, readPoint).get(id);
  }

  open(place: Omit<Parameters<typeof newPass>[0], "number">): LogPass {
    const pass = newPass({ ...place, number: this.passes.length });
    this.passes.push(pass);
    this.#idsAt(pass.round, pass.readPoint).set(pass.id, pass);
    return pass;
  }

  /** Takes over a pass of another book. */
  adopt(pass: LogPass): void {
    pass.number = this.passes.length;
    this.passes.push(pass);
    this.#idsAt(pass.round, pass.readPoint).set(pass.id, pass);
  }

  /** A pass whose round or read point is not known, by the names that its log gives: its rows are looked at all the same. */
  unplaced(names: readonly string[], place: Omit<Parameters<typeof newPass>[0], "number">): LogPass {
    const key = names.join("\u0000");
    const known = this.#unplaced.get(key);
    if (known !== undefined) return known;
    const pass = newPass({ ...place, number: this.passes.length });
    this.passes.push(pass);
    this.#unplaced.set(key, pass);
    return pass;
  }

  #idsAt(round: number, readPoint: number): Map<string, LogPass> {
    const place = round * 2 ** 20 + readPoint;
    let ids = this.#byPlace.get(place);
    if (ids === undefined) {
      ids = new Map();
      this.#byPlace.set(place, ids);
    }
    return ids;
  }
}

/** How many rows of a log without the columns that name the pass are looked at: what is wrong with them soon repeats. */
const mostNamelessRows = 10_000;

/** Finds the pass that a record belongs to. Consecutive records of one pass cost three comparisons. */
export class PassFinder {
  readonly #file: LogFile;
  readonly #book: PassBook;
  readonly #rounds: Map<string, number>;
  readonly #readPoints: Map<string, number>;
  readonly #roundField: number;
  readonly #pointField: number;
  readonly #passField: number;
  readonly #reported = new Set<LogPass>();
  /** Whether the rounds and read points of the facility are known. */
  readonly #isFacilityKnown: boolean;
  /** Whether the header has the columns that name a pass. */
  readonly #isNamed: boolean;
  #nameless = 0;
  #lastRound: string | undefined;
  #lastPoint: string | undefined;
  #lastId: string | undefined;
  #last: LogPass | null = null;

  constructor(
    file: LogFile,
    book: PassBook,
    { facility, isFacilityKnown }: { facility: Facility; isFacilityKnown: boolean },
  ) {
    this.#file = file;
    this.#book = book;
    this.#isFacilityKnown = isFacilityKnown;
    this.#rounds = numbersOf(facility.rounds);
    this.#readPoints = numbersOf(facility.readPoints);
    const { fields } = file.header;
    this.#roundField = fields.get("round") ?? -1;
    this.#pointField = fields.get("read_point") ?? -1;
    this.#passField = fields.get("pass") ?? -1;
    this.#isNamed =
      this.#pointField >= 0 && this.#passField >= 0 && (this.#roundField >= 0 || this.#rounds.size === 1);
  }

  /** The pass, opened where it is new; null, with the reason reported, where the record names none. */
  passOf(record: CsvRecord): LogPass | null {
    if (!this.#isNamed) return this.#namelessPass(record.at);
    const { cells } = record;
    const round = this.#roundField < 0 ? "" : cells[this.#roundField]!;
    const point = cells[this.#pointField]!;
    const id = cells[this.#passField]!;
    if (
      this.#last !== null &&
      id === this.#lastId &&
      point === this.#lastPoint &&
      round === this.#lastRound
    ) {
      return this.#last;
    }
    const found = this.#find({ round: trimmed(round), point: trimmed(point), id: trimmed(id) }, record.at);
    // What is wrong with a name is told of each row that has it.
    if (found !== null && (found.round < 0 || found.readPoint < 0)) return found;
    this.#last = found;
    this.#lastRound = round;
    this.#lastPoint = point;
    this.#lastId = id;
    return this.#last;
  }

  #find(named: { round: string; point: string; id: string }, at: number): LogPass | null {
    const { id } = named;
    const round = this.#round(named.round, at);
    const readPoint = this.#readPoint(named.point, at);
    const place = { record: at, field: this.#passField, value: id };
    if (id === "") this.#file.report.cell(place, passBlank);
    if (id === "") return null;
    if (round < 0 || readPoint < 0) {
      const names = [this.#file.report.file, named.round, named.point, id];
      return this.#book.unplaced(names, { round, readPoint, id, file: this.#file, at });
    }
    const known = this.#book.find(round, readPoint, id);
    if (known === undefined) return this.#book.open({ round, readPoint, id, file: this.#file, at });
    if (known.file === this.#file) return known;
    if (!this.#reported.has(known)) {
      const { form, sheet } = known.file;
      const isTwoKinds = form.readsFrom !== this.#file.form.readsFrom;
      const said = isTwoKinds ? passInTwoFiles.withReader : passInTwoFiles.with;
      this.#file.report.cell(place, said({ path: sheet.path, form: form.id }));
    }
    this.#reported.add(known);
    return null;
  }

  /** The header lacks a column that names passes, which has been reported: each row stands for itself. */
  #namelessPass(at: number): LogPass | null {
    this.#nameless += 1;
    if (this.#nameless > mostNamelessRows) return null;
    const names = [this.#file.report.file, String(at)];
    return this.#book.unplaced(names, { round: -1, readPoint: -1, id: "", file: this.#file, at });
  }

  #round(name: string, at: number): number {
    if (!this.#isFacilityKnown) return -1;
    if (name === "" && this.#rounds.size === 1) return 0;
    const number = this.#rounds.get(name);
    if (number !== undefined) return number;
    const known = [...this.#rounds.keys()];
    const place = { record: at, field: this.#roundField, value: name };
    this.#file.report.cell(
      place,
      name === "" ? roundBlank.with({ known }) : roundUnknown.with({ name, known }),
    );
    return -1;
  }

  #readPoint(name: string, at: number): number {
    if (!this.#isFacilityKnown) return -1;
    const number = this.#readPoints.get(name);
    if (number !== undefined) return number;
    const known = [...this.#readPoints.keys()];
    const place = { record: at, field: this.#pointField, value: name };
    this.#file.report.cell(
      place,
      name === "" ? readPointBlank.with({ known }) : readPointUnknown.with({ name, known }),
    );
    return -1;
  }
}

function numbersOf(entries: { id: string }[]): Map<string, number> {
  return new Map(entries.map(({ id }, number) => [id, number]));
}

interface StatedText {
  pass: LogPass;
  end: "startedAt" | "endedAt";
  text: string;
  place: { record: number; field: number };
}

interface WaitingTime extends StatedText {
  time: UnorderedTime;
}

interface PassColumn {
  field: number;
  /** The cell of the last record: most repeat it. */
  last: string;
  keep(pass: LogPass, text: string, place: { record: number; field: number }): void;
}

/** What people write who take `void_reason` for a yes-or-no question. */
const answer = /^(?:yes|no|y|n|true|false|0|1|none|nil|n\/a|-+)$/i;

/** The columns that speak of the pass as a whole: they may stand in any of its rows, and must not contradict. */
export class PassCells {
  readonly #file: LogFile;
  readonly #times: Times;
  readonly #columns: PassColumn[] = [];
  readonly #dateOrder: DateOrder | null;
  /** Times that wait for the whole column to tell their day from their month, each once for a pass. */
  readonly #waiting = new Map<string, WaitingTime>();
  #lastPass: LogPass | null = null;

  /** @param dateOrder null where the dates themselves must tell */
  constructor(file: LogFile, times: Times, dateOrder: DateOrder | null) {
    this.#file = file;
    this.#times = times;
    this.#dateOrder = dateOrder;
    this.#column("started_at", (pass, text, place) =>
      this.#keepTime({ pass, end: "startedAt", text, place }),
    );
    this.#column("ended_at", (pass, text, place) => this.#keepTime({ pass, end: "endedAt", text, place }));
    this.#column("void_reason", (pass, text, place) => {
      if (answer.test(text)) file.report.cell({ ...place, value: text }, voidReasonUnclear);
      pass.voidReasons = withText(pass.voidReasons, text);
    });
    this.#column("walked_by", (pass, text) => {
      pass.walkedBy = withText(pass.walkedBy, text);
    });
    this.#column("note", (pass, text) => {
      pass.notes = withText(pass.notes, text);
    });
    for (const { name, field } of file.header.extras) {
      this.#columns.push({ field, last: "", keep: (pass, text) => keepExtra(pass, name, text) });
    }
  }

  #column(name: string, keep: PassColumn["keep"]): void {
    const field = this.#file.header.fields.get(name);
    if (field !== undefined) this.#columns.push({ field, last: "", keep });
  }

  /** Adds to the pass what the record says of it. */
  note(pass: LogPass, { cells, at }: CsvRecord): void {
    if (pass !== this.#lastPass) for (const column of this.#columns) column.last = "";
    this.#lastPass = pass;
    for (const column of this.#columns) {
      const cell = cells[column.field]!;
      if (cell === "" || cell === column.last) continue;
      column.last = cell;
      const text = trimmed(cell);
      if (text !== "") column.keep(pass, text, { record: at, field: column.field });
    }
  }

  #keepTime(stated: StatedText): void {
    const { pass, end, text, place } = stated;
    const time = unorderedTime(text);
    if (time === null) this.#setTime(stated, text);
    else {
      const key = `${pass.number} ${end} ${pass.number < 0 ? place.record : ""} ${text}`;
      if (!this.#waiting.has(key)) this.#waiting.set(key, { ...stated, time });
    }
  }

  /** Settles what waited for the end of the file. */
  finish(): void {
    const waiting = [...this.#waiting.values()];
    const first = waiting[0];
    if (first === undefined) return;
    const { report } = this.#file;
    const found = this.#dateOrder ?? orderOf(waiting.map(({ time }) => time));
    const times = waiting.length;
    const { text } = first;
    const at = { ...first.place, value: text };
    if (found === "either") {
      const dayFirst = inOrder(first.time, "day-first").slice(0, 10);
      const monthFirst = inOrder(first.time, "month-first").slice(0, 10);
      report.cell(at, dateOrderUnclear.either({ text, times, dayFirst, monthFirst }));
    } else if (found === "neither") {
      const dayFirst = waiting.find(({ time }) => time.first > 12)!;
      const monthFirst = waiting.find(({ time }) => time.second > 12)!;
      const place = { ...monthFirst.place, value: monthFirst.text };
      report.cell(place, dateOrderUnclear.neither({ other: dayFirst.text }));
    } else {
      if (this.#dateOrder === null) report.cell(at, dateOrderTaken.with({ order: found, times }));
      for (const each of waiting) this.#setTime(each, inOrder(each.time, found));
    }
  }

  #setTime({ pass, end, text, place }: StatedText, inForm: string): void {
    const { report } = this.#file;
    const time = this.#times.read(inForm);
    const earlier = pass[end];
    if (!("epochUs" in time)) report.cell({ ...place, value: text }, time);
    else if (earlier === null) pass[end] = { time, at: place.record };
    else if (earlier.time.epochUs !== time.epochUs) {
      const facts = { earlier: earlier.time.local, pass: pass.id };
      report.cell({ ...place, value: text }, passContradictsItself.inTime(facts));
    }
  }
}

export function withText(texts: Set<string> | null, text: string): Set<string> {
  return texts === null ? new Set([text]) : texts.add(text);
}

export function keepExtra(pass: LogPass, name: string, text: string): void {
  pass.extras ??= new Map();
  pass.extras.set(name, withText(pass.extras.get(name) ?? null, text));
}
