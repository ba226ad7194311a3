import { stat } from "node:fs/promises";
import { isSpreadsheetNumber } from "../../codes/canonical-code.ts";
import type { JourneyFacility, Place } from "../../model/journey/journey.ts";
import type { InputFile } from "../../model/record/input-file.ts";
import type { CsvRecord } from "../csv/records.ts";
import type { Sheet } from "../csv/sheet.ts";
import { Times, utcTime } from "../csv/times.ts";
import type { ProblemText } from "../problems/card/problem.ts";
import {
  journeyReadPointUnknown,
  runBlank,
  sightingFacilityUnknown,
  sightingKnownEarly,
} from "../problems/journey.ts";
import { tagInExponentNotation } from "../problems/pass-log.ts";
import type { ProblemList } from "../problems/problem-list.ts";
import type { CsvReport } from "../problems/reports.ts";
import { type LogDatabase, usualLargeBytes } from "../reader-log/database/database.ts";
import type { Years } from "../reader-log/source/zone.ts";
import { cellOf, type Header } from "../tables/header.ts";
import { openSheet } from "../tables/open-sheet.ts";
import { quickSightings } from "./quick-sightings.ts";
import { Codes, journeyHeader } from "./table.ts";
import type { SightingColumns } from "./told.ts";

/** What sightings.csv is read with. */
interface SightingTask {
  file: { path: string; onDisk: string };
  /** By canonical code: the number of a tag of the runs. */
  tags: ReadonlyMap<string, number>;
  /** Those of the data folder, by id; null for one whose facility.yaml cannot be read. */
  facilities: ReadonlyMap<string, JourneyFacility | null>;
  /** Facilities of legs: what is wrong with their facility.yaml is said where they are read. */
  ofLegs: ReadonlySet<string>;
  told: SightingColumns;
  /** From `openJourneyDatabase`: it may read the file. */
  database: LogDatabase;
  /** In which times on a wall clock are expected. */
  years: Years;
  /** From how many bytes on the file is large; no result depends on it. */
  largeBytes?: number;
}

/** Reads sightings.csv into the columns of everything that tells of sightings. */
export async function readSightings(task: SightingTask, problems: ProblemList): Promise<InputFile> {
  const { file, largeBytes = usualLargeBytes } = task;
  const sheet = openSheet({ ...file, rowsAre: "sightings", sheet: null }, problems);
  const header = await journeyHeader(sheet, {
    own: ["time", "facility", "read_point", "tag", "known_at"],
    needed: ["time", "facility", "read_point", "tag"],
    file: "sightings.csv",
  });
  if (header === null) {
    await sheet.skipRows();
    return { ...sheet.source, used: 0, void: 0 };
  }
  const { size } = await stat(file.onDisk).catch(() => ({ size: 0 }));
  const quick = size >= largeBytes ? await readQuickly(task, sheet, header) : null;
  if (quick !== null) return quick;
  const reader = new SightingReader(task, sheet, header);
  for await (const records of sheet.rows(header.width)) for (const record of records) reader.read(record);
  return { ...sheet.source, used: reader.used, void: 0 };
}

/** A large file in one go; null where it has to be read row by row. */
async function readQuickly(
  { file, tags, facilities, told, database, years }: SightingTask,
  sheet: Sheet,
  header: Header,
): Promise<InputFile | null> {
  const quick = await quickSightings({
    file,
    sheet,
    header,
    database,
    tags,
    places: knownPlaces(facilities),
    numberOf: (place) => told.placeOf(place),
    source: told.sourceOf(file.path),
    years,
  });
  if (quick === null) return null;
  told.count(quick);
  const field = header.fields.get("known_at") ?? 0;
  for (const { at, text } of quick.early)
    sheet.report.cell({ record: at, field, value: text }, sightingKnownEarly);
  return quick.input;
}

/** Reads row by row, and tells what is wrong in each cell. */
class SightingReader {
  readonly #report: CsvReport;
  readonly #header: Header;
  readonly #task: SightingTask;
  readonly #source: number;
  readonly #places: PlaceFinder;
  readonly #cells: Record<
    "time" | "facility" | "readPoint" | "tag" | "knownAt",
    (record: CsvRecord) => string
  >;
  readonly #codes = new Codes();
  /** Numbers of tags by the way they are written. */
  readonly #tags = new Map<string, number>();
  /** Facilities that cannot be read: each is objected to once. */
  readonly #objected: Set<string>;
  /** How many rows were of tags of the runs. */
  used = 0;

  constructor(task: SightingTask, { report }: Sheet, header: Header) {
    this.#report = report;
    this.#header = header;
    this.#task = task;
    this.#source = task.told.sourceOf(task.file.path);
    this.#places = placeFinder(task.facilities, task.told);
    this.#cells = {
      time: cellOf(header, "time"),
      facility: cellOf(header, "facility"),
      readPoint: cellOf(header, "read_point"),
      tag: cellOf(header, "tag"),
      knownAt: cellOf(header, "known_at"),
    };
    this.#objected = new Set(task.ofLegs);
  }

  read(record: CsvRecord): void {
    const place = this.#place(record);
    const tag = this.#tag(record);
    const times = place?.times ?? anyZone;
    const timeUs = this.#time(record, { column: "time", text: this.#cells.time(record) }, times);
    if (timeUs === null) return;
    const knownText = this.#cells.knownAt(record);
    const knownUs =
      knownText === "" ? Number.NaN : this.#time(record, { column: "known_at", text: knownText }, times);
    if (knownUs === null || place === null || tag === null) return;
    if (knownUs < timeUs) this.#refuse(record, { column: "known_at", value: knownText }, sightingKnownEarly);
    const sighting = { tag, place: place.number, timeUs, knownUs, source: this.#source };
    if (this.#task.told.add(sighting)) this.used += 1;
  }

  #refuse(
    { at }: CsvRecord,
    { column, value }: { column: string; value: string },
    problem: ProblemText,
  ): void {
    this.#report.cell({ record: at, field: this.#header.fields.get(column) ?? 0, value }, problem);
  }

  /** Null, with the reason reported, where it is none of the data folder. */
  #place(record: CsvRecord): KnownPlace | null {
    const facility = this.#cells.facility(record);
    const point = this.#cells.readPoint(record);
    const place = this.#places(facility, point);
    if (typeof place === "object") return place;
    if (place === "unread") {
      const problem = sightingFacilityUnknown.unread({ id: facility });
      if (!this.#objected.has(facility))
        this.#refuse(record, { column: "facility", value: facility }, problem);
      this.#objected.add(facility);
      return null;
    }
    const problem = placeProblem(place, { facility, point }, this.#task.facilities);
    const cell =
      place === "facility" ? { column: "facility", value: facility } : { column: "read_point", value: point };
    this.#refuse(record, cell, problem);
    return null;
  }

  /** The number of a tag of the runs, below 0 for another; null for a blank. */
  #tag(record: CsvRecord): number | null {
    const written = this.#cells.tag(record);
    if (written === "") {
      this.#refuse(record, { column: "tag", value: "" }, runBlank.with({ column: "tag" }));
      return null;
    }
    let tag = this.#tags.get(written);
    if (tag === undefined) {
      if (isSpreadsheetNumber(written))
        this.#refuse(record, { column: "tag", value: written }, tagInExponentNotation);
      tag = this.#task.tags.get(this.#codes.of(written)) ?? -1;
      this.#tags.set(written, tag);
    }
    return tag;
  }

  /** Microseconds since 1970; null, with the reason reported, for what is no time. */
  #time(record: CsvRecord, { column, text }: { column: string; text: string }, times: Times): number | null {
    const time = utcTime(text) ?? times.read(text);
    if ("epochUs" in time) return time.epochUs;
    this.#refuse(record, { column, value: text }, text === "" ? runBlank.with({ column }) : time);
    return null;
  }
}

/** For rows whose place is not known: what is wrong with their times shows all the same. */
const anyZone = new Times("UTC");

/** Every read point of the facilities. */
function knownPlaces(
  facilities: ReadonlyMap<string, JourneyFacility | null>,
): (Place & { timeZone: string | null })[] {
  return [...facilities].flatMap(([facility, known]) => {
    const ids = new Set(known?.readPoints.map(({ id }) => id));
    return [...ids].map((readPoint) => ({ facility, readPoint, timeZone: known!.timeZone }));
  });
}

interface KnownPlace {
  number: number;
  times: Times;
}

type PlaceFault = "facility" | "read-point";

/** Finds a place by its ids; `unread` where its facility's facility.yaml cannot be read. */
type PlaceFinder = (facility: string, readPoint: string) => KnownPlace | PlaceFault | "unread";

function placeFinder(
  facilities: ReadonlyMap<string, JourneyFacility | null>,
  told: SightingColumns,
): PlaceFinder {
  const known = new Map<string, Map<string, KnownPlace | PlaceFault | "unread">>();
  const times = new Map<string, Times>();
  const find = (id: string, readPoint: string): KnownPlace | PlaceFault | "unread" => {
    const facility = facilities.get(id);
    if (facility === undefined) return "facility";
    if (facility === null) return "unread";
    if (!facility.readPoints.some((point) => point.id === readPoint)) return "read-point";
    const own = times.get(id) ?? new Times(facility.timeZone);
    times.set(id, own);
    return { number: told.placeOf({ facility: id, readPoint }), times: own };
  };
  return (facility, readPoint) => {
    const own = known.get(facility) ?? new Map<string, KnownPlace | PlaceFault | "unread">();
    known.set(facility, own);
    const place = own.get(readPoint) ?? find(facility, readPoint);
    own.set(readPoint, place);
    return place;
  };
}

function placeProblem(
  fault: PlaceFault,
  { facility, point }: { facility: string; point: string },
  facilities: ReadonlyMap<string, JourneyFacility | null>,
): ProblemText {
  if (fault === "facility")
    return facility === ""
      ? runBlank.with({ column: "facility" })
      : sightingFacilityUnknown.with({ id: facility, known: [...facilities.keys()] });
  const known = (facilities.get(facility)?.readPoints ?? []).map(({ id }) => id);
  return point === ""
    ? runBlank.with({ column: "read_point" })
    : journeyReadPointUnknown.with({ id: point, facility, known });
}
