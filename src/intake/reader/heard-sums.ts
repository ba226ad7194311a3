import type { LogDatabase } from "./log-database.ts";
import type { HeardTags, IdleMinute, LogSpan } from "./reader-log.ts";
import { noHundredths } from "./reader-log.ts";

const minuteUs = 60_000_000;

/** Adds up what was heard, repeats once, into the tables `heard` and `idle`. */
export async function sumUp(database: LogDatabase): Promise<void> {
  await database.countingDirectly(() =>
    database.run(
      `CREATE TABLE heard AS SELECT pass, tag, sum(reads) AS reads, max(rssi) AS rssi, min(t) AS first_us, max(t) AS last_us
        FROM reads JOIN used ON id = voice WHERE pass IS NOT NULL GROUP BY ALL`,
    ),
  );
  await database.run(
    `CREATE TABLE idle AS SELECT voice, t // ${minuteUs} AS minute, sum(reads) AS reads, min(t) AS first_us, max(t) AS last_us
      FROM reads JOIN used ON id = voice WHERE pass IS NULL GROUP BY ALL`,
  );
  await database.run(`UPDATE heard SET reads = heard.reads - again.reads FROM
    (SELECT pass, tag, sum(reads) AS reads FROM (SELECT pass, unnest(voices[2:]) AS voice, reads FROM repeats WHERE pass IS NOT NULL)
      JOIN used ON id = voice GROUP BY ALL) AS again
    WHERE heard.pass = again.pass AND heard.tag = again.tag`);
  await database.run(`UPDATE idle SET reads = idle.reads - again.reads FROM
    (SELECT voice, minute, sum(reads) AS reads FROM (SELECT unnest(voices[2:]) AS voice, t // ${minuteUs} AS minute, reads FROM repeats
      WHERE pass IS NULL) GROUP BY ALL) AS again
    WHERE idle.voice = again.voice AND idle.minute = again.minute`);
}

/** What leaves the database of the reads inside windows, by pass, code and antenna. */
export async function heardTags(
  database: LogDatabase,
  codes: string[],
  antennas: string[],
): Promise<HeardTags> {
  const columns = await database.columns(`SELECT pass, code, antenna, reads::DOUBLE,
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
    `SELECT point, minute::DOUBLE AS minute, sum(reads)::DOUBLE AS reads, count(DISTINCT code)::INTEGER AS tags
      FROM idle JOIN used ON id = voice
      GROUP BY point, minute ORDER BY point, minute`,
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
    "SELECT pass AS place, min(first_us)::DOUBLE AS first, max(last_us)::DOUBLE AS last FROM heard GROUP BY pass",
  );
  for (const { place, first, last } of inside) widen(pointOfPass.get(place)!, first, last);
  const outside = await database.rows<Span>(
    `SELECT point AS place, min(first_us)::DOUBLE AS first, max(last_us)::DOUBLE AS last
      FROM idle JOIN used ON id = voice GROUP BY point`,
  );
  for (const { place, first, last } of outside) widen(place, first, last);
  return points.flatMap((readPoint, point) => {
    const span = spans.get(point);
    return span === undefined ? [] : [{ readPoint, ...span }];
  });
}
