import type { LogDatabase } from "./log-database.ts";

/** Places where time does not rise that are looked at; with more, rows are compared another way. */
const mostStalls = 500_000;
/** Later, and negative earlier, than any moment. */
const forever = Number.MAX_SAFE_INTEGER;
/** Among so many slots are rows spread that are looked at for repeats. */
const slots = 2 ** 21 - 3;

/**
 * Finds exact repeats of rows and leaves them in the table `repeats`: one row for each set of equal reads, with the voice
 * of each, by file. Returns how many rows of each file repeat another.
 *
 * Exact, but not by comparing every row with every other: rows are equal only at one time. Where time rises from row to row, as
 * readers write it, rows of one time are neighbours.
 */
export async function findRepeats(database: LogDatabase, keepsRest: boolean): Promise<Map<number, number>> {
  const suspects = (await byTime(database)) ?? (await bySlots(database));
  await database.run(`CREATE TABLE repeats AS
    SELECT any_value(pass) AS pass, list_sort(list(voice)) AS voices, t, any_value(reads) AS reads
    FROM reads JOIN used ON id = voice ${suspects}
    GROUP BY twin, t, rssi, reads${keepsRest ? ", rest" : ""} HAVING count(*) > 1`);
  const counts = await database.rows<{ file: number; rows: number }>(
    `SELECT file, count(*)::INTEGER AS rows FROM (SELECT unnest(voices[2:]) AS voice FROM repeats) JOIN used ON id = voice GROUP BY file`,
  );
  return new Map(counts.map(({ file, rows }) => [file, rows]));
}

/**
 * The rows of times that several rows share, by a single look along the rows as they lie. Several threads leave stretches of a file
 * in any order: each must rise, and no two may overlap. Null where they do not.
 */
async function byTime(database: LogDatabase): Promise<string | null> {
  await database.run("CREATE TEMP TABLE stalls (t BIGINT, starts BOOLEAN, stays BOOLEAN, ends BOOLEAN)");
  const stalls = await database.run(
    `INSERT INTO stalls SELECT t, t < before, t = before, t > after
      FROM (SELECT t, lag(t, 1, ${forever}) OVER () AS before, lead(t, 1, -${forever}) OVER () AS after FROM reads)
      WHERE t <= before OR t > after LIMIT ${mostStalls}`,
  );
  const edges = async (kind: "starts" | "ends") =>
    (await database.rows<{ t: number }>(`SELECT t::DOUBLE AS t FROM stalls WHERE ${kind} ORDER BY t`)).map(
      ({ t }) => t,
    );
  const [starts, ends] = [await edges("starts"), await edges("ends")];
  // Whichever end belongs to whichever start: where they alternate, no two stretches are open at once.
  const isRising = starts.every((start, i) => start <= ends[i]! && (i === 0 || ends[i - 1]! <= start));
  if (stalls === mostStalls || !isRising) return null;
  return "SEMI JOIN (SELECT t FROM stalls WHERE stays OR t IN (SELECT t FROM stalls WHERE ends)) AS shared USING (t)";
}

async function bySlots(database: LogDatabase): Promise<string> {
  const slot = `((t >> 10) + twin * 7919::BIGINT) % ${slots}`;
  await database.run(`CREATE TABLE crowded AS SELECT ${slot} AS slot FROM reads JOIN used ON id = voice GROUP BY slot
    HAVING bit_count(bit_or(1::BIGINT << (t % 63))) < count(*)
      AND bit_count(bit_or(1::BIGINT << ((t // 63 + coalesce(CAST(rssi * -100 AS INTEGER), 7)) % 63))) < count(*)`);
  return `SEMI JOIN crowded ON crowded.slot = ${slot}`;
}
