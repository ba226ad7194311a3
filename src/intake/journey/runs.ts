import { instantText } from "../../model/instants.ts";
import type { Journey, RunRow } from "../../model/journey/journey.ts";
import { byCodePoint, byNaturalOrder, stableBy } from "../../model/order.ts";
import type { InputFile } from "../../model/record/input-file.ts";
import type { CsvRecord } from "../csv/records.ts";
import type { Sheet } from "../csv/sheet.ts";
import { type Instant, Times, utcTime } from "../csv/times.ts";
import { TagCells } from "../pass-log/rows/cells.ts";
import type { ProblemText } from "../problems/card/problem.ts";
import {
  runBlank,
  runCarrierBlank,
  runItemTwice,
  runReversed,
  runsOverlap,
  runVoidInPart,
} from "../problems/journey.ts";
import { roundBlank, roundUnknown } from "../problems/pass-log.ts";
import type { ProblemList } from "../problems/problem-list.ts";
import type { CsvReport } from "../problems/reports.ts";
import type { Header } from "../tables/header.ts";
import { cellOf } from "../tables/header.ts";
import { openSheet } from "../tables/open-sheet.ts";
import { TextTable } from "../tables/text-table.ts";
import type { JourneyDescription } from "./journey-yaml.ts";
import { Codes, journeyHeader } from "./table.ts";

/** What was really sent: the rows of runs.csv. */
export interface Runs {
  /** By round, start, run and tag. */
  rows: PlacedRun[];
  /** Codes of items and carriers as they are written first. */
  tags: string[];
  /** The same as they are compared. */
  codes: string[];
  report: CsvReport;
  input: InputFile;
}

/** A row of the runs, with where it stands. */
export interface PlacedRun extends RunRow {
  /** Byte at which its record starts. */
  at: number;
  /** The field of its tag. */
  tagField: number;
}

/** What a journey's YAML tells of runs.csv. */
type RunsBeside = Pick<JourneyDescription, "journey" | "timeZone" | "areRoundsKnown">;

/** Reads runs.csv; null, with the reason reported, where nothing can be made of it. */
export async function readRuns(
  { path, onDisk }: { path: string; onDisk: string },
  { journey, timeZone, areRoundsKnown }: RunsBeside,
  problems: ProblemList,
): Promise<Runs | null> {
  const sheet = openSheet({ path, onDisk, rowsAre: "runs", sheet: null }, problems);
  const carrier = journey.carrier?.column ?? "carrier";
  const header = await journeyHeader(sheet, {
    own: ["round", "run", "tag", carrier, "started_at", "ended_at", "void_reason", "note"],
    needed: [
      ...(areRoundsKnown && journey.rounds.length > 1 ? ["round"] : []),
      "run",
      "tag",
      ...(journey.carrier === null ? [] : [carrier]),
      "started_at",
      "ended_at",
    ],
    file: "runs.csv",
  });
  if (header === null) {
    await sheet.skipRows();
    return null;
  }
  const reader = new RunReader(sheet, header, { journey, timeZone, areRoundsKnown, carrier });
  for await (const records of sheet.rows(header.width)) for (const record of records) reader.read(record);
  if (sheet.isFaulty) return null;
  return { ...reader.finish(), report: sheet.report, input: { ...sheet.source, ...reader.counts } };
}

class RunReader {
  readonly #report: CsvReport;
  readonly #header: Header;
  readonly #journey: Journey;
  readonly #rounds: Map<string, number>;
  readonly #areRoundsKnown: boolean;
  readonly #times: Times;
  readonly #cells: Record<
    "round" | "run" | "startedAt" | "endedAt" | "voidReason" | "note",
    (record: CsvRecord) => string
  >;
  readonly #tagTexts = new TextTable();
  readonly #tagCells: TagCells;
  readonly #codes = new Codes();
  readonly #numberOfCode = new Map<string, number>();
  readonly #tags: string[] = [];
  readonly #carrier: string;
  readonly #rows: PlacedRun[] = [];
  readonly #met = new Set<string>();
  #carrierless: { rows: number; first: number } | null = null;

  constructor(
    { report }: Sheet,
    header: Header,
    { journey, timeZone, areRoundsKnown, carrier }: RunsBeside & { carrier: string },
  ) {
    this.#report = report;
    this.#header = header;
    this.#journey = journey;
    this.#rounds = new Map(journey.rounds.map(({ id }, number) => [id, number]));
    this.#areRoundsKnown = areRoundsKnown;
    this.#times = new Times(timeZone);
    this.#tagCells = new TagCells(this.#tagTexts, report);
    this.#carrier = carrier;
    this.#cells = {
      round: cellOf(header, "round"),
      run: cellOf(header, "run"),
      startedAt: cellOf(header, "started_at"),
      endedAt: cellOf(header, "ended_at"),
      voidReason: cellOf(header, "void_reason"),
      note: cellOf(header, "note"),
    };
  }

  get counts(): { used: number; void: number } {
    const voids = this.#rows.filter(({ voidReason }) => voidReason !== null).length;
    return { used: this.#rows.length - voids, void: voids };
  }

  read(record: CsvRecord): void {
    const round = this.#round(record);
    const run = this.#filled(record, "run", this.#cells.run(record));
    const tag = this.#tag(record, "tag");
    if (tag < 0) this.#refuse(record, { column: "tag", value: "" }, runBlank.with({ column: "tag" }));
    const start = this.#time(record, "started_at", this.#cells.startedAt(record));
    const end = this.#time(record, "ended_at", this.#cells.endedAt(record));
    if (start !== null && end !== null && end.epochUs < start.epochUs)
      this.#refuse(
        record,
        { column: "ended_at", value: this.#cells.endedAt(record) },
        runReversed.with({ startedAt: instantText(start.epochUs) }),
      );
    if (round < 0 || run === null || tag < 0 || start === null || end === null) return;
    const key = JSON.stringify([round, run, tag]);
    if (this.#met.has(key))
      this.#refuse(record, { column: "tag", value: this.#tags[tag]! }, runItemTwice.with({ run }));
    this.#met.add(key);
    const rule = this.#journey.carrier;
    const carrier = rule === null ? -1 : this.#tag(record, this.#carrier);
    const voidReason = this.#cells.voidReason(record) || null;
    if (rule !== null && carrier < 0 && voidReason === null) {
      this.#carrierless ??= { rows: 0, first: record.at };
      this.#carrierless.rows += 1;
    }
    const note = this.#cells.note(record) || null;
    const tagField = this.#header.fields.get("tag")!;
    const times = { fromUs: start.epochUs, toUs: end.epochUs };
    this.#rows.push({ round, run, tag, carrier, ...times, voidReason, note, at: record.at, tagField });
  }

  finish(): Pick<Runs, "rows" | "tags" | "codes"> {
    const tags = this.#tags;
    const rows = this.#rows.sort(
      stableBy<PlacedRun>(
        (a, b) => a.round - b.round,
        (a, b) => a.fromUs - b.fromUs,
        (a, b) => byNaturalOrder(a.run, b.run),
        (a, b) => byCodePoint(tags[a.tag]!, tags[b.tag]!),
      ),
    );
    this.#remark(rows);
    return { rows, tags, codes: tags.map((tag) => this.#codes.of(tag)) };
  }

  #remark(rows: readonly PlacedRun[]): void {
    if (this.#carrierless !== null) {
      const { rows: count, first } = this.#carrierless;
      const field = this.#header.fields.get(this.#carrier) ?? null;
      this.#report.at({ record: first, field }, runCarrierBlank.with({ column: this.#carrier, rows: count }));
    }
    for (const own of grouped(rows, ({ round, run }) => `${round}\n${run}`).values()) {
      const voids = own.filter(({ voidReason }) => voidReason !== null);
      if (voids.length === 0 || voids.length === own.length) continue;
      const place = { record: voids[0]!.at, field: this.#header.fields.get("void_reason") ?? null };
      const facts = { run: own[0]!.run, voids: voids.length, rows: own.length };
      this.#report.at(place, runVoidInPart.with(facts));
    }
    const valid = rows.filter(({ voidReason }) => voidReason === null);
    for (const own of grouped(valid, ({ tag }) => tag).values()) {
      let before: PlacedRun | null = null;
      for (const row of own.sort((a, b) => a.fromUs - b.fromUs)) {
        if (before !== null && row.fromUs < before.toUs && row.run !== before.run) {
          const value = this.#tags[row.tag]!;
          const place = { record: row.at, field: row.tagField, value };
          const text = runsOverlap.with({ run: row.run, other: before.run });
          this.#report.cell(place, { ...text, found: `${value} ${text.found}` });
        }
        if (before === null || row.toUs > before.toUs) before = row;
      }
    }
  }

  #refuse({ at }: CsvRecord, cell: { column: string; value: string }, problem: ProblemText): void {
    const { column, value } = cell;
    this.#report.cell({ record: at, field: this.#header.fields.get(column) ?? 0, value }, problem);
  }

  #filled(record: CsvRecord, column: string, text: string): string | null {
    if (text !== "") return text;
    this.#refuse(record, { column, value: text }, runBlank.with({ column }));
    return null;
  }

  #round(record: CsvRecord): number {
    const name = this.#cells.round(record);
    if (name === "" && this.#rounds.size === 1) return 0;
    const round = this.#rounds.get(name);
    if (round !== undefined) return round;
    if (!this.#areRoundsKnown) {
      this.#rounds.set(name, this.#rounds.size);
      return this.#rounds.size - 1;
    }
    const known = [...this.#rounds.keys()];
    this.#refuse(
      record,
      { column: "round", value: name },
      name === "" ? roundBlank.with({ known }) : roundUnknown.with({ name, known }),
    );
    return -1;
  }

  /** The number of a code among those of items and carriers; -1 for a blank. */
  #tag(record: CsvRecord, column: string): number {
    const field = this.#header.fields.get(column);
    const text = field === undefined ? -1 : this.#tagCells.read(record, field);
    if (text < 0) return -1;
    const written = this.#tagTexts.texts[text]!;
    const code = this.#codes.of(written);
    let number = this.#numberOfCode.get(code);
    if (number === undefined) {
      number = this.#tags.push(written) - 1;
      this.#numberOfCode.set(code, number);
    }
    return number;
  }

  #time(record: CsvRecord, column: string, text: string): Pick<Instant, "epochUs"> | null {
    if (this.#filled(record, column, text) === null) return null;
    const time = utcTime(text) ?? this.#times.read(text);
    if ("epochUs" in time) return time;
    this.#refuse(record, { column, value: text }, time);
    return null;
  }
}

function grouped<Key>(rows: readonly PlacedRun[], keyOf: (row: PlacedRun) => Key): Map<Key, PlacedRun[]> {
  const groups = new Map<Key, PlacedRun[]>();
  for (const row of rows) {
    const key = keyOf(row);
    const own = groups.get(key);
    if (own === undefined) groups.set(key, [row]);
    else own.push(row);
  }
  return groups;
}
