import { type Names, rankNames } from "./codes.ts";
import type { LogDatabase } from "./database/database.ts";
import type { LogFile } from "./files.ts";
import { type GroupReading, judgedLines, placesOf, type ReadFile, readGroups } from "./groups.ts";
import { findLayouts } from "./layout.ts";
import * as sql from "./statements.ts";

/* The rows of logs in the tables of the database, with what each text means and which rows repeat others. */

/** What the rows of logs are read with. */
export interface RowTask extends Omit<GroupReading, "database" | "kept"> {
  /** The rows of the table `reader_map`. */
  map: (string | number)[][];
}

/** What is known of logs once their rows are in the tables `reads`, `dictionary`, `tags`, `duplicates` and `refused`. */
export interface ReadRows {
  /** By the number of the file; a log that could not be read is missing. */
  read: ReadonlyMap<number, ReadFile>;
  names: Names;
  /** Whether any log tells the time of a last read. */
  hasLast: boolean;
  /** Rows whose code cannot be read and rows of readers that belong to no read point, by the number of the file. */
  rowsOf: ReadonlyMap<number, sql.FileRows>;
  /** Rows that repeat others, by the number of the file. */
  duplicates: ReadonlyMap<number, number>;
  /** Rows that are other events than reads, by the number of the file. */
  otherEvents: ReadonlyMap<number, number>;
}

/** Reads the rows of logs, of one facility or of a log that is described: there is no other reading. */
export async function readRows(
  database: LogDatabase,
  files: readonly LogFile[],
  task: RowTask,
): Promise<ReadRows> {
  const groups = await findLayouts(database, files, task.problems);
  const kept = {
    rest: groups.some(
      ({ kind, layout }) => kind === "json-lines" || kind === "items" || layout.rest.length > 0,
    ),
    last: groups.some(({ spec }) => spec.columns.lastTime !== null),
  };
  await database.run(sql.createTables(kept));
  await database.fill("reader_map", task.map);
  const read = await readGroups({ database, kept, ...task }, groups);
  const names = await rankNames(database, task.problems);
  const rows = await database.rows<sql.FileRows>(sql.fileRows);
  await refuseBadCodes(database, { rows, read, facilityZone: task.facilityZone });
  const duplicates = await findDuplicates(database, kept);
  return {
    read,
    names,
    hasLast: kept.last,
    rowsOf: new Map(rows.map((each) => [each.file, each])),
    duplicates,
    otherEvents: await rowsByFile(database, sql.otherEvents),
  };
}

async function rowsByFile(database: LogDatabase, statement: string): Promise<Map<number, number>> {
  const counts = await database.rows<{ file: number; rows: number }>(statement);
  return new Map(counts.map(({ file, rows }) => [file, rows]));
}

/** Fills the table `duplicates` with the rows that repeat others exactly. Returns how many there are in each file. */
async function findDuplicates(database: LogDatabase, kept: sql.Kept): Promise<Map<number, number>> {
  const [order] = await database.rows<sql.TimeOrder>(sql.timeOrder);
  const isSorted = order!.falls === 0 && order!.shared <= order!.rows * sql.mostSharedTimes;
  let bucket = "t";
  if (isSorted) await database.run(sql.timesBesideEqualOnes);
  else {
    const [span] = await database.rows<{ first: number; length: number }>(sql.timeSpan);
    bucket = sql.duplicateBucket(span!);
    await database.groupingDirectly(() => database.run(sql.bucketsOfEqualHashes(bucket)));
  }
  await database.run(sql.createDuplicates(bucket, kept));
  return rowsByFile(database, sql.fileDuplicates);
}

/** What there is to know of files to find their bad codes. */
interface BadCodes {
  rows: readonly sql.FileRows[];
  read: ReadonlyMap<number, ReadFile>;
  facilityZone: string | null;
}

/** Codes show their faults late, among rows that were taken in one go: those are looked for once more. */
async function refuseBadCodes(database: LogDatabase, { rows, read, facilityZone }: BadCodes): Promise<void> {
  for (const { file, badCode } of rows) {
    if (badCode === 0) continue;
    const { group, years } = read.get(file)!;
    const alone = { ...group, files: group.files.filter(({ index }) => index === file) };
    const judged = judgedLines(alone, { facilityZone, years });
    const isBad = sql.isBadCode(group.spec.epcForm);
    await database.run(sql.insertRefused([file], judged, isBad), { places: placesOf(alone) });
    await database.run(sql.dropRejects);
  }
}
