import type { LogDatabase } from "./log-database.ts";

/** Among so many stretches of time are rows spread that are looked at for repeats. */
const slots = 2 ** 21;
/** Where a larger share of the rows has the time of the row before, most times are shared by reads that differ. */
const mostShared = 0.01;

/**
 * Finds exact repeats of rows and leaves them in the table `repeats`: one row for each set of equal reads, with the voice
 * of each, in the order of files. Returns how many rows of each file repeat another.
 *
 * Exact, but not by comparing every row with every other: only rows of crowded moments are compared whole.
 */
export async function findRepeats(database: LogDatabase, keepsRest: boolean): Promise<Map<number, number>> {
  const slot = (await crowdAlongTime(database)) ?? (await crowdBySlot(database));
  const key = `twin, t, rssi, reads${keepsRest ? ", rest" : ""}`;
  await database.run(`CREATE TABLE equals AS SELECT ${key} FROM reads JOIN used ON id = voice SEMI JOIN crowded ON crowded.slot = ${slot}
    GROUP BY ${key} HAVING count(*) > 1`);
  await database.run(`CREATE TABLE repeats AS SELECT list_sort(list(voice)) AS voices, t, rssi, reads
    FROM reads JOIN used ON id = voice SEMI JOIN equals ON ${key
      .split(", ")
      .map(
        (column) => `equals.${column} IS NOT DISTINCT FROM ${column === "twin" ? "used" : "reads"}.${column}`,
      )
      .join(" AND ")} GROUP BY ${key}`);
  const counts = await database.rows<{ file: number; rows: number }>(
    `SELECT file, count(*)::INTEGER AS rows FROM (SELECT unnest(voices[2:]) AS voice FROM repeats) JOIN used ON id = voice GROUP BY file`,
  );
  return new Map(counts.map(({ file, rows }) => [file, rows]));
}

/**
 * The usual case: time never falls from row to row, as the table gives them, so equal times stand side by side. Proved by the
 * very walk over the table that counts the neighbours, in whatever order it comes. Null where time falls, or many times are shared.
 */
async function crowdAlongTime(database: LogDatabase): Promise<string | null> {
  const neighbours = "(SELECT t, lag(t) OVER () AS before FROM reads)";
  const [walk] = await database.rows<{ rows: number; falls: number; shared: number }>(
    `SELECT count(*)::DOUBLE AS rows, count(*) FILTER (t < before)::DOUBLE AS falls, count(*) FILTER (t = before)::DOUBLE AS shared
      FROM ${neighbours}`,
  );
  const { rows, falls, shared } = walk!;
  if (falls > 0 || shared > rows * mostShared) return null;
  await database.run(`CREATE TABLE crowded AS SELECT DISTINCT t AS slot FROM ${neighbours} WHERE t = before`);
  return "t";
}

/** The other case: equal rows share a slot of time and its marks, so a slot with as many marks of either kind as rows holds no repeat. */
async function crowdBySlot(database: LogDatabase): Promise<string> {
  const [span] = await database.rows<{ first: bigint; us: number }>(
    "SELECT coalesce(min(t), 0) AS first, coalesce(max(t) - min(t), 0)::DOUBLE AS us FROM reads",
  );
  const slot = `(t - ${span!.first}) // ${Math.max(1, Math.ceil(span!.us / slots))}`;
  await database.countingDirectly(() =>
    database.run(`CREATE TABLE crowded AS SELECT ${slot} AS slot FROM reads GROUP BY slot
      HAVING bit_count(bit_or(1::BIGINT << (t % 63))) < count(*)
        AND bit_count(bit_or(1::BIGINT << ((t // 63 + reads * 13 + coalesce(CAST(rssi * -100 AS INTEGER), 7)) % 63))) < count(*)`),
  );
  return slot;
}
