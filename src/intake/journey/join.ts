import type { RunRow, SightingCounts, Sightings } from "../../model/journey/journey.ts";
import { LogDatabase } from "../reader-log/database/database.ts";
import type { SightingColumns } from "./told.ts";
import type { Trip } from "./trips.ts";
import { mergedTrips } from "./trips.ts";

/**
 * Joins what was sent and what was seen, in the embedded database: sightings of the tags of the runs while a run of theirs was under way,
 * carriers also so many seconds around it, by tag, time and place. The same tag, place and microsecond is one sighting: of several the
 * first to be known, by the first source that tells of it.
 */
export async function joinSightings(
  rows: readonly RunRow[],
  { told, carrierS }: { told: SightingColumns; carrierS: number },
): Promise<{ sightings: Sightings; counts: SightingCounts }> {
  const { columns, otherTags, places, sources } = told;
  const database = await LogDatabase.open([]);
  try {
    await database.run(`CREATE TABLE told (tag INTEGER, place INTEGER, t DOUBLE, known DOUBLE, source INTEGER);
      CREATE TABLE trips (tag INTEGER, from_us DOUBLE, to_us DOUBLE)`);
    if (told.length > 0)
      await database.fillColumns("told", [
        columns.tag,
        columns.place,
        columns.timeUs,
        // Not a number would be a number of its own to the database: the end of time stands for it.
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
    const joined = await database.numberColumns(
      `SELECT told.tag::DOUBLE, place::DOUBLE, t, known, source::DOUBLE
        FROM told ASOF JOIN trips ON told.tag = trips.tag AND t >= from_us WHERE t <= to_us
        ORDER BY told.tag, t, place, known, source`,
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
  } finally {
    database.close();
  }
}

const notKnown = Number.MAX_SAFE_INTEGER;

/** Rows in their order, those left out that repeat the tag, the time and the place of the row before. */
function once({
  length,
  columns: [tags, places, times, knowns, sources],
}: {
  length: number;
  columns: Float64Array[];
}): Omit<Sightings, "places" | "sources"> {
  const tag = new Int32Array(length);
  const place = new Int32Array(length);
  const source = new Int32Array(length);
  const timeUs = new Float64Array(length);
  const knownUs = new Float64Array(length);
  let kept = 0;
  for (let i = 0; i < length; i += 1) {
    const before = kept - 1;
    if (kept > 0 && tag[before] === tags![i] && timeUs[before] === times![i] && place[before] === places![i])
      continue;
    tag[kept] = tags![i]!;
    place[kept] = places![i]!;
    source[kept] = sources![i]!;
    timeUs[kept] = times![i]!;
    knownUs[kept] = knowns![i] === notKnown ? Number.NaN : knowns![i]!;
    kept += 1;
  }
  return {
    length: kept,
    tag: tag.subarray(0, kept),
    place: place.subarray(0, kept),
    source: source.subarray(0, kept),
    timeUs: timeUs.subarray(0, kept),
    knownUs: knownUs.subarray(0, kept),
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
