import type { ProblemList } from "../problem-list.ts";
import type { BadCode } from "./code-book.ts";
import type { LogDatabase } from "./log-database.ts";
import type { LogSource } from "./log-source.ts";
import { unknownReader } from "./reader-log-problems.ts";

/** Takes out the rows whose code cannot be read; how many there were in each file. */
export async function dropBadCodes(
  database: LogDatabase,
  bad: readonly BadCode[],
): Promise<Map<number, number>> {
  if (bad.length === 0) return new Map();
  const isBad = `code IN (${bad.map(({ id }) => id).join(", ")})`;
  const counts = await database.rows<{ file: number; rows: number }>(
    `SELECT file, count(*)::INTEGER AS rows FROM reads WHERE ${isBad} GROUP BY file`,
  );
  await database.run(`DELETE FROM reads WHERE ${isBad}`);
  return new Map(counts.map(({ file, rows }) => [file, rows]));
}

/** Takes out the rows of readers that no read point claims, each named once a file; how many there were in each file. */
export async function dropElsewhere(
  database: LogDatabase,
  sources: readonly LogSource[],
  problems: ProblemList,
): Promise<Map<number, number>> {
  const away = new Map<number, number>();
  const isAway = "reader IN (SELECT id FROM readers WHERE point IS NULL)";
  const readers = await database.rows<{ rows: number }>("SELECT id FROM readers WHERE point IS NULL");
  if (readers.length === 0) return away;
  const counts = await database.rows<{ file: number; name: string; rows: number }>(
    `SELECT file, trim(readers.text) AS name, count(*)::INTEGER AS rows FROM reads JOIN readers ON readers.id = reads.reader
      WHERE ${isAway} GROUP BY ALL ORDER BY file, name`,
  );
  for (const { file, name, rows } of counts) {
    problems.add(sources[file]!.path, null, unknownReader(name, rows));
    away.set(file, (away.get(file) ?? 0) + rows);
  }
  await database.run(`DELETE FROM reads WHERE ${isAway}`);
  return away;
}
