import type { ReaderLogSpec } from "../../model/facility.ts";
import type { ProblemList } from "../problems/problem-list.ts";
import type { LogDatabase } from "./database/database.ts";
import { givenItems, lineScan, textLines } from "./database/lines.ts";
import { sampleLines } from "./files.ts";
import { itemsOf } from "./items.ts";
import { type GroupedFile, type LogGroup, problemsOf } from "./layout.ts";
import { rowsOf, typedRows } from "./rows.ts";
import { mostSquaredBytes } from "./source/survey.ts";
import type { Years } from "./source/zone.ts";
import * as sql from "./statements.ts";
import { allYears, breaksLimits, type Clock, isOnWallClock, judgedRows, measuredRows } from "./values.ts";

/** Rejected lines that are looked at one by one; with more, their files are read line by line. */
const mostRejects = 20_000;

/** What all groups of logs are read with. */
export interface GroupReading {
  database: LogDatabase;
  facilityZone: string | null;
  /** The years in which times are expected: reading others takes longer. */
  years: Years;
  /** Whether all logs together are small. */
  areSmall: boolean;
  /** What rows keep because any log has it. */
  kept: sql.Kept;
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
 * Reads groups of logs into the tables `reads`, `dictionary` and `refused`. A log that cannot be read at all is a problem.
 *
 * @returns how each file was read, by its number
 */
export async function readGroups(
  reading: GroupReading,
  groups: readonly LogGroup[],
): Promise<Map<number, ReadFile>> {
  const read = new Map<number, ReadFile>();
  for (const [number, group] of groups.entries()) {
    const take = reading.areSmall ? readSmall : group.kind === "items" ? readItems : readLarge;
    const { done, failed } = await take(reading, group, number).catch((fault: unknown) => ({
      done: [],
      failed: group.files.map((file) => ({ file, fault })),
    }));
    for (const { files, result: years } of done)
      for (const { index } of files) read.set(index, { group, years });
    for (const { file, fault } of failed)
      for (const problem of problemsOf(fault, file)) reading.problems.report({ file: file.path }, problem);
  }
  if (reading.areSmall) await reading.database.run(sql.takeJudged(reading.kept));
  return read;
}

/** Small logs are judged line by line, once, and their rows are kept. */
function readSmall(reading: GroupReading, group: LogGroup): Promise<Outcome<Years>> {
  const { database, kept, scopeOf } = reading;
  const { spec, kind } = group;
  const own = { scope: scopeOf(spec), form: spec.epcForm, kept, hasLast: hasLast(group) };
  return inHalves(database, group.files, (files) => {
    const part = { ...group, files };
    const numbers = indicesOf(part);
    const insert = (rows: string) =>
      sql.insertJudged(rows, { ...own, files: numbers, areTextsPlain: kind === "delimited" });
    return inYears(reading, part, async (clock) => {
      if (kind === "items") {
        const texts: string[] = [];
        for (const [place, file] of files.entries())
          for await (const items of itemsOf(file)) texts.push(...items.map(({ text }) => given(place, text)));
        if (texts.length > 0)
          await database.run(insert(judged(part, givenItems, clock)), { text: texts.join("\n") });
      } else {
        const undecoded = kind === "parquet" ? [] : [sql.insertUndecoded(numbers), sql.dropRejects];
        await database.run([insert(judgedLines(part, clock)), ...undecoded].join("; "));
      }
    });
  });
}

/** An item as `givenItems` takes it. */
function given(place: number, text: string): string {
  return `${place}\x1f${text}`;
}

/**
 * Large delimited logs are read as typed columns, which takes a fifth of the time. A file in which anything is odd is forgotten and read line by line,
 * as JSON and Parquet are.
 */
async function readLarge(reading: GroupReading, group: LogGroup, number: number): Promise<Outcome<Years>> {
  const { database, kept, years } = reading;
  const isText = group.kind !== "parquet";
  const lines = isText ? await sampleLines(group.files) : [];
  await database.run(
    sql.createSample(rowsOf(group, textLines)),
    isText ? { text: lines.join("\n") } : undefined,
  );
  const encoding = await encodingOf(database, "sample", String(number));
  const isUsual = isOneToOne(group) && (await isMostlySound(database, group, lines));
  const isTyped = ({ mixesLineEnds }: GroupedFile) => isUsual && !mixesLineEnds;
  const typed = await inHalves(database, group.files.filter(isTyped), (files) =>
    readTyped(reading, { ...group, files }, encoding),
  );
  // What the columns cannot hold is told line by line; a statement that is wrong is wrong for every file.
  for (const { fault } of typed.failed)
    if (/^(?:Parser|Binder|Catalog) Error/.test(String((fault as Error).message))) throw fault;
  const clear = typed.done.flatMap(({ files, result: odd }) => files.filter((file) => !odd.includes(file)));
  const others = group.files.filter((file) => !clear.includes(file) && file.survey.fault === null);
  const lineByLine = await inHalves(database, others, (files) => {
    const part = { ...group, files };
    const numbers = indicesOf(part);
    return inYears(reading, part, async (clock) => {
      const judged = judgedLines(part, clock);
      const rows = sql.validRows(judged);
      await database.run(sql.insertReads(encoding, numbers, { rows, kept, hasLast: hasLast(group) }));
      // A second look at the lines rejects the same ones again.
      await database.run(sql.dropRejects);
      await database.run(sql.insertRefused(numbers, judged, "reason IS NOT NULL"));
      if (isText) await database.run(sql.insertUndecoded(numbers));
      await database.run(sql.dropRejects);
    });
  });
  const done = [{ files: clear, result: years }, ...lineByLine.done];
  const files = done.flatMap((each) => each.files);
  await nameEntries(reading, { ...group, files }, encoding);
  return { done, failed: lineByLine.failed };
}

/** Items of logs go to the database in portions of about so many characters. */
const portionLength = 1 << 22;

/** Logs in forms of their own are read item by item, so that no file need be in memory whole. */
async function readItems(reading: GroupReading, group: LogGroup, number: number): Promise<Outcome<Years>> {
  const { database, kept } = reading;
  let encoding: sql.Encoding | null = null;
  const failed = new Map<GroupedFile, unknown>();
  const take = async (part: LogGroup, clock: Clock, text: string) => {
    const numbers = indicesOf(part);
    await database.run(sql.createPortion(judged(part, givenItems, clock)), { text });
    await database.run(sql.insertRefused(numbers, "FROM portion", "reason IS NOT NULL"));
    encoding ??= await encodingOf(database, "portion", String(number));
    const rows = sql.validRows("FROM portion");
    await database.run(sql.insertReads(encoding, numbers, { rows, kept, hasLast: hasLast(group) }));
  };
  const years = await inYears(reading, group, async (clock) => {
    let texts: string[] = [];
    let length = 0;
    const portion = async () => {
      if (texts.length > 0) await take(group, clock, texts.join("\n"));
      texts = [];
      length = 0;
    };
    for (const [place, file] of group.files.entries()) {
      if (failed.has(file)) continue;
      try {
        for await (const items of itemsOf(file)) {
          for (const { text } of items) texts.push(given(place, text));
          length += items.reduce((sum, { text }) => sum + text.length, 0);
          if (length >= portionLength) await portion();
        }
      } catch (fault) {
        texts = texts.filter((text) => !text.startsWith(given(place, "")));
        await database.run(sql.deleteFiles([file.index]));
        failed.set(file, fault);
      }
    }
    await portion();
  });
  const files = group.files.filter((file) => !failed.has(file));
  if (encoding !== null) await nameEntries(reading, { ...group, files }, encoding);
  return {
    done: [{ files, result: years }],
    failed: [...failed].map(([file, fault]) => ({ file, fault })),
  };
}

/** What became of files that were read in one go or in parts. */
interface Outcome<T> {
  done: { files: readonly GroupedFile[]; result: T }[];
  failed: { file: GroupedFile; fault: unknown }[];
}

/** Reads files in one go; where that fails in halves, until those that cannot be read stand alone. */
async function inHalves<T>(
  database: LogDatabase,
  files: GroupedFile[],
  read: (files: GroupedFile[]) => Promise<T>,
): Promise<Outcome<T>> {
  const [file] = files;
  if (file === undefined) return { done: [], failed: [] };
  try {
    return { done: [{ files, result: await read(files) }], failed: [] };
  } catch (fault) {
    const numbers = files.map(({ index }) => index);
    await database.run(`${sql.dropRejects}; ${sql.deleteFiles(numbers)}`);
    if (files.length === 1) return { done: [], failed: [{ file, fault }] };
    const middle = Math.ceil(files.length / 2);
    const first = await inHalves(database, files.slice(0, middle), read);
    const second = await inHalves(database, files.slice(middle), read);
    return { done: [...first.done, ...second.done], failed: [...first.failed, ...second.failed] };
  }
}

/** Reads with the clock of the years that are expected, and again with that of all years where times lie outside them. */
async function inYears(
  { database, facilityZone, years }: GroupReading,
  group: LogGroup,
  read: (clock: Clock) => Promise<void>,
): Promise<Years> {
  await read({ facilityZone, years });
  if (!isOnWallClock(group.spec, facilityZone)) return years;
  const outside = await database.rows(sql.outOfBounds(indicesOf(group)));
  if (outside.length === 0) return years;
  await database.run(sql.deleteFiles(indicesOf(group)));
  await read({ facilityZone, years: allYears });
  return allYears;
}

/** Reads delimited logs as typed columns. Returns the files of which only a look at every line can tell: they are forgotten again. */
async function readTyped(
  reading: GroupReading,
  group: LogGroup,
  encoding: sql.Encoding,
): Promise<GroupedFile[]> {
  const { database, kept } = reading;
  const numbers = indicesOf(group);
  const measured = measuredRows(typedRows(group), group.spec, reading);
  const rows = hasLast(group) ? sql.markUnreadLast(measured) : measured;
  const insert = sql.insertReads(encoding, numbers, { rows, kept, hasLast: hasLast(group) });
  await unlessLongLines(database, group.files, () => database.run(insert));
  const rejects = await database.rows<Reject>(sql.rejectedLines(mostRejects + 1));
  await database.run(sql.dropRejects);
  const isTooMany = rejects.length > mostRejects;
  const odd = new Set(
    rejects.filter((reject) => isTooMany || !isOneLine(reject)).map(({ file }) => numbers[file]!),
  );
  const lines = rejects.filter(({ file }) => !odd.has(numbers[file]!));
  if (lines.length > 0) {
    await database.run(sql.createRejected);
    await database.fill(
      "rejected",
      lines.map(({ file, line }) => [file, line.trimEnd()]),
    );
    // Comments among them are not rows, and some rows are only written unusually.
    await database.run(sql.createPortion(judged(group, "FROM rejected", reading)));
    const valid = { rows: sql.validRows("FROM portion"), kept, hasLast: hasLast(group) };
    await database.run(sql.insertReads(encoding, numbers, valid));
    await database.run(sql.insertRefused(numbers, "FROM portion", "reason IS NOT NULL"));
  }
  // Of several files the database forgets, without a reject, what a quote that is never closed has swallowed.
  await Promise.all(group.files.map(({ survey }) => survey.done));
  for (const { index, survey } of group.files) if (survey.hasOpenQuote) odd.add(index);
  const doubtful = sql.doubtfulFiles(breaksLimits(group.spec));
  for (const { file } of await database.rows<{ file: number }>(doubtful)) odd.add(file);
  const files = group.files.filter(({ index }) => odd.has(index));
  if (files.length > 0) await database.run(sql.deleteFiles(files.map(({ index }) => index)));
  return files;
}

/** Each field too many is a reject of its own: of long lines the database would make millions. The walk over the files tells while they are read. */
async function unlessLongLines(
  database: LogDatabase,
  files: readonly GroupedFile[],
  read: () => Promise<unknown>,
): Promise<void> {
  const isLong = () => files.some(({ survey }) => survey.hasLongLines || survey.fault !== null);
  const fault = "lines too long for typed columns";
  if (isLong()) throw new Error(fault);
  const watch = setInterval(() => {
    if (isLong()) database.interrupt();
  }, 20);
  try {
    await read();
  } finally {
    clearInterval(watch);
  }
}

/**
 * Whether typed columns will reject few lines, going by a sample; in a log with many, each line is looked at anyway. Comments and headers among the rows
 * are rejected too.
 */
async function isMostlySound(
  database: LogDatabase,
  group: LogGroup,
  lines: readonly string[],
): Promise<boolean> {
  const [sound] = await database.rows<sql.SampleRows>(sql.sampleRows);
  const filled = lines.filter((line) => line.trim() !== "");
  const bytes = lines.reduce((sum, line) => sum + line.length + 1, 0);
  const squared = filled.reduce((sum, line) => sum + line.length ** 2, 0);
  const share = Math.max(1, bytesOf(group) / Math.max(1, bytes));
  return (
    (filled.length - sound!.rows) * share <= mostRejects &&
    (squared - sound!.squared) * share <= mostSquaredBytes
  );
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

/** All rows of the files of a group, each judged on its own. */
export function judgedLines(group: LogGroup, clock: Clock): string {
  return judged(group, lineScan(group), clock);
}

function judged(group: LogGroup, lines: string, clock: Clock): string {
  return judgedRows(measuredRows(rowsOf(group, lines), group.spec, clock), group.spec);
}

function indicesOf({ files }: LogGroup): number[] {
  return files.map(({ index }) => index);
}

/** Whether its rows tell a last time. */
function hasLast({ spec }: LogGroup): boolean {
  return spec.columns.lastTime !== null;
}

/** Whether each row is a read, and each column that is asked for holds one value of it as it stands. */
export function isOneToOne({ kind, layout: { columns } }: LogGroup): boolean {
  const { only, epc, date } = columns;
  return kind === "delimited" && only.length === 0 && epc.length === 1 && date === null;
}

/** Packed logs are many times as large unpacked. */
function bytesOf({ files, zipped }: LogGroup): number {
  return files.reduce((sum, { bytes }) => sum + bytes, 0) * (zipped ? 10 : 1);
}

/** Gives places to the texts of a table. No result depends on which texts they are. */
async function encodingOf(database: LogDatabase, table: string, name: string): Promise<sql.Encoding> {
  const types = { reader: `reader_${name}`, epc: `epc_${name}`, antenna: `antenna_${name}` };
  await database.run(sql.createTypes(table, types));
  const [found] = await database.rows<sql.Encoding["sizes"] & { firstId: number }>(sql.typeSizes(types));
  const { firstId, ...sizes } = found!;
  return { types, sizes, firstId };
}

/** Enters what the rows of a group carry into the dictionary. */
async function nameEntries(
  { database, scopeOf }: GroupReading,
  group: LogGroup,
  encoding: sql.Encoding,
): Promise<void> {
  if (group.files.length === 0) return;
  const names = { ...scopeOf(group.spec), form: group.spec.epcForm };
  const [unmapped] = await database.rows<{ Count: bigint }>(sql.createUnmapped(encoding));
  if (unmapped!.Count > 0n) {
    await database.run(sql.insertUnmapped(names));
    await database.run(sql.mapUnmapped);
  }
  await database.groupingDirectly(() => database.run(sql.insertEntryRows(indicesOf(group))));
  await database.run(sql.insertEntries(encoding, names));
}
