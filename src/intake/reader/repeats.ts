import type { LogDatabase } from "./log-database.ts";
import { slotBits } from "./reads-table.ts";

/**
 * Finds exact repeats of rows and leaves them in the table `repeats`: one row for each set of equal reads, with how many
 * there are. Returns how many rows of each file repeat another.
 *
 * Exact, but not by comparing every row with every other: equal rows share a slot and its marks, so a slot with as many marks of
 * either kind as rows holds no repeat. Only the rows of the few slots that are left are compared whole.
 */
export async function findRepeats(database: LogDatabase, keepsRest: boolean): Promise<Map<number, number>> {
  await database.countingDirectly(
    () =>
      database.run(`CREATE TABLE crowded AS SELECT slot FROM reads GROUP BY slot
        HAVING bit_count(bit_or(1::BIGINT << (t % 63))) < count(*)
          AND bit_count(bit_or(1::BIGINT << ((t // 63 + antenna * 13 + coalesce(CAST(rssi * -100 AS INTEGER), 7)) % 63))) < count(*)`),
    slotBits,
  );
  await database.run(`CREATE TABLE repeats AS
    SELECT reader, code, antenna, t, any_value(pass) AS pass, any_value(reads) AS reads, count(*) AS rows, list_sort(list(file)) AS files
    FROM reads SEMI JOIN crowded USING (slot)
    GROUP BY reader, code, antenna, t, rssi, reads${keepsRest ? ", rest" : ""} HAVING count(*) > 1`);
  const counts = await database.rows<{ file: number; rows: number }>(
    `SELECT file, count(*)::INTEGER AS rows FROM (SELECT unnest(files[2:]) AS file FROM repeats) GROUP BY file`,
  );
  return new Map(counts.map(({ file, rows }) => [file, rows]));
}
