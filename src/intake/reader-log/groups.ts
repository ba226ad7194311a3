import type { ReaderLogSpec } from "../../model/facility.ts";
import type { ProblemList } from "../problems/problem-list.ts";
import type { LogDatabase, Parameters } from "./database.ts";
import { sampleLines } from "./files.ts";
import { type GroupedFile, type LogGroup, reportUnreadable } from "./layout.ts";
import { lineScan, rowsOf, textLines, typedRows } from "./rows.ts";
import * as sql from "./statements.ts";
import { allYears, breaksLimits, type Clock, judgedRows, measuredRows } from "./values.ts";
import type { Years } from "./zone.ts";

/** Rejected lines that are looked at one by one; with more, their files are read line by line. */
const mostRejects = 20_000;

/** What all groups of logs are read with. */
export interface GroupReading {
  database: LogDatabase;
  facilityZone: string | null;
  /** The years in which times are expected: reading others takes longer. */
  years: Years;
  /** What rows keep because any log has it. */
  kept: sql.Kept;
  scopeOf(spec: ReaderLogSpec): sql.ReaderScope;
  problems: ProblemList;
}

/**
 * Reads groups of logs into the tables `reads`, `dictionary` and `refused`. Delimited logs are read as typed columns; a file in which anything is
 * odd is forgotten and read line by line, as all other logs are. A log that cannot be read at all is a problem.
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
      const texts = await knownTexts(database, group, number);
      const isQuick = ({ mixesLineEnds }: GroupedFile) =>
        group.kind === "delimited" && !mixesLineEnds && !hasLast(group);
      const byLine = group.files.filter((file) => !isQuick(file));
      await inHalves(database, group.files.filter(isQuick), {
        read: async (files, firstId) => {
          byLine.push(...(await readTyped(reading, { ...group, files }, { ...texts, firstId })));
        },
        fail: (files) => byLine.push(...files),
      });
      byLine.sort((a, b) => a.index - b.index);
      await inHalves(database, byLine, {
        read: async (files, firstId) => {
          const part = { ...group, files };
          await readByLine(reading, part, { ...texts, firstId });
          const numbers = indicesOf(part);
          if ((await database.rows(sql.outOfBounds(numbers))).length === 0) return;
          await database.run(sql.deleteFiles(numbers));
          for (const index of numbers) read.set(index, { group, years: allYears });
          await readByLine({ ...reading, years: allYears }, part, { ...texts, firstId });
        },
        fail,
      });
    } catch (fault) {
      fail(group.files, fault);
    }
  }
  return read;
}

/** How a file was read. */
export interface ReadFile {
  group: LogGroup;
  /** In which its times on a wall clock lie. */
  years: Years;
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

function hasLast({ spec }: LogGroup): boolean {
  return spec.columns.lastTime !== null;
}

type Texts = Pick<sql.Encoding, "types" | "sizes">;
type FirstId = Pick<sql.Encoding, "firstId">;

/** Gives places to the texts in a sample of the logs; no result depends on what it holds. */
async function knownTexts(database: LogDatabase, group: LogGroup, number: number): Promise<Texts> {
  const types = { reader: `reader_${number}`, epc: `epc_${number}`, antenna: `antenna_${number}` };
  const from =
    group.kind === "parquet"
      ? { places: placesOf(group) }
      : { text: (await sampleLines(group.files)).join("\n") };
  await database.run(sql.createSample(rowsOf(group, textLines)), from);
  await database.run(sql.createTypes(types));
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
    await database.run(`${sql.dropRejects}; ${sql.deleteFrom(next!.id)}`);
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
  ids: Texts & FirstId,
): Promise<GroupedFile[]> {
  const { database, kept } = reading;
  const encoding = { ...ids, files: indicesOf(group) };
  const measured = measuredRows(typedRows(group), group.spec, reading);
  await database.run(sql.insertReads(encoding, measured, { kept, hasLast: hasLast(group) }), {
    places: placesOf(group),
    delimiter: group.delimiter,
  });
  const rejects = await database.rows<Reject>(sql.rejectedLines(mostRejects + 1));
  await database.run(sql.dropRejects);
  const isTooMany = rejects.length > mostRejects;
  const doubtful = new Set(
    rejects.filter((reject) => isTooMany || !isOneLine(reject)).map(({ file }) => encoding.files[file]!),
  );
  await readRejects(
    reading,
    group,
    encoding,
    rejects.filter(({ file }) => !doubtful.has(encoding.files[file]!)),
  );
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

/** Rejected lines on their own: comments among them are not rows, and some rows are only written unusually. */
async function readRejects(
  reading: GroupReading,
  group: LogGroup,
  encoding: sql.Encoding,
  rejects: readonly Reject[],
): Promise<void> {
  const { database, kept } = reading;
  if (rejects.length === 0) return;
  await database.run(sql.createRejected);
  await database.fill(
    "rejected",
    rejects.map(({ file, line }) => [file, line.trimEnd()]),
  );
  await database.run(sql.createJudged(judged(group, "FROM rejected", reading)));
  await database.run(
    sql.insertReads(encoding, sql.validRows("FROM judged"), { kept, hasLast: hasLast(group) }),
  );
  await database.run(sql.insertRefused(encoding.files, "FROM judged", "reason IS NOT NULL"));
}

/** Logs of so many bytes are judged once and kept: larger ones are judged once for the valid rows and once for the others. */
const smallBytes = 1 << 23;

/** Reads logs line by line, object by object or row by row. */
async function readByLine(reading: GroupReading, group: LogGroup, ids: Texts & FirstId): Promise<void> {
  const { database, kept } = reading;
  const encoding = { ...ids, files: indicesOf(group) };
  const from = { places: placesOf(group) };
  const isSmall =
    group.files.reduce((sum, { bytes }) => sum + bytes, 0) * (group.zipped ? 20 : 1) < smallBytes;
  let rows = judgedLines(group, reading);
  let given: Parameters = from;
  if (isSmall) {
    await database.run(sql.createJudged(rows), from);
    rows = "FROM judged";
    given = {};
  }
  await database.run(
    sql.insertReads(encoding, sql.validRows(rows), { kept, hasLast: hasLast(group) }),
    given,
  );
  if (!isSmall) await database.run(sql.dropRejects);
  await database.run(sql.insertRefused(encoding.files, rows, "reason IS NOT NULL"), given);
  if (group.kind !== "parquet") await database.run(sql.insertUndecoded(encoding.files));
  await database.run(sql.dropRejects);
  await nameEntries(reading, group, encoding);
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
