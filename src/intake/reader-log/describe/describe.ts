import { byCodePoint, byNaturalOrder } from "../../../model/order.ts";
import { ProblemList } from "../../problems/problem-list.ts";
import { normaliseReaderLog } from "../../yaml/reader-logs.ts";
import { LogDatabase } from "../database.ts";
import { type LogFile, linesOf, textStretches } from "../files.ts";
import { placesOf } from "../groups.ts";
import { commentMark, isBlankOrComment, type LogGroup } from "../layout.ts";
import { readRows, usualLargeBytes } from "../read.ts";
import { findLines, refusalWords } from "../refused.ts";
import { lineScan, rowsOf } from "../rows.ts";
import * as sql from "../statements.ts";
import { allYears } from "../values.ts";
import { describeCodes, guessForm } from "./codes.ts";
import { type ColumnChoice, type ColumnName, chooseColumns, isNumber } from "./columns.ts";
import type {
  LogDescription,
  OddLines,
  ReadFacts,
  RssiFacts,
  RssiScale,
  TextFacts,
  TimeFacts,
} from "./description.ts";
import { entryText, rawEntry } from "./entry.ts";
import { remarksOn } from "./remarks.ts";
import { type LogStart, type Sample, sampleOf, startOf, UnreadableLog, unlessUnreadable } from "./sample.ts";
import { endsInUtc, guessTimes, type TimeGuess } from "./times.ts";

export interface DescribedLog extends LogDescription {
  /** What a person should know before using the log, in sentences. */
  remarks: string[];
  /** The `reader_logs` entry to paste into facility.yaml; empty where time or code could not be told. */
  entry: string;
}

/**
 * Tells how a reader log is written and what it holds. Its beginning gives a guess at an entry of `reader_logs`; then the log is read with that
 * entry as `judge` reads it. Throws `UnreadableLog` where it is no reader log at all.
 */
export async function describeLog(path: string): Promise<DescribedLog> {
  const start = await startOf(path);
  const guess = await withDatabase(path, (database) => guessLayout(database, start));
  const { sample, choice, time, form, rssi } = guess;
  const log: LogDescription = {
    ...start,
    text: start.kind === "parquet" ? null : await unlessUnreadable(textFacts(start, sample)),
    columns: choice.columns,
    doubts: choice.doubts,
    guess: { time, form },
    rssi,
    read: null,
  };
  let reading = await readLog(log, guess);
  // An entry with which rows are refused for their level is none to propose.
  if (reading.rssi !== null && reading.rssi.outside > 0)
    reading = { ...reading, read: (await readLog({ ...log, rssi: reading.rssi }, guess)).read };
  const read = { ...log, ...reading };
  return { ...read, remarks: remarksOn(read, sample), entry: entryText(read) };
}

async function withDatabase<T>(path: string, use: (database: LogDatabase) => Promise<T>): Promise<T> {
  const database = await LogDatabase.open([path], null);
  try {
    return await use(database);
  } finally {
    database.close();
  }
}

interface LayoutGuess {
  sample: Sample;
  choice: ColumnChoice;
  time: TimeGuess;
  form: LogDescription["guess"]["form"];
  rssi: RssiFacts | null;
}

async function guessLayout(database: LogDatabase, start: LogStart): Promise<LayoutGuess> {
  const sample = await sampleOf(database, start);
  const { names, rows, table } = sample;
  if (names.length === 0) throw new UnreadableLog("It holds no rows.");
  const values = names.map((_, i) => rows.map((row) => row[i] ?? ""));
  const times: TimeGuess[] = [];
  for (const each of values) times.push(await guessTimes(database, each, table?.decimal ?? "."));
  const choice = chooseColumns(names, values, times);
  const { time, code, RSSI } = choice.chosen;
  return {
    sample,
    choice,
    time: time === null ? { kind: "none" } : times[time]!,
    form: guessForm(new Set(code === null ? [] : values[code]!.filter((text) => text !== ""))),
    rssi: RSSI === null ? null : guessRssi(names[RSSI]!, values[RSSI]!),
  };
}

/** Null where no value is a number. */
function guessRssi(column: ColumnName, values: readonly string[]): RssiFacts | null {
  const levels = values.filter(isNumber).map((text) => Number(text.replace(",", ".")));
  if (levels.length === 0) return null;
  levels.sort((a, b) => a - b);
  const [min, median, max] = [levels[0]!, levels[(levels.length - 1) >>> 1]!, levels.at(-1)!];
  const scale = scaleOf({ min, median, max, isWhole: levels.every(Number.isInteger) });
  const above = (least: number) => levels.filter((level) => level > least).length;
  const zero = levels.length - above(0) - levels.filter((level) => level < 0).length;
  const outside = scale === "dBm" || scale === "cdBm" ? 0 : above(0);
  return {
    column,
    scale,
    min,
    median,
    max,
    zero,
    blank: values.filter((text) => text === "").length,
    outside,
  };
}

/** What a reader receives from a passive UHF tag lies between about -90 and -20 dBm (common practice, no source). */
function scaleOf(levels: { min: number; median: number; max: number; isWhole: boolean }): RssiScale {
  const { min, median, max, isWhole } = levels;
  if (median < 0 && median >= -110) return max <= 30 && min >= -130 ? "dBm" : "unclear";
  if (median <= -1500 && median >= -11_000 && isWhole) return "cdBm";
  if (median <= -150 && median >= -1100 && isWhole) return "tenths of a dBm";
  if (median >= 128 && max <= 255 && isWhole) return "unsigned byte";
  return median >= 0 ? "positive" : "unclear";
}

const mostListed = 20;

/** Walks through all lines of a text. */
async function textFacts(start: LogStart, { table }: Sample): Promise<TextFacts> {
  const headerLine = table?.headerLine ?? null;
  const header = headerLine === null || table?.header === "commented" ? null : start.lines[headerLine - 1]!;
  const ends = { lf: 0, crlf: 0, cr: 0 };
  const comments: TextFacts["comments"] = [];
  const above: OddLines = {
    reason: "above the header",
    words: "a line above the header",
    count: 0,
    first: [],
  };
  const again: OddLines = { reason: "header again", words: "the header once more", count: 0, first: [] };
  const facts = { isAscii: true, isUtf8: true, finalNewline: true, commentCount: 0, blankLines: 0 };
  const add = (odd: OddLines, line: number, text: string) => {
    odd.count += 1;
    if (odd.first.length < mostExamples) odd.first.push({ line, text });
  };
  for await (const { firstLine, text } of textStretches({ place: start.path, zipped: start.gzipped })) {
    const [crlf, lf, cr] = [/\r\n/g, /\n/g, /\r/g].map((end) => text.match(end)?.length ?? 0) as [
      number,
      number,
      number,
    ];
    ends.crlf += crlf;
    ends.lf += lf - crlf;
    ends.cr += cr - crlf;
    facts.finalNewline = /[\r\n]$/.test(text);
    facts.isAscii &&= !/[^\0-\x7f]/.test(text);
    facts.isUtf8 &&= !text.includes("\ufffd");
    for (const [index, line] of linesOf(text).entries()) {
      const number = firstLine + index;
      if (line.trim() === "") facts.blankLines += 1;
      else if (number === headerLine) continue;
      else if (line === header) add(again, number, line);
      else if (isBlankOrComment(line)) {
        facts.commentCount += 1;
        if (comments.length < mostListed)
          comments.push({ line: number, text: line.replace(commentMark, "").trim().slice(0, 200) });
      } else if (header !== null && number < headerLine!) add(above, number, line);
    }
  }
  const { isAscii, isUtf8, ...others } = facts;
  return {
    ...others,
    encoding: isUtf8 ? (isAscii ? "ASCII" : "UTF-8") : "neither ASCII nor UTF-8",
    byteOrderMark: start.byteOrderMark,
    lineEnds: ends,
    delimiter: table?.delimiter ?? ",",
    decimal: table?.decimal ?? ".",
    mixesDecimals: table?.mixesDecimals ?? false,
    header: table?.header ?? "yes",
    headerLine,
    namesInHeader: table?.namesInHeader ?? null,
    comments,
    passedOver: [above, again].filter(({ count }) => count > 0),
  };
}

const mostExamples = 3;

/** What reading a log with the entry shows; nothing where no entry can be written. */
async function readLog(
  log: LogDescription,
  { sample, choice }: LayoutGuess,
): Promise<Pick<LogDescription, "read" | "rssi">> {
  const raw = rawEntry(log);
  const { style } = log.guess.time as { style?: Parameters<typeof timeFacts>[0]["style"] };
  if (raw === null || style === undefined) return { read: null, rssi: log.rssi };
  const spec = normaliseReaderLog(raw);
  const file: LogFile = {
    index: 0,
    path: log.path,
    place: log.path,
    bytes: log.bytes,
    kind: log.kind === "jsonl" ? "json-lines" : log.kind === "parquet" ? "parquet" : "delimited",
    zipped: log.gzipped,
    delimiter: spec.delimiter ?? (log.kind === "tsv" ? "\t" : ","),
    spec,
  };
  return withDatabase(log.path, async (database) => {
    const problems = new ProblemList(null);
    const scopeOf = () => ({ scope: "", point: 0 });
    const {
      read,
      rowsOf: rowsByFile,
      duplicates,
    } = await readRows(database, [file], {
      facilityZone: null,
      years: allYears,
      largeBytes: usualLargeBytes,
      scopeOf,
      map: [],
      problems,
    });
    const group = read.get(0)?.group;
    if (group === undefined) {
      const [fault] = problems.sorted(() => null);
      throw new UnreadableLog(
        `It cannot be read with the entry that its beginning suggests: ${fault?.found}.`,
      );
    }
    const [sums] = await database.rows<sql.LogSums>(sql.logSums);
    const [order] = await database.rows<sql.TimeOrder>(sql.timeOrder);
    const codes = await database.rows<{ text: string }>(sql.writtenCodes);
    const refused = await database.rows<sql.Refused>(sql.refusedRows);
    const lines = await findLines(file, refused);
    const { facts: tags, remarks: codeRemarks } = describeCodes(
      new Set(codes.map(({ text }) => text)),
      spec.epcForm,
    );
    const refusedRows = refused.reduce((sum, { rows }) => sum + rows, 0);
    const time = timeFacts({
      style,
      sums: sums!,
      order: order!,
      values: sample.rows.map((row) => row[choice.chosen.time!]!),
    });
    const odd = refused.map(({ reason, rows }): OddLines => {
      const first = lines.filter((each) => each.reason === reason).slice(0, mostExamples);
      return { reason, words: refusalWords(reason, spec).found, count: rows, first };
    });
    return {
      read: {
        rows: order!.rows - (rowsByFile.get(0)?.badCode ?? 0) + refusedRows,
        refused: refusedRows,
        repeated: duplicates.get(0) ?? 0,
        time,
        tags,
        codeRemarks,
        count:
          spec.columns.count === null
            ? null
            : { sum: sums!.reads, max: sums!.mostReads, above1: sums!.countedRows },
        readers: choice.chosen.reader === null ? [] : await readersOf(database, time),
        readerCandidates: await candidatesOf(database, group, choice),
        antennas: spec.columns.antenna === null ? [] : await antennasOf(database),
        odd: [...odd, ...(log.text?.passedOver ?? [])].sort(
          (a, b) => (a.first[0]?.line ?? 0) - (b.first[0]?.line ?? 0),
        ),
      },
      rssi: spec.columns.rssi === null ? log.rssi : rssiFacts(log.rssi!, sums!, refused),
    };
  });
}

interface TimeSources {
  style: (TimeGuess & { kind: "style" })["style"];
  sums: sql.LogSums;
  order: sql.TimeOrder;
  /** The first times as written. */
  values: readonly string[];
}

function timeFacts({ style: { unit, format }, sums, order, values }: TimeSources): TimeFacts {
  const times = values.filter((value) => value !== "");
  const stated = times.filter((value) => /:\d\d[^:]*(?:z|[-+]\d\d(?::?\d\d)?)$/i.test(value)).length;
  const inFormat = format !== null && (/%z/.test(format) || endsInUtc(format));
  const offsets =
    unit !== "iso"
      ? "count since 1970"
      : inFormat || (format === null && stated === times.length)
        ? "all"
        : format !== null || stated === 0
          ? "none"
          : "some";
  const isInstant = offsets === "all" || offsets === "count since 1970";
  const shown = (us: number | null) => {
    if (us === null) return null;
    const text = new Date(Math.floor(us / 1000)).toISOString();
    return isInstant ? text : text.slice(0, -1);
  };
  return {
    offsets,
    first: shown(sums.firstUs),
    last: shown(sums.lastUs),
    stepsBack: order.falls,
    longestStepBackS: order.longestFallUs / 1e6,
    wholeSeconds: sums.wholeSeconds,
  };
}

/** In the unit of the log. */
function rssiFacts(guess: RssiFacts, sums: sql.LogSums, refused: readonly sql.Refused[]): RssiFacts {
  const { weakest, median, strongest, zero, blank } = sums;
  const perUnit = guess.scale === "cdBm" ? 1 : 100;
  const outside = refused.find(({ reason }) => reason === "rssi-range")?.rows ?? 0;
  if (weakest === null || median === null || strongest === null) return { ...guess, zero, blank, outside };
  return {
    ...guess,
    min: weakest / perUnit,
    median: median / perUnit,
    max: strongest / perUnit,
    zero,
    blank,
    outside,
  };
}

async function readersOf(database: LogDatabase, { offsets }: TimeFacts): Promise<ReadFacts["readers"]> {
  const isInstant = offsets === "all" || offsets === "count since 1970";
  const shown = (us: number) => new Date(Math.floor(us / 1000)).toISOString().slice(0, isInstant ? 24 : 23);
  const readers = await database.rows<sql.NamedRows>(sql.rowsByName("reader"));
  return readers
    .map(({ name, rows, firstUs, lastUs }) => ({ name, rows, first: shown(firstUs), last: shown(lastUs) }))
    .sort((a, b) => byCodePoint(a.name, b.name));
}

async function antennasOf(database: LogDatabase): Promise<ReadFacts["antennas"]> {
  const antennas = await database.rows<sql.NamedRows>(sql.rowsByName("antenna"));
  return antennas.map(({ name, rows }) => ({ name, rows })).sort((a, b) => byNaturalOrder(a.name, b.name));
}

const mostCandidates = 3;
const mostReaderNames = 20;

/** Counts the texts of columns that could name readers, in the rows of the whole log. */
async function candidatesOf(
  database: LogDatabase,
  group: LogGroup,
  { readerCandidates, columns }: ColumnChoice,
): Promise<ReadFacts["readerCandidates"]> {
  const found: ReadFacts["readerCandidates"] = [];
  for (const index of readerCandidates.slice(0, mostCandidates)) {
    const { name } = columns[index]!;
    const { layout } = group;
    const reader = group.kind === "delimited" ? index + 1 : name;
    const named = { ...group, layout: { ...layout, columns: { ...layout.columns, reader } } };
    // Line by line: of typed columns the database reads all or fails where the text is not UTF-8.
    const texts = await database.rows<{ name: string; rows: number }>(
      sql.rowsByReader(rowsOf(named, lineScan(named)), mostReaderNames + 2),
      { places: placesOf(group) },
    );
    await database.run(sql.dropRejects);
    const names = texts.map((text) => text.name).filter((text) => text !== "");
    const rows = texts.reduce((sum, text) => sum + text.rows, 0);
    if (names.length >= 2 && texts.length <= mostReaderNames && rows >= 3 * names.length)
      found.push({ column: name, names: names.sort(byNaturalOrder) });
  }
  return found;
}
