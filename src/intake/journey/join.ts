import { stat } from "node:fs/promises";
import type { Place, RunRow, SightingCounts, Sightings } from "../../model/journey/journey.ts";
import { byCodePoint } from "../../model/order.ts";
import { LogDatabase, usualLargeBytes } from "../reader-log/database/database.ts";
import type { SightingColumns } from "./told.ts";
import type { Trip } from "./trips.ts";
import { mergedTrips } from "./trips.ts";

/** Not a number would be a number of its own to the database: the end of time stands for a sighting that does not tell when it was known. */
export const notKnown = Number.MAX_SAFE_INTEGER;

/** The database in which a journey is joined. @param path of the table of sightings, which it may read itself */
export async function openJourneyDatabase(path: string): Promise<LogDatabase> {
  const { size } = await stat(path).catch(() => ({ size: 0 }));
  const database = await LogDatabase.open([path], { isSmall: size < usualLargeBytes });
  await database.run(`CREATE TABLE told (tag INTEGER, place INTEGER, t DOUBLE, known DOUBLE, source INTEGER);
    CREATE TABLE trips (tag INTEGER, from_us DOUBLE, to_us DOUBLE)`);
  return database;
}

/**
 * Joins what was sent and what was seen: sightings of the tags of the runs while a run of theirs was under way, carriers also so many
 * seconds around it, by tag, time and place. The same tag, place and microsecond is one sighting: of several the first to be known, by
 * the first source that tells of it.
 */
export async function joinSightings(
  database: LogDatabase,
  rows: readonly RunRow[],
  { told, carrierS }: { told: SightingColumns; carrierS: number },
): Promise<{ sightings: Sightings; counts: SightingCounts }> {
  const { columns, otherTags, sources } = told;
  const { places, numbers } = byName(told.places);
  if (columns.tag.length > 0)
    await database.fillColumns("told", [
      columns.tag,
      columns.place,
      columns.timeUs,
      columns.knownUs.map((us) => (Number.isNaN(us) ? notKnown : us)),
      columns.source,
    ]);
  const trips = mergedTrips(tripsOf(rows, carrierS));
  if (trips.length > 0)
    await database.fillColumns("trips", [
      Int32Array.from(trips, ({ tag }) => tag),
      Float64Array.from(trips, ({ fromUs }) => fromUs),
      Float64Array.from(trips, ({ toUs }) => toUs),
    ]);
  // Where tags have many stretches, looking at each of them for every sighting would take longest.
  const join = mostAlike(trips) > mostStretches ? "ASOF JOIN" : "JOIN";
  const joined = await database.numberColumns(
    `SELECT told.tag, [${numbers}][place + 1] AS place, t, known, source
      FROM told ${join} trips ON told.tag = trips.tag AND t >= from_us WHERE t <= to_us
      ORDER BY told.tag, t, 2, known, source`,
    ["tag", "place", "t", "known", "source"],
  );
  const sightings = { ...once(joined), places, sources };
  return {
    sightings,
    counts: {
      told: told.length + otherTags,
      used: sightings.length,
      repeated: joined.length - sightings.length,
      outsideRuns: told.length - joined.length,
      otherTags,
    },
  };
}

/** With so many stretches of a tag, two sorted lists are joined faster. */
const mostStretches = 8;

/** The most stretches that one tag has. */
function mostAlike(trips: readonly Trip<number>[]): number {
  const counts = new Map<number, number>();
  for (const { tag } of trips) counts.set(tag, (counts.get(tag) ?? 0) + 1);
  return [...counts.values()].reduce((most, count) => Math.max(most, count), 0);
}

/** When each tag was seen first and last, whether a run of its was under way or not; microseconds since 1970. */
export async function timesOfTags(
  database: LogDatabase,
): Promise<Map<number, { fromUs: number; toUs: number }>> {
  const { length, columns } = await database.numberColumns(
    "SELECT tag, min(t) AS from_us, max(t) AS to_us FROM told GROUP BY tag ORDER BY tag",
    ["tag", "from_us", "to_us"],
  );
  const [tag, from, to] = columns;
  return new Map(Array.from({ length }, (_, i) => [tag![i]!, { fromUs: from![i]!, toUs: to![i]! }]));
}

/** Places by their names, and their new numbers by the old ones: no result depends on which of them was read first. */
function byName(told: readonly Place[]): { places: Place[]; numbers: number[] } {
  const places = [...told].sort(
    (a, b) => byCodePoint(a.facility, b.facility) || byCodePoint(a.readPoint, b.readPoint),
  );
  const newNumbers = new Map(places.map((place, number) => [place, number]));
  return { places, numbers: told.map((place) => newNumbers.get(place)!) };
}

/** Rows in their order, those left out that repeat the tag, the time and the place of the row before. Shortens the columns that it is given. */
function once({
  length,
  columns: [tag, place, timeUs, knownUs, source],
}: {
  length: number;
  columns: (Int32Array | Float64Array)[];
}): Omit<Sightings, "places" | "sources"> {
  let kept = 0;
  for (let i = 0; i < length; i += 1) {
    const before = kept - 1;
    const isAgain =
      kept > 0 && tag![before] === tag![i] && timeUs![before] === timeUs![i] && place![before] === place![i];
    if (isAgain) continue;
    for (const column of [tag!, place!, timeUs!, source!]) if (kept < i) column[kept] = column[i]!;
    knownUs![kept] = knownUs![i] === notKnown ? Number.NaN : knownUs![i]!;
    kept += 1;
  }
  const whole = (column: Int32Array | Float64Array) => column.subarray(0, kept) as Int32Array;
  const wide = (column: Int32Array | Float64Array) => column.subarray(0, kept) as Float64Array;
  return {
    length: kept,
    tag: whole(tag!),
    place: whole(place!),
    source: whole(source!),
    timeUs: wide(timeUs!),
    knownUs: wide(knownUs!),
  };
}

/** When the tags of runs were under way. */
function tripsOf(rows: readonly RunRow[], carrierS: number): Trip<number>[] {
  const aroundUs = Math.round(carrierS * 1e6);
  return rows.flatMap(({ tag, carrier, fromUs, toUs }) => [
    { tag, fromUs, toUs },
    ...(carrier < 0 ? [] : [{ tag: carrier, fromUs: fromUs - aroundUs, toUs: toUs + aroundUs }]),
  ]);
}
