import type { ProblemList } from "../problem-list.ts";
import { delimitedLayout } from "./delimited-layout.ts";
import { jsonLayout } from "./json-sql.ts";
import { checkLevelUnit } from "./level-unit.ts";
import { linewise, type ReadCounts, type Reading, type RowSource, readLog } from "./log-reader.ts";
import type { LogLayout, LogSource } from "./log-source.ts";
import { parquetLayout } from "./parquet-sql.ts";
import { unreadableLog } from "./reader-log-problems.ts";
import { createReads } from "./reads-table.ts";

/** A log that was read, with what is known of its rows so far. */
export interface TakenLog {
  counts: ReadCounts;
  /** All of its rows, each judged on its own. */
  allRows: RowSource;
}

/** Reads all logs into the table `reads`; a log that cannot be read is a problem, and not in the result. */
export async function takeLogs(
  reading: Reading,
  sources: readonly LogSource[],
  problems: ProblemList,
): Promise<{ logs: Map<number, TakenLog>; keepsRest: boolean }> {
  const { database, points, facilityZone } = reading;
  const layouts: [LogSource, LogLayout][] = [];
  for (const source of sources) {
    const layout = await orProblem(source, problems, () => layoutOf(reading, source, problems));
    if (layout !== null) layouts.push([source, layout]);
  }
  const keepsRest = layouts.some(([{ kind }, { rest }]) => kind === "json-lines" || rest.length > 0);
  await createReads(database, keepsRest);
  const logs = new Map<number, TakenLog>();
  for (const [source, layout] of layouts) {
    const scope = { file: source.index, points, keepsRest };
    const counts = await orProblem(source, problems, () => readLog(reading, source, layout, scope));
    if (counts === null) continue;
    await checkLevelUnit(database, source, problems);
    logs.set(source.index, { counts, allRows: linewise(source, layout, facilityZone, "dropped") });
  }
  return { logs, keepsRest };
}

async function layoutOf(
  { database }: Reading,
  source: LogSource,
  problems: ProblemList,
): Promise<LogLayout | null> {
  if (source.kind === "delimited") return delimitedLayout(source, problems);
  return source.kind === "parquet"
    ? parquetLayout(database, source, problems)
    : jsonLayout(database, source, problems);
}

/** What the database cannot digest is a fault of the file or of its entry, to be named with the others. */
async function orProblem<T>(
  source: LogSource,
  problems: ProblemList,
  use: () => Promise<T | null>,
): Promise<T | null> {
  try {
    return await use();
  } catch (fault) {
    const [first = ""] = String(fault instanceof Error ? fault.message : fault).split("\n");
    // Machine paths say nothing to the reader and differ from place to place.
    problems.add(source.path, null, unreadableLog(first.replaceAll(source.place, source.path)));
    return null;
  }
}
