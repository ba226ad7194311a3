import type { JourneyRuns } from "../../../model/record/input-file.ts";
import type { LogDatabase } from "./database.ts";

/** A stretch of time in which a tag was on a journey, both ends included. */
interface Travel {
  /** Canonical code. */
  tag: string;
  /** Microseconds since 1970. */
  fromUs: number;
  toUs: number;
}

/** When tags were on journeys over a facility; the stretches of one tag do not overlap, nor do those of one tag at one read point. */
export interface Travels {
  trips: Travel[];
  /** At the read points of the legs, where what is heard of the tag meanwhile is not idle. */
  atLegs: (Travel & { readPoint: string })[];
  /** The journeys, by id. */
  journeys: JourneyRuns[];
}

/** What readers heard of tags on journeys, in columns: one entry a read, at both ends of a row that tells of a first and a last. */
export interface ReaderSightings {
  length: number;
  /** Index into `codes`. */
  code: ArrayLike<number>;
  /** Index into `readPoints`. */
  readPoint: ArrayLike<number>;
  /** Microseconds since 1970. */
  timeUs: ArrayLike<number>;
  /** Index into `files`. */
  file: ArrayLike<number>;
  /** Canonical codes. */
  codes: readonly string[];
  readPoints: readonly string[];
  /** Relative to the facility's folder, with `/`. */
  files: readonly string[];
}

const createTravels = `CREATE TABLE travels (code INTEGER, from_us BIGINT, to_us BIGINT);
  CREATE TABLE leg_travels (point INTEGER, code INTEGER, from_us BIGINT, to_us BIGINT)`;

/** Fills the tables `travels` and `leg_travels`. @param codes canonical codes that were read, by their places */
export async function fillTravels(
  database: LogDatabase,
  { trips, atLegs }: Pick<Travels, "trips" | "atLegs">,
  { codes, points }: { codes: readonly string[]; points: ReadonlyMap<string, number> },
): Promise<void> {
  const placeOf = new Map(codes.map((code, place) => [code, place]));
  await database.run(createTravels);
  await database.fill(
    "travels",
    trips.flatMap(({ tag, fromUs, toUs }) => {
      const code = placeOf.get(tag);
      return code === undefined ? [] : [[code, fromUs, toUs]];
    }),
  );
  await database.fill(
    "leg_travels",
    atLegs.flatMap(({ tag, readPoint, fromUs, toUs }) => {
      const code = placeOf.get(tag);
      const point = points.get(readPoint);
      return code === undefined || point === undefined ? [] : [[point, code, fromUs, toUs]];
    }),
  );
}
