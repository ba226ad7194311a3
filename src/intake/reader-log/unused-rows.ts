import type { ProblemList } from "../problem-list.ts";
import type { LogDatabase } from "./log-database.ts";
import type { LogSource } from "./log-source.ts";
import { unknownReader } from "./reader-log-problems.ts";

/** Rows whose code cannot be read, in each file. */
export async function rowsOfBadCodes(database: LogDatabase): Promise<Map<number, number>> {
  const counts = await database.rows<{ file: number; rows: number }>(
    `SELECT file, count(*)::INTEGER AS rows FROM reads
      JOIN (FROM voices ANTI JOIN code_rank ON code_rank.text = epc AND code_rank.form = voices.form) AS bad ON bad.id = voice
      GROUP BY file`,
  );
  return new Map(counts.map(({ file, rows }) => [file, rows]));
}

/** Other rows of readers that no read point claims, in each file; each reader is named once a file. */
export async function rowsElsewhere(
  database: LogDatabase,
  sources: readonly LogSource[],
  problems: ProblemList,
): Promise<Map<number, number>> {
  const away = new Map<number, number>();
  const counts = await database.rows<{ file: number; name: string; rows: number }>(
    `SELECT file, trim(reader) AS name, count(*)::INTEGER AS rows FROM reads
      JOIN (FROM voices SEMI JOIN code_rank ON code_rank.text = epc AND code_rank.form = voices.form WHERE point IS NULL) AS away
        ON away.id = voice
      GROUP BY ALL ORDER BY file, name`,
  );
  for (const { file, name, rows } of counts) {
    problems.add(sources[file]!.path, null, unknownReader(name, rows));
    away.set(file, (away.get(file) ?? 0) + rows);
  }
  return away;
}
