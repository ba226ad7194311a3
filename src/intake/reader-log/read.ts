import type { LoggedCode } from "../../codes/nearest-reading.ts";
import type { ReaderLogSpec } from "../../model/facility.ts";
import type { ProblemList } from "../problems/problem-list.ts";
import {
  readerLogEmpty,
  readerLogForm,
  readerLogOnlyOthers,
  readerLogReaderUnknown,
  readerLogRowsRepeated,
  readerLogSameFile,
} from "../problems/reader-log.ts";
import type { Names } from "./codes.ts";
import { LogDatabase, type NumberColumn } from "./database/database.ts";
import { fillTravels, type ReaderSightings, type Travels } from "./database/travels.ts";
import { areSmall, findLogs, headOf, type LogFile, sameFiles } from "./files.ts";
import { otherColumns as columnsBesideCodes } from "./other-code-columns.ts";
import { type ReadRows, type RowTask, readRows, sumOf } from "./read-rows.ts";
import {
  type ColumnTexts,
  type ForeignCodes,
  type HeardTags,
  type IdleCode,
  type IdleMinute,
  type IdleStay,
  type LogSpan,
  noHundredths,
  type PassWindow,
  type ReaderLogFile,
  type ReaderLogs,
  readPointsOf,
  type SecondCount,
  type SettingsOfLog,
  type WalkSession,
} from "./reader-log.ts";
import { checkHundredths, reportRefused } from "./refused.ts";
import { settingsAbove, settingsHeadBytes, settingsIn } from "./source/settings.ts";
import * as sql from "./statements.ts";
import { unreadLastTimes } from "./unread-last-times.ts";
import { yearsOf } from "./values.ts";
import { fillWindows } from "./windows.ts";

/** What a facility says of its reader logs. */
export interface ReaderLogTask {
  /** The facility's folder. */
  folder: string;
  specs: readonly ReaderLogSpec[];
  windows: readonly PassWindow[];
  /** The times in which reads outside the windows count as idle. */
  sessions: readonly WalkSession[];
  /** The canonical codes of the loads. */
  loadCodes: ReadonlySet<string>;
  /** For times that state no offset and no zone of their own. */
  facilityZone: string | null;
  /** When tags were on journeys over the facility; left out where none were. */
  travels?: Travels | null;
  problems: ProblemList;
  /** Left out for as many as the machine has; no result depends on it. */
  threads?: number;
  /** From how many bytes on logs are large; no result depends on it. */
  largeBytes?: number;
}

/** Reads the reader logs of a facility: what was read in each pass's window, what outside all of them, and what became of every row. */
export async function readReaderLogs(task: ReaderLogTask): Promise<ReaderLogs> {
  const { folder, specs, windows, sessions, loadCodes, facilityZone, travels = null, problems } = task;
  const files = await findLogs(folder, specs, problems);
  const earlierOf = await sameFiles(files);
  const points = pointsOf(specs, windows);
  const database = await LogDatabase.open(
    files.map(({ place }) => place),
    { isSmall: areSmall(files), ...(task.threads === undefined ? {} : { threads: task.threads }) },
  );
  try {
    const own = files.filter(({ index }) => !earlierOf.has(index));
    const rows = await readRows(database, own, {
      ...readerMap(specs, points),
      facilityZone,
      years: yearsOf([...windows, ...(travels?.trips ?? [])]),
      ...(task.largeBytes === undefined ? {} : { largeBytes: task.largeBytes }),
      problems,
    });
    const counted = await countFiles(database, { files, earlierOf, rows }, problems);
    const placed = await fillWindows(database, { windows, sessions, points });
    if (travels !== null) await fillTravels(database, travels, { codes: rows.names.codes, points });
    const createPlaces = rows.hasLast ? sql.createPlacesOfSpans : sql.createPlaces;
    const placing = {
      ...placed,
      points: points.size,
      hasTravels: travels !== null,
      hasDuplicates: rows.hasDuplicates,
    };
    await database.run(createPlaces(placing, rows.names.counts));
    const unknown = rows.hasLast ? await database.rows<{ pass: number; code: number }>(sql.unknownReads) : [];
    const heard = await passReads(database, rows.names);
    const spans = await spansOf(database, heard, { windows, points });
    const search = { database, specs, read: rows.read.values(), windows, facilityZone };
    const unread = await unreadLastTimes(search);
    await reportChanges(files, problems);
    return {
      heard,
      unknown: unknown.map(({ pass, code }) => ({ pass, code: rows.names.codes[code]! })),
      ...(await idleReads(database, { spans, sessions, names: rows.names })),
      weakest: [...points].flatMap(([readPoint, point]) => {
        const rssi = rows.weakest.get(point);
        return rssi === undefined ? [] : { readPoint, rssi };
      }),
      settings: await statedSettings(database, own),
      doubtfulSeconds: await doubtfulSeconds(database, spans),
      spans: spans.map(({ readPoint, fromUs, toUs }): LogSpan => ({ readPoint, fromUs, toUs })),
      foreign: await foreignCodes(database, { heard, windows, points, ...rows }, loadCodes),
      unreadLastTimes: unread,
      files: counted,
      travelled:
        travels === null
          ? null
          : await travelledReads(database, { files, codes: rows.names.codes, points, hasLast: rows.hasLast }),
    };
  } finally {
    database.close();
    await Promise.all(files.map(({ survey }) => survey.done));
  }
}

async function travelledReads(
  database: LogDatabase,
  {
    files,
    codes,
    points,
    hasLast,
  }: {
    files: readonly LogFile[];
    codes: readonly string[];
    points: ReadonlyMap<string, number>;
    hasLast: boolean;
  },
): Promise<ReaderSightings> {
  const names = ["code", "point", "t", "file"];
  const { length, columns } = await database.numberColumns(sql.travelledReads(hasLast), names);
  const [code, readPoint, timeUs, file] = columns as [NumberColumn, NumberColumn, NumberColumn, NumberColumn];
  const paths: string[] = [];
  for (const { index, path } of files) paths[index] = path;
  return { length, code, readPoint, timeUs, file, codes, readPoints: [...points.keys()], files: paths };
}

/** The hash of a log is to be that of the rows that are judged. */
async function reportChanges(files: readonly LogFile[], problems: ProblemList): Promise<void> {
  for (const { path, survey } of files) {
    const problem = await survey.changed();
    if (problem !== null) problems.report({ file: path }, problem);
  }
}

/** The read points that logs or windows speak of, by number in the order of first mention. */
function pointsOf(specs: readonly ReaderLogSpec[], windows: readonly PassWindow[]): Map<string, number> {
  const points = new Set([...specs.flatMap(readPointsOf), ...windows.map(({ readPoint }) => readPoint)]);
  return new Map([...points].map((point, index) => [point, index]));
}

/** How the readers of each entry stand for read points. */
function readerMap(
  specs: readonly ReaderLogSpec[],
  points: ReadonlyMap<string, number>,
): Pick<RowTask, "scopeOf" | "map"> {
  const textOf = ({ readPoint }: ReaderLogSpec) =>
    JSON.stringify(readPoint.kind === "fixed" ? readPoint.readPoint : Object.entries(readPoint.values));
  const scopes = [...new Set(specs.map(textOf))];
  const map = scopes.flatMap((text, scope) => {
    const { readPoint } = specs.find((spec) => textOf(spec) === text)!;
    const values = readPoint.kind === "fixed" ? [] : Object.entries(readPoint.values);
    return values.map(([reader, point]) => [scope, reader, points.get(point)!]);
  });
  const scopeOf = (spec: ReaderLogSpec): sql.ReaderScope => ({
    scope: scopes.indexOf(textOf(spec)),
    point: spec.readPoint.kind === "fixed" ? points.get(spec.readPoint.readPoint)! : null,
  });
  return { scopeOf, map };
}

interface CountedLogs {
  files: readonly LogFile[];
  /** The earlier one of two files with the same bytes, by the later one. */
  earlierOf: ReadonlyMap<number, number>;
  rows: ReadRows;
}

/** What became of the rows of each file, and what is to be said of them. */
async function countFiles(
  database: LogDatabase,
  { files, earlierOf, rows: { read, names, countsOf } }: CountedLogs,
  problems: ProblemList,
): Promise<ReaderLogFile[]> {
  const counted: ReaderLogFile[] = [];
  for (const file of files) {
    const { index, path, bytes, spec, survey } = file;
    const none = spec.only.length === 0 ? null : 0;
    await survey.done;
    const base = { path, sha256: survey.sha256, bytes };
    if (survey.fault !== null) {
      problems.report({ file: path }, survey.fault);
      counted.push({ ...base, rows: 0, used: 0, repeated: 0, elsewhere: 0, refused: 0, otherEvents: none });
      continue;
    }
    const earlier = earlierOf.get(index);
    if (earlier !== undefined) {
      const { rows, used, repeated, ...others } = counted[earlier]!;
      problems.report({ file: path }, readerLogSameFile.as(others.path));
      counted.push({ ...others, ...base, rows, used: 0, repeated: used + repeated });
      continue;
    }
    if (!read.has(index)) {
      counted.push({ ...base, rows: 0, used: 0, repeated: 0, elsewhere: 0, otherEvents: none, refused: 0 });
      continue;
    }
    const { valid, elsewhere: others, repeated, otherEvents, refused: reasons } = countsOf(index);
    for (const { reader, rows } of others)
      problems.report({ file: path }, readerLogReaderUnknown.with({ name: reader, rows }));
    const elsewhere = sumOf(others);
    const refused = sumOf(reasons);
    const rows = valid + refused + otherEvents;
    counted.push({
      ...base,
      rows,
      used: valid - elsewhere - repeated,
      repeated,
      elsewhere,
      otherEvents: none === null ? null : otherEvents,
      refused,
    });
    if (rows === 0)
      problems.report(
        { file: path },
        spec.rows === null ? readerLogEmpty : readerLogForm.notFound(spec.rows.join(".")),
      );
    else if (otherEvents === rows) problems.report({ file: path }, readerLogOnlyOthers.with(rows));
    if (repeated > 0) problems.report({ file: path }, readerLogRowsRepeated.with(repeated));
    await checkHundredths(database, file, problems);
    await reportRefused(database, { file, reasons, rows, badCodes: names.badCodes }, problems);
  }
  return counted;
}

/** What was read inside the windows, by pass, code and antenna. */
async function passReads(database: LogDatabase, { codes, antennas, counts }: Names): Promise<HeardTags> {
  const read = await database.numberColumns(sql.passReads(counts, noHundredths), sql.passColumns);
  const whole = (name: (typeof sql.passColumns)[number]) =>
    Int32Array.from(read.columns[sql.passColumns.indexOf(name)]!);
  const wide = (name: (typeof sql.passColumns)[number]) =>
    Float64Array.from(read.columns[sql.passColumns.indexOf(name)]!);
  const [code, antenna] = [whole("code"), whole("antenna")];
  const readCodes = occurring(codes, code);
  const readAntennas = occurring(antennas, antenna);
  return {
    length: read.length,
    pass: whole("pass"),
    code: code.map((index) => readCodes.place[index]!),
    antenna: antenna.map((index) => (index < 0 ? -1 : readAntennas.place[index]!)),
    reads: wide("reads"),
    rssi: whole("rssi"),
    firstUs: wide("first_us"),
    lastUs: wide("last_us"),
    codes: readCodes.texts,
    antennas: readAntennas.texts,
  };
}

/** What was read between the passes: by minute, by stay, and by session, code and antenna. */
async function idleReads(
  database: LogDatabase,
  {
    spans,
    sessions,
    names: { codes, antennas, counts },
  }: { spans: readonly PointSpan[]; sessions: readonly WalkSession[]; names: Names },
): Promise<Pick<ReaderLogs, "idle" | "stays" | "idleCodes">> {
  if (sessions.length === 0 || spans.every(({ outside }) => outside === 0))
    return { idle: [], stays: [], idleCodes: [] };
  await database.run(sql.createIdle);
  const idle = await database.rows<IdleMinute>(sql.idleMinutes(counts));
  const stays = await database.rows<IdleStay>(sql.idleStays(counts));
  const tags = await database.rows<Omit<IdleCode, "code" | "antenna"> & { code: number; antenna: number }>(
    sql.idleTags(counts, noHundredths),
  );
  const idleCodes = tags.map((tag) => ({
    ...tag,
    code: codes[tag.code]!,
    antenna: antennas[tag.antenna] ?? null,
  }));
  return { idle, stays, idleCodes };
}

/** The settings that logs state above their reads, in the order of the files. */
async function statedSettings(database: LogDatabase, files: readonly LogFile[]): Promise<SettingsOfLog[]> {
  const stated = new Map<number, SettingsOfLog["values"]>();
  for (const file of files) {
    if (file.kind === "parquet" || file.survey.fault !== null) continue;
    const head = (await headOf(file, settingsHeadBytes)).bytes.toString("utf8");
    const found = file.kind === "delimited" ? settingsIn(head) : settingsAbove(head, codeNames(file.spec));
    const values = [...found].map(([name, value]) => ({ name, value }));
    if (values.length > 0) stated.set(file.index, values);
  }
  if (stated.size === 0) return [];
  const times = await database.rows<sql.FileTimes>(sql.fileTimes([...stated.keys()]));
  return files.flatMap(({ index, path, spec }) => {
    const time = times.find(({ file }) => file === index);
    if (time === undefined) return [];
    const { fromUs, toUs } = time;
    return [{ path, readPoints: readPointsOf(spec), fromUs, toUs, values: stated.get(index)! }];
  });
}

/** The last keys of the columns that hold codes, as they stand in the text. */
function codeNames({ columns }: LogFile["spec"]): string[] {
  return columns.epc.flatMap((name) => (typeof name === "string" ? [name.split(".").at(-1)!] : []));
}

interface HeardCodes extends Pick<ReadRows, "names" | "read"> {
  heard: HeardTags;
  windows: readonly PassWindow[];
  points: ReadonlyMap<string, number>;
}

/** The read points of windows where no code of the loads was read, inside the windows or outside, with the codes that were. */
async function foreignCodes(
  database: LogDatabase,
  { heard, windows, points, names: { codes }, read: files }: HeardCodes,
  loadCodes: ReadonlySet<string>,
): Promise<ForeignCodes[]> {
  const pointOfPass = new Map(windows.map(({ pass, readPoint }) => [pass, readPoint]));
  const isOfLoad = heard.codes.map((code) => loadCodes.has(code));
  const open = new Set(pointOfPass.values());
  for (let row = 0; row < heard.length && open.size > 0; row += 1)
    if (isOfLoad[heard.code[row]!]) open.delete(pointOfPass.get(heard.pass[row]!)!);
  const foreign: ForeignCodes[] = [];
  for (const readPoint of open) {
    const point = points.get(readPoint)!;
    const read = await database.rows<{ code: number }>(sql.codesAt(point));
    if (read.some(({ code }) => loadCodes.has(codes[code]!))) continue;
    const written = await database.rows<LoggedCode>(sql.loggedCodesAt(point));
    if (written.length === 0) continue;
    const groups = new Set([...files.values()].map(({ group }) => group));
    const otherColumns: ColumnTexts[] = [];
    for (const group of groups)
      if (readPointsOf(group.spec).includes(readPoint))
        otherColumns.push(...(await columnsBesideCodes(database, group)));
    foreign.push({ readPoint, codes: written, otherColumns });
  }
  return foreign;
}

/** Only texts that occur, in their order, with the new place of each. */
function occurring(texts: readonly string[], indices: Int32Array): { texts: string[]; place: Int32Array } {
  const occurs = new Uint8Array(texts.length);
  for (const index of indices) if (index >= 0) occurs[index] = 1;
  const place = new Int32Array(texts.length);
  let next = 0;
  for (let index = 0; index < texts.length; index += 1) {
    place[index] = next;
    next += occurs[index]!;
  }
  return { texts: texts.filter((_, index) => occurs[index] === 1), place };
}

/** The time that the logs of a read point cover, and its reads inside the windows and outside all of them. */
interface PointSpan extends LogSpan {
  point: number;
  inside: number;
  outside: number;
}

interface IdleSpan {
  point: number;
  reads: number;
  fromUs: number;
  toUs: number;
}

/** In the order of the read points; without those that nothing was read at. */
async function spansOf(
  database: LogDatabase,
  heard: HeardTags,
  { windows, points }: { windows: readonly PassWindow[]; points: ReadonlyMap<string, number> },
): Promise<PointSpan[]> {
  const spans = [...points].map(
    ([readPoint, point]): PointSpan => ({
      readPoint,
      point,
      fromUs: Infinity,
      toUs: -Infinity,
      inside: 0,
      outside: 0,
    }),
  );
  const spanOfPass = new Map(windows.map(({ pass, readPoint }) => [pass, spans[points.get(readPoint)!]!]));
  const widen = (span: PointSpan, fromUs: number, toUs: number) => {
    span.fromUs = Math.min(span.fromUs, fromUs);
    span.toUs = Math.max(span.toUs, toUs);
  };
  for (let row = 0; row < heard.length; row += 1) {
    const span = spanOfPass.get(heard.pass[row]!)!;
    span.inside += heard.reads[row]!;
    widen(span, heard.firstUs[row]!, heard.lastUs[row]!);
  }
  const idle = await database.rows<IdleSpan>(sql.idleSpans);
  for (const { point, reads, fromUs, toUs } of idle) {
    spans[point]!.outside = reads;
    widen(spans[point]!, fromUs, toUs);
  }
  return spans.filter(({ fromUs }) => fromUs < Infinity);
}

/** Reads by second, at the read points where fewer than half of them fall inside windows: elsewhere the clocks need no looking at. */
async function doubtfulSeconds(database: LogDatabase, spans: readonly PointSpan[]): Promise<SecondCount[]> {
  const doubtful = new Map(
    spans.filter(({ inside, outside }) => inside < outside).map(({ point, readPoint }) => [point, readPoint]),
  );
  if (doubtful.size === 0) return [];
  const rows = await database.rows<{ point: number; second: number; reads: number }>(
    sql.secondsOf([...doubtful.keys()]),
  );
  return rows.map(({ point, second, reads }) => ({ readPoint: doubtful.get(point)!, second, reads }));
}
