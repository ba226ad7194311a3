import type { ReaderLogSpec } from "../../model/facility.ts";
import type { ProblemList } from "../problems/problem-list.ts";
import type { LogDatabase } from "./database.ts";
import { sampleLines } from "./files.ts";
import { type GroupedFile, type LogGroup, reportUnreadable } from "./layout.ts";
import { lineScan, rowsOf, textLines, typedRows } from "./rows.ts";
import * as sql from "./statements.ts";
import { allYears, breaksLimits, type Clock, isOnWallClock, judgedRows, measuredRows } from "./values.ts";
import type { Years } from "./zone.ts";

/** Rejected lines that are looked at one by one; with more, their files are read line by line. */
const mostRejects = 20_000;

/** What all groups of logs are read with. */
export interface GroupReading {
  database: LogDatabase;
  facilityZone: string | null;
  /** The years in which times are expected: reading others takes longer. */
  years: Years;
  /** Groups of so many bytes are large. */
  largeBytes: number;
  /** Whether any log has columns that nothing is asked of. */
  keepsRest: boolean;
  scopeOf(spec: ReaderLogSpec): sql.ReaderScope;
  problems: ProblemList;
}

/** How a file was read. */
export interface ReadFile {
  group: LogGroup;
  /** In which its times on a wall clock lie. */
  years: Years;
}

/**
 * Reads groups of logs into the tables `reads`, `dictionary` and `refused`: small ones, JSON and Parquet line by line, large delimited ones as typed
 * columns, which takes a fifth of the time. A file of these in which anything is odd is forgotten and read line by line like the others. A log
 * that cannot be read at all is a problem.
 *
 * @returns how each file was read, by its number
 */
export async function readGroups(
  reading: GroupReading,
  groups: readonly LogGroup[],
): Promise<Map<number, ReadFile>> {
  const { database, years, problems } = reading;
  const read = new Map<number, ReadFile>();
  for (const [number, group] of groups.entries()) {
    for (const { index } of group.files) read.set(index, { group, years });
    const fail = (files: readonly GroupedFile[], fault: unknown) => {
      for (const { index } of files) read.delete(index);
      reportUnreadable(fault, files, problems);
    };
    try {
      const types = { reader: `reader_${number}`, epc: `epc_${number}`, antenna: `antenna_${number}` };
      const isLarge = bytesOf(group) >= reading.largeBytes;
      const texts = isLarge ? await sampleTexts(database, group, types) : null;
      const isTyped = ({ mixesLineEnds }: GroupedFile) =>
        isLarge && group.kind === "delimited" && !mixesLineEnds;
      const byLine = group.files.filter((file) => !isTyped(file));
      await inHalves(database, group.files.filter(isTyped), {
        read: async (files, firstId) => {
          byLine.push(...(await readTyped(reading, { ...group, files }, { ...texts!, firstId })));
        },
        fail: (files) => byLine.push(...files),
      });
      byLine.sort((a, b) => a.index - b.index);
      await inHalves(database, byLine, {
        read: async (files, firstId) => {
          const part = { ...group, files };
          const inYears = (tried: Years) =>
            readByLine({ ...reading, years: tried }, part, { types, texts, firstId });
          await inYears(years);
          if (!(await hasOtherYears(reading, part))) return;
          for (const { index } of files) read.set(index, { group, years: allYears });
          await inYears(allYears);
        },
        fail,
      });
    } catch (fault) {
      fail(group.files, fault);
    }
  }
  return read;
}

/** All rows of some files of a group, each judged on its own. */
export function judgedLines(group: LogGroup, clock: Clock): string {
  return judged(group, lineScan(group), clock);
}

function judged(group: LogGroup, lines: string, clock: Clock): string {
  return judgedRows(measuredRows(rowsOf(group, lines), group.spec, clock), group.spec);
}

export function placesOf({ files }: LogGroup): string[] {
  return files.map(({ place }) => place);
}

function indicesOf({ files }: LogGroup): number[] {
  return files.map(({ index }) => index);
}

/** Packed logs are many times as large unpacked. */
function bytesOf({ files, zipped }: LogGroup): number {
  return files.reduce((sum, { bytes }) => sum + bytes, 0) * (zipped ? 10 : 1);
}

type Texts = Pick<sql.Encoding, "types" | "sizes">;

/** Gives places to the texts in a sample of the logs; no result depends on what it holds. */
async function sampleTexts(
  database: LogDatabase,
  group: LogGroup,
  types: sql.Encoding["types"],
): Promise<Texts> {
  const isText = group.kind !== "parquet";
  const from = isText ? { text: (await sampleLines(group.files)).join("\n") } : { places: placesOf(group) };
  await database.run(sql.createSample(rowsOf(group, textLines)), from);
  return knownTexts(database, "sample", types);
}

async function knownTexts(
  database: LogDatabase,
  table: string,
  types: sql.Encoding["types"],
): Promise<Texts> {
  await database.run(sql.createTypes(table, types));
  const [sizes] = await database.rows<Texts["sizes"]>(sql.typeSizes(types));
  return { types, sizes: sizes! };
}

interface Attempt {
  /** @param firstId free from here on */
  read(files: GroupedFile[], firstId: number): Promise<void>;
  fail(files: GroupedFile[], fault: unknown): void;
}

/** Reads files in one go; where that fails in halves, until those that cannot be read stand alone. */
async function inHalves(database: LogDatabase, files: GroupedFile[], attempt: Attempt): Promise<void> {
  if (files.length === 0) return;
  const [next] = await database.rows<{ id: number }>(sql.nextId);
  try {
    await attempt.read(files, next!.id);
  } catch (fault) {
    const indices = files.map(({ index }) => index);
    await database.run(`${sql.dropRejects}; ${sql.deleteFrom(next!.id)}; ${sql.deleteFiles(indices)}`);
    // A statement that is wrong fails for every file.
    if (/^(?:Parser|Binder|Catalog) Error/.test(String((fault as Error).message))) throw fault;
    if (files.length === 1) return attempt.fail(files, fault);
    const middle = Math.ceil(files.length / 2);
    await inHalves(database, files.slice(0, middle), attempt);
    await inHalves(database, files.slice(middle), attempt);
  }
}

/** Reads delimited logs as typed columns. Returns the files of which only a look at every line can tell: they are forgotten again. */
async function readTyped(
  reading: GroupReading,
  group: LogGroup,
  ids: Texts & { firstId: number },
): Promise<GroupedFile[]> {
  const { database, keepsRest } = reading;
  const encoding = { ...ids, files: indicesOf(group) };
  const measured = measuredRows(typedRows(group), group.spec, reading);
  await database.run(sql.insertReads(encoding, measured, keepsRest), {
    places: placesOf(group),
    delimiter: group.delimiter,
  });
  const rejects = await database.rows<Reject>(sql.rejectedLines(mostRejects + 1));
  await database.run(sql.dropRejects);
  const fileOf = ({ file }: Reject) => encoding.files[file]!;
  const isTooMany = rejects.length > mostRejects;
  const doubtful = new Set(rejects.filter((reject) => isTooMany || !isOneLine(reject)).map(fileOf));
  const clear = rejects.filter((reject) => !doubtful.has(fileOf(reject)));
  if (clear.length > 0) {
    await database.run(sql.createRejected);
    await database.fill(
      "rejected",
      clear.map(({ file, line }) => [file, line.trimEnd()]),
    );
    // Comments among them are not rows, and some rows are only written unusually.
    await database.run(sql.createJudged(judged(group, "FROM rejected", reading)));
    await database.run(sql.insertReads(encoding, sql.validRows("FROM judged"), keepsRest));
    await database.run(sql.insertRefused(encoding.files, "FROM judged", "reason IS NOT NULL"));
  }
  await nameEntries(reading, group, encoding);
  const odd = await database.rows<{ file: number }>(sql.doubtfulFiles(encoding, breaksLimits(group.spec)));
  for (const { file } of odd) doubtful.add(file);
  if (doubtful.size > 0) await database.run(sql.deleteFiles([...doubtful]));
  return group.files.filter(({ index }) => doubtful.has(index));
}

interface Reject {
  /** Place in the group. */
  file: number;
  line: string;
  kind: string;
}

/** Whether a reject is one line as it stands: after a quote it may be more, and a question mark may stand for bytes that are not UTF-8. */
function isOneLine({ line, kind }: Reject): boolean {
  return (
    ["CAST", "MISSING COLUMNS", "TOO MANY COLUMNS"].includes(kind) &&
    /^[^"\r\n?\ufffd]+$/.test(line.trimEnd())
  );
}

interface LineEncoding {
  types: sql.Encoding["types"];
  /** Null for small logs: their rows are judged once and kept, and all their texts are known. */
  texts: Texts | null;
  firstId: number;
}

/** Reads logs line by line, object by object or row by row. */
async function readByLine(
  reading: GroupReading,
  group: LogGroup,
  { types, texts, firstId }: LineEncoding,
): Promise<void> {
  const { database, keepsRest } = reading;
  const lines = judgedLines(group, reading);
  const places = { places: placesOf(group) };
  const isKept = texts === null;
  if (isKept) await database.run(sql.createJudged(lines), places);
  const [rows, from] = isKept ? ["FROM judged", {}] : [lines, places];
  const known = texts ?? (await knownTexts(database, "judged", types));
  const encoding = { ...known, firstId, files: indicesOf(group) };
  await database.run(sql.insertReads(encoding, sql.validRows(rows), keepsRest), from);
  // A second look at the lines rejects the same ones again.
  if (!isKept) await database.run(sql.dropRejects);
  await database.run(sql.insertRefused(encoding.files, rows, "reason IS NOT NULL"), from);
  if (group.kind !== "parquet") await database.run(sql.insertUndecoded(encoding.files));
  await database.run(sql.dropRejects);
  await nameEntries(reading, group, encoding);
}

/** Whether times lie outside the years that were expected: then the files are forgotten again. */
async function hasOtherYears({ database, facilityZone }: GroupReading, group: LogGroup): Promise<boolean> {
  if (!isOnWallClock(group.spec, facilityZone)) return false;
  const outside = await database.rows(sql.outOfBounds(indicesOf(group)));
  if (outside.length === 0) return false;
  await database.run(sql.deleteFiles(indicesOf(group)));
  return true;
}

async function nameEntries(
  { database, scopeOf }: GroupReading,
  { spec }: LogGroup,
  encoding: sql.Encoding,
): Promise<void> {
  const { scope, point } = scopeOf(spec);
  const names = { scope, form: spec.epcForm };
  await database.groupingDirectly(() => database.run(sql.insertEntries(encoding, point), names));
  const [unmapped] = await database.rows<{ Count: bigint }>(sql.createUnmapped(encoding));
  if (unmapped!.Count === 0n) return;
  await database.run(sql.insertUnmapped(encoding, point), names);
  await database.run(sql.mapUnmapped);
}
