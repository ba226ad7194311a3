import { stat } from "node:fs/promises";
import { isSpreadsheetNumber } from "../../codes/canonical-code.ts";
import type { JourneyFacility, Place } from "../../model/journey/journey.ts";
import type { InputFile } from "../../model/record/input-file.ts";
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
import { type LogDatabase, usualLargeBytes } from "../reader-log/database/database.ts";
import type { Years } from "../reader-log/source/zone.ts";
import { cellOf } from "../tables/header.ts";
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
export async function readSightings(
  { file, tags, facilities, ofLegs, told, database, years, largeBytes = usualLargeBytes }: SightingTask,
  problems: ProblemList,
): Promise<InputFile> {
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
  const { report } = sheet;
  const source = told.sourceOf(file.path);
  const fieldOf = (column: string) => header.fields.get(column) ?? 0;
  const { size } = await stat(file.onDisk).catch(() => ({ size: 0 }));
  if (size >= largeBytes) {
    const numberOf = (place: Place) => told.placeOf(place);
    const places = knownPlaces(facilities);
    const quick = await quickSightings({
      file,
      sheet,
      header,
      database,
      tags,
      places,
      numberOf,
      source,
      years,
    });
    if (quick !== null) {
      told.count(quick);
      const field = fieldOf("known_at");
      for (const { at, text } of quick.early)
        report.cell({ record: at, field, value: text }, sightingKnownEarly);
      return quick.input;
    }
  }
  const places = placeFinder(facilities, told);
  const codes = new Codes();
  const timeOf = cellOf(header, "time");
  const facilityOf = cellOf(header, "facility");
  const pointOf = cellOf(header, "read_point");
  const tagOf = cellOf(header, "tag");
  const knownOf = cellOf(header, "known_at");
  let used = 0;
  const objected = new Set(ofLegs);
  const known = new Map<string, number>();
  for await (const records of sheet.rows(header.width)) {
    for (const record of records) {
      const refuse = (column: string, value: string, problem: ProblemText) =>
        report.cell({ record: record.at, field: fieldOf(column), value }, problem);
      const facility = facilityOf(record);
      const point = pointOf(record);
      const place = places(facility, point);
      if (place === "unread") {
        if (!objected.has(facility))
          refuse("facility", facility, sightingFacilityUnknown.unread({ id: facility }));
        objected.add(facility);
      } else if (typeof place !== "object")
        refuse(
          place === "facility" ? "facility" : "read_point",
          place === "facility" ? facility : point,
          placeProblem(place, { facility, point }, facilities),
        );
      const written = tagOf(record);
      if (written === "") refuse("tag", "", runBlank.with({ column: "tag" }));
      let tag = known.get(written);
      if (tag === undefined) {
        if (isSpreadsheetNumber(written)) refuse("tag", written, tagInExponentNotation);
        tag = tags.get(codes.of(written)) ?? -1;
        known.set(written, tag);
      }
      const text = timeOf(record);
      const times = typeof place === "object" ? place.times : anyZone;
      const time = utcTime(text) ?? times.read(text);
      if (!("epochUs" in time)) {
        refuse("time", text, text === "" ? runBlank.with({ column: "time" }) : time);
        continue;
      }
      const knownText = knownOf(record);
      const knownAt = knownText === "" ? null : (utcTime(knownText) ?? times.read(knownText));
      if (knownAt !== null && !("epochUs" in knownAt)) {
        refuse("known_at", knownText, knownAt);
        continue;
      }
      if (typeof place !== "object" || written === "") continue;
      if (knownAt !== null && knownAt.epochUs < time.epochUs)
        refuse("known_at", knownText, sightingKnownEarly);
      used += told.add({
        tag,
        place: place.number,
        timeUs: time.epochUs,
        knownUs: knownAt?.epochUs ?? Number.NaN,
        source,
      })
        ? 1
        : 0;
    }
  }
  return { ...inputOf(sheet), used, void: 0 };
}

/** For rows whose place is not known: what is wrong with their times shows all the same. */
const anyZone = new Times("UTC");

function inputOf({ source }: Sheet): Omit<InputFile, "used" | "void"> {
  return source;
}

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
function placeFinder(
  facilities: ReadonlyMap<string, JourneyFacility | null>,
  told: SightingColumns,
): (facility: string, readPoint: string) => KnownPlace | PlaceFault | "unread" {
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
