import type { ReaderLogSpec } from "../../model/facility.ts";
import type { ProblemList } from "../problems/problem-list.ts";
import type { LogDatabase } from "./database.ts";
import { sampleLines } from "./files.ts";
import { type GroupedFile, type LogGroup, reportUnreadable } from "./layout.ts";
import { lineScan, rowsOf, typedRows } from "./rows.ts";
import * as sql from "./statements.ts";
import { breaksLimits, judgedRows, measuredRows } from "./values.ts";

/** Rejected lines that are looked at one by one; with more, their files are read line by line. */
const mostRejects = 20_000;

/** What all groups of logs are read with. */
export interface GroupReading {
  database: LogDatabase;
  facilityZone: string | null;
  /** Whether any log has columns that nothing is asked of. */
  keepsRest: boolean;
  scopeOf(spec: ReaderLogSpec): sql.ReaderScope;
  problems: ProblemList;
}

/**
 * Reads groups of logs into the tables `reads`, `dictionary` and `refused`. Delimited logs are read as typed columns; a file in which anything is
 * odd is forgotten and read line by line, as all other logs are. A log that cannot be read at all is a problem.
 *
 * @returns the group of each file that was read, by the file's number
 */
export async function readGroups(
  reading: GroupReading,
  groups: readonly LogGroup[],
): Promise<Map<number, LogGroup>> {
  const { database, problems } = reading;
  const groupOf = new Map<number, LogGroup>();
  for (const [number, group] of groups.entries()) {
    for (const { index } of group.files) groupOf.set(index, group);
    const fail = (files: readonly GroupedFile[], fault: unknown) => {
      for (const { index } of files) groupOf.delete(index);
      reportUnreadable(fault, files, problems);
    };
    try {
      const texts = await knownTexts(database, group, number);
      const isQuick = ({ mixesLineEnds }: GroupedFile) => group.kind === "delimited" && !mixesLineEnds;
      const byLine = group.files.filter((file) => !isQuick(file));
      await inHalves(database, group.files.filter(isQuick), {
        read: async (files, firstId) => {
          byLine.push(...(await readTyped(reading, { ...group, files }, { ...texts, firstId })));
        },
        fail: (files) => byLine.push(...files),
      });
      byLine.sort((a, b) => a.index - b.index);
      await inHalves(database, byLine, {
        read: (files, firstId) => readByLine(reading, { ...group, files }, { ...texts, firstId }),
        fail,
      });
    } catch (fault) {
      fail(group.files, fault);
    }
  }
  return groupOf;
}

/** All rows of some files of a group, each judged on its own. */
export function judgedLines(group: LogGroup, facilityZone: string | null): string {
  return judged(group, lineScan(group), facilityZone);
}

function judged(group: LogGroup, lines: string, facilityZone: string | null): string {
  return judgedRows(measuredRows(rowsOf(group, lines), group.spec, facilityZone), group.spec);
}

export function placesOf({ files }: LogGroup): string[] {
  return files.map(({ place }) => place);
}

function indicesOf({ files }: LogGroup): number[] {
  return files.map(({ index }) => index);
}

type Texts = Pick<sql.Encoding, "types" | "sizes">;
type FirstId = Pick<sql.Encoding, "firstId">;

/** Gives places to the texts in a sample of the logs; no result depends on what it holds. */
async function knownTexts(database: LogDatabase, group: LogGroup, number: number): Promise<Texts> {
  const types = { reader: `reader_${number}`, epc: `epc_${number}`, antenna: `antenna_${number}` };
  const rows = rowsOf(group, "SELECT 0::BIGINT AS file, unnest($lines) AS line");
  const from =
    group.kind === "parquet" ? { places: placesOf(group) } : { lines: await sampleLines(group.files) };
  await database.run(sql.createSample(rows), from);
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
  const { database, facilityZone, keepsRest } = reading;
  const encoding = { ...ids, files: indicesOf(group) };
  const measured = measuredRows(typedRows(group), group.spec, facilityZone);
  await database.run(sql.insertReads(encoding, measured, keepsRest), {
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
  { database, facilityZone, keepsRest }: GroupReading,
  group: LogGroup,
  encoding: sql.Encoding,
  rejects: readonly Reject[],
): Promise<void> {
  if (rejects.length === 0) return;
  await database.run(sql.createRejected);
  await database.fill(
    "rejected",
    rejects.map(({ file, line }) => [file, line.trimEnd()]),
  );
  await database.run(sql.createJudged(judged(group, "SELECT * FROM rejected", facilityZone)));
  await database.run(sql.insertReads(encoding, sql.validRows("judged"), keepsRest));
  await database.run(sql.insertRefused(encoding.files, "judged", "reason IS NOT NULL"));
}

/** Reads logs line by line, object by object or row by row. */
async function readByLine(reading: GroupReading, group: LogGroup, ids: Texts & FirstId): Promise<void> {
  const { database, facilityZone, keepsRest } = reading;
  const encoding = { ...ids, files: indicesOf(group) };
  const rows = judgedLines(group, facilityZone);
  const from = { places: placesOf(group) };
  await database.run(sql.insertReads(encoding, sql.validRows(rows), keepsRest), from);
  await database.run(sql.dropRejects);
  await database.run(sql.insertRefused(encoding.files, rows, "reason IS NOT NULL"), from);
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
  await database.run(sql.createUnmapped(encoding));
  const unmapped = await database.run(sql.insertUnmapped(encoding, point), names);
  if (unmapped > 0) await database.run(sql.mapUnmapped);
}
