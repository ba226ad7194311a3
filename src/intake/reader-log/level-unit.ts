import type { ProblemList } from "../problem-list.ts";
import type { LogDatabase } from "./log-database.ts";
import type { LogSource } from "./log-source.ts";
import { tooStrong } from "./reader-log-problems.ts";

/** Objects to a log declared in hundredths whose levels are dBm: read so, all of them come out next to nothing below 0 dBm. */
export async function checkLevelUnit(
  database: LogDatabase,
  source: LogSource,
  problems: ProblemList,
): Promise<void> {
  if (source.spec.rssiUnit !== "cdBm") return;
  const [level] = await database.rows<{ strongest: string; weakest: string }>(
    `SELECT max(rssi)::VARCHAR AS strongest, min(rssi)::VARCHAR AS weakest FROM reads
      WHERE voice IN (SELECT id FROM voices WHERE file = ${source.index}) HAVING min(rssi) > -2`,
  );
  if (level !== undefined) problems.add(source.path, null, tooStrong(level.strongest, level.weakest));
}
