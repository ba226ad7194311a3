import { type Names, rankNames } from "./codes.ts";
import { type LogDatabase, usualLargeBytes } from "./database/database.ts";
import { areSmall, type LogFile } from "./files.ts";
import { type GroupReading, judgedLines, type ReadFile, readGroups } from "./groups.ts";
import { findLayouts } from "./layout.ts";
import * as sql from "./statements.ts";
import { otherEvent } from "./values.ts";

/* The rows of logs in the tables of the database, with what each text means and which rows repeat others. */

/** What the rows of logs are read with. */
export interface RowTask extends Omit<GroupReading, "database" | "kept" | "areSmall"> {
  /** The rows of the table `reader_map`. */
  map: (string | number)[][];
  /** From how many bytes on logs are large; no result depends on it. */
  largeBytes?: number;
}

/** What is known of logs once their rows are in the tables `reads`, `dictionary`, `tags`, `duplicates` and `refused`. */
export interface ReadRows {
  /** By the number of the file; a log that could not be read is missing. */
  read: ReadonlyMap<number, ReadFile>;
  names: Names;
  /** Whether any log tells the time of a last read. */
  hasLast: boolean;
  /** The weakest level of each read point, by its number, in hundredths of a dBm; a point without levels is missing. */
  weakest: ReadonlyMap<number, number>;
  /** Whether there is a table `duplicates`. */
  hasDuplicates: boolean;
  /** What became of the rows of a file, by its number. */
  countsOf(file: number): RowCounts;
}

/** What became of the rows of a file. */
interface RowCounts {
  /** Rows that are whole, of whatever reader. */
  valid: number;
  /** Those of readers that belong to no read point, by reader. */
  elsewhere: { reader: string; rows: number }[];
  /** Those that repeat others. */
  repeated: number;
  otherEvents: number;
  /** By reason, most rows first. */
  refused: sql.Refused[];
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
  const isSmall = areSmall(files, task.largeBytes ?? usualLargeBytes);
  const read = await readGroups({ database, kept, areSmall: isSmall, ...task }, groups);
  const names = await rankNames(database, { areUnique: isSmall, problems: task.problems });
  const rows = await database.rows<sql.FileRows>(sql.fileRows);
  const bad = new Set(rows.flatMap(({ isBadCode, file }) => (isBadCode ? [file] : [])));
  if (isSmall && bad.size > 0) await database.run(sql.insertBadCodes);
  else await refuseBadCodes(database, { bad, read, facilityZone: task.facilityZone });
  const duplicates = await findDuplicates(database, kept, isSmall);
  const refused = await database.rows<sql.RefusedOrOther>(sql.refusedRows);
  return {
    read,
    names,
    hasLast: kept.last,
    weakest: weakestLevels(rows),
    hasDuplicates: duplicates.length > 0,
    countsOf: rowCounts({ rows, duplicates, refused }),
  };
}

function weakestLevels(rows: readonly sql.FileRows[]): Map<number, number> {
  const levels = new Map<number, number>();
  for (const { isBadCode, point, weakest } of rows)
    if (!isBadCode && point !== null && weakest !== null)
      levels.set(point, Math.min(weakest, levels.get(point) ?? weakest));
  return levels;
}

function rowCounts(counted: {
  rows: readonly sql.FileRows[];
  duplicates: readonly sql.FileDuplicates[];
  refused: readonly sql.RefusedOrOther[];
}): ReadRows["countsOf"] {
  const rowsOf = byFile(counted.rows.filter(({ isBadCode }) => !isBadCode));
  const duplicatesOf = byFile(counted.duplicates);
  const refusedOf = byFile(counted.refused);
  return (file) => {
    const valid = rowsOf(file);
    const refused = refusedOf(file);
    return {
      valid: sumOf(valid),
      elsewhere: valid.flatMap(({ elsewhere, rows }) =>
        elsewhere === null ? [] : { reader: elsewhere, rows },
      ),
      repeated: sumOf(duplicatesOf(file)),
      otherEvents: sumOf(refused.filter(({ reason }) => reason === otherEvent)),
      refused: refused.filter((each): each is sql.Refused => each.reason !== otherEvent),
    };
  };
}

function byFile<T extends { file: number }>(rows: readonly T[]): (file: number) => readonly T[] {
  const own = new Map<number, T[]>();
  for (const row of rows) {
    const known = own.get(row.file);
    if (known === undefined) own.set(row.file, [row]);
    else known.push(row);
  }
  return (file) => own.get(file) ?? [];
}

export function sumOf(counts: readonly { rows: number }[]): number {
  return counts.reduce((sum, { rows }) => sum + rows, 0);
}

/** Fills the table `duplicates` with the rows that repeat others exactly, where there are any. Returns how many there are in each file. */
async function findDuplicates(
  database: LogDatabase,
  kept: sql.Kept,
  isSmall: boolean,
): Promise<sql.FileDuplicates[]> {
  const bucket = await findDuplicateTimes(database, isSmall);
  const [keys] = await database.rows<{ Count: bigint }>(sql.createDuplicateKeys(bucket, kept));
  if (keys!.Count === 0n) return [];
  await database.run(sql.createDuplicates(bucket, kept));
  return database.rows<sql.FileDuplicates>(sql.fileDuplicates);
}

/** Fills the table `duplicate_times`. Returns SQL for the time bucket of a read. */
async function findDuplicateTimes(database: LogDatabase, isSmall: boolean): Promise<string> {
  if (isSmall) {
    await database.run(sql.timesOfSeveral);
    return "t";
  }
  const [order] = await database.rows<sql.TimeOrder>(sql.timeOrder);
  if (order!.falls === 0 && order!.shared <= order!.rows * sql.mostSharedTimes) {
    await database.run(sql.timesBesideEqualOnes);
    return "t";
  }
  const [span] = await database.rows<{ first: number; length: number }>(sql.timeSpan);
  const bucket = sql.duplicateBucket(span!);
  await database.groupingDirectly(() => database.run(sql.bucketsOfEqualHashes(bucket)));
  return bucket;
}

/** What there is to know of files to find their bad codes. */
interface BadCodes {
  /** Files that have any. */
  bad: ReadonlySet<number>;
  read: ReadonlyMap<number, ReadFile>;
  facilityZone: string | null;
}

/** Codes show their faults late, among rows that were taken in one go: those are looked for once more. */
async function refuseBadCodes(database: LogDatabase, { bad, read, facilityZone }: BadCodes): Promise<void> {
  for (const file of bad) {
    const { group, years } = read.get(file)!;
    const alone = { ...group, files: group.files.filter(({ index }) => index === file) };
    const judged = judgedLines(alone, { facilityZone, years });
    const isBad = sql.isBadCode(group.spec.epcForm);
    await database.run(sql.insertRefused([file], judged, isBad));
    await database.run(sql.dropRejects);
  }
}
