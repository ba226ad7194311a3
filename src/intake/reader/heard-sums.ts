import type { LogDatabase } from "./log-database.ts";
import type { HeardTags, IdleMinute, LogSpan } from "./reader-log.ts";
import { noHundredths } from "./reader-log.ts";

const minuteUs = 60_000_000;

/**
 * Adds up what was heard, repeats once, into the table `sums`: by tag and place, which is the number of a pass, or below 0 a read
 * point and a minute outside all windows.
 *
 * @param isInside the condition under which a window holds a read
 */
export async function sumUp(database: LogDatabase, isInside: string, points: number): Promise<void> {
  const placed = (rows: string) =>
    `SELECT coalesce(wall.pass, -1 - (t // ${minuteUs} * ${points} + point)) AS place, tag, t, rssi, reads
      FROM (SELECT point, tag, t, rssi, reads FROM ${rows} JOIN used ON id = voice) LEFT JOIN windows AS wall ON ${isInside}`;
  await database.run(
    `CREATE TABLE sums AS SELECT place, tag, sum(reads) AS reads, max(rssi) AS rssi, min(t) AS first_us, max(t) AS last_us
      FROM (${placed("reads")}) GROUP BY place, tag`,
  );
  await database.run(`UPDATE sums SET reads = sums.reads - again.reads FROM (SELECT place, tag, sum(reads) AS reads
      FROM (${placed("(SELECT unnest(voices[2:]) AS voice, t, rssi, reads FROM repeats)")}) GROUP BY place, tag) AS again
    WHERE sums.place = again.place AND sums.tag = again.tag`);
  await database.run(`CREATE VIEW heard AS SELECT * RENAME (place AS pass) FROM sums WHERE place >= 0`);
  await database.run(`CREATE VIEW idle AS SELECT *, (-1 - place) % ${points} AS point, (-1 - place) // ${points} AS minute
    FROM sums WHERE place < 0`);
}

/** What leaves the database of the reads inside windows, by pass, code and antenna. */
export async function heardTags(
  database: LogDatabase,
  codes: string[],
  antennas: string[],
): Promise<HeardTags> {
  const columns = await database.columns(`SELECT pass::INTEGER, code, antenna, reads::DOUBLE,
      coalesce(CAST(rssi * 100 AS INTEGER), ${noHundredths}), first_us::DOUBLE, last_us::DOUBLE
    FROM heard JOIN (SELECT DISTINCT tag, code, antenna FROM used) USING (tag) ORDER BY pass, code, antenna`);
  const numbers = (index: number) => (columns[index] ?? []) as (number | bigint)[];
  const whole = (index: number) => Int32Array.from(numbers(index), Number);
  const wide = (index: number) => Float64Array.from(numbers(index), Number);
  const [pass, code, antenna] = [whole(0), whole(1), whole(2)];
  const heardCodes = used(codes, code);
  const heardAntennas = used(antennas, antenna);
  return {
    length: pass.length,
    pass,
    code: code.map((index) => heardCodes.place[index]!),
    antenna: antenna.map((index) => (index < 0 ? -1 : heardAntennas.place[index]!)),
    reads: wide(3),
    rssi: whole(4),
    firstUs: wide(5),
    lastUs: wide(6),
    codes: heardCodes.texts,
    antennas: heardAntennas.texts,
  };
}

/** Only texts that occur, in their order. */
function used(texts: readonly string[], indices: Int32Array): { texts: string[]; place: Int32Array } {
  const occurs = new Uint8Array(texts.length);
  for (const index of indices) if (index >= 0) occurs[index] = 1;
  const place = new Int32Array(texts.length);
  let next = 0;
  for (let index = 0; index < texts.length; index += 1) {
    place[index] = next;
    next += occurs[index]!;
  }
  return { texts: texts.filter((_, index) => occurs[index] === 1), place };
}

/** What was heard outside every window, by read point and minute. */
export async function idleMinutes(database: LogDatabase, points: readonly string[]): Promise<IdleMinute[]> {
  const rows = await database.rows<{ point: number; minute: number; reads: number; tags: number }>(
    `SELECT point::INTEGER AS point, minute::DOUBLE AS minute, sum(reads)::DOUBLE AS reads, count(DISTINCT code)::INTEGER AS tags
      FROM idle JOIN (SELECT DISTINCT tag, code FROM used) USING (tag)
      GROUP BY idle.point, minute ORDER BY idle.point, minute`,
  );
  return rows.map(({ point, minute, reads, tags }) => ({ readPoint: points[point]!, minute, reads, tags }));
}

/** From the first to the last read of each read point. */
export async function logSpans(
  database: LogDatabase,
  points: readonly string[],
  pointOfPass: ReadonlyMap<number, number>,
): Promise<LogSpan[]> {
  const spans = new Map<number, { fromUs: number; toUs: number }>();
  const widen = (point: number, fromUs: number, toUs: number) => {
    const span = spans.get(point);
    spans.set(point, {
      fromUs: Math.min(fromUs, span?.fromUs ?? fromUs),
      toUs: Math.max(toUs, span?.toUs ?? toUs),
    });
  };
  type Span = { place: number; first: number; last: number };
  const inside = await database.rows<Span>(
    "SELECT pass::INTEGER AS place, min(first_us)::DOUBLE AS first, max(last_us)::DOUBLE AS last FROM heard GROUP BY pass",
  );
  for (const { place, first, last } of inside) widen(pointOfPass.get(place)!, first, last);
  const outside = await database.rows<Span>(
    "SELECT point::INTEGER AS place, min(first_us)::DOUBLE AS first, max(last_us)::DOUBLE AS last FROM idle GROUP BY point",
  );
  for (const { place, first, last } of outside) widen(place, first, last);
  return points.flatMap((readPoint, point) => {
    const span = spans.get(point);
    return span === undefined ? [] : [{ readPoint, ...span }];
  });
}
