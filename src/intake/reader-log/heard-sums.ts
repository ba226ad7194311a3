import type { IdlePiece } from "./idle-pieces.ts";
import type { LogDatabase } from "./log-database.ts";
import type { HeardTags, IdleMinute, LogSpan, WalkSession } from "./reader-log.ts";
import { noHundredths } from "./reader-log.ts";

const minuteUs = 60_000_000;

/**
 * Adds up what was heard, repeats once, into the table `sums`: by tag and place, which is the number of a pass, or that of a
 * piece of a minute outside all windows, or below 0 a read point and a whole such minute.
 *
 * @param isInside the condition under which a window or a piece holds a read
 */
export async function sumUp(
  database: LogDatabase,
  isInside: string,
  points: ReadonlyMap<string, number>,
  pieces: ReadonlyMap<number, IdlePiece>,
): Promise<void> {
  const placed = (rows: string) =>
    `SELECT coalesce(wall.pass, -1 - (t // ${minuteUs} * ${points.size} + point)) AS place, tag, t, rssi, reads
      FROM (SELECT point, tag, t, rssi, reads FROM ${rows} JOIN used ON id = voice) LEFT JOIN windows AS wall ON ${isInside}`;
  await database.run(
    `CREATE TABLE sums AS SELECT place, tag, sum(reads) AS reads, max(rssi) AS rssi, min(t) AS first_us, max(t) AS last_us
      FROM (${placed("reads")}) GROUP BY place, tag`,
  );
  await database.run(`UPDATE sums SET reads = sums.reads - again.reads FROM (SELECT place, tag, sum(reads) AS reads
      FROM (${placed("(SELECT unnest(voices[2:]) AS voice, t, rssi, reads FROM repeats)")}) GROUP BY place, tag) AS again
    WHERE sums.place = again.place AND sums.tag = again.tag`);
  await database.run("CREATE TABLE pieces (place BIGINT, point BIGINT, minute BIGINT, from_us BIGINT)");
  await database.fill(
    "pieces",
    [...pieces].map(([place, { readPoint, minute, fromUs }]) => [
      place,
      points.get(readPoint)!,
      minute,
      fromUs,
    ]),
  );
  await database.run(
    `CREATE VIEW heard AS SELECT * RENAME (place AS pass) FROM sums ANTI JOIN pieces USING (place) WHERE place >= 0`,
  );
  await database.run(`CREATE VIEW idle AS SELECT * EXCLUDE (place), (-1 - place) % ${points.size} AS point,
      (-1 - place) // ${points.size} AS minute, (-1 - place) // ${points.size} * ${minuteUs} AS from_us
    FROM sums WHERE place < 0 UNION ALL BY NAME SELECT * EXCLUDE (place) FROM sums JOIN pieces USING (place)`);
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

/** What was heard outside every window in each session, by minute. */
export async function idleMinutes(
  database: LogDatabase,
  sessions: readonly WalkSession[],
  points: ReadonlyMap<string, number>,
): Promise<IdleMinute[]> {
  await database.run("CREATE TABLE sessions (session BIGINT, point BIGINT, from_us BIGINT, to_us BIGINT)");
  await database.fill(
    "sessions",
    sessions.map(({ readPoint, fromUs, toUs }, index) => [index, points.get(readPoint)!, fromUs, toUs]),
  );
  return database.rows<IdleMinute & Record<string, unknown>>(
    `SELECT session::INTEGER AS session, minute::DOUBLE AS minute, sum(reads)::DOUBLE AS reads, count(DISTINCT code)::INTEGER AS tags
      FROM idle JOIN (SELECT DISTINCT tag, code FROM used) USING (tag)
      JOIN sessions ON sessions.point = idle.point AND idle.from_us >= sessions.from_us AND idle.from_us <= sessions.to_us
      GROUP BY sessions.session, minute ORDER BY sessions.session, minute`,
  );
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
