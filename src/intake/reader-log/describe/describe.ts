import type { ColumnName } from "../../../model/facility.ts";
import { byCodePoint, byNaturalOrder } from "../../../model/order.ts";
import { normaliseReaderLog } from "../../facility/reader-logs.ts";
import type { FullText } from "../../problems/card/problem.ts";
import { ProblemList } from "../../problems/problem-list.ts";
import { readerLogColumnsTooMany } from "../../problems/reader-log.ts";
import { LogDatabase } from "../database/database.ts";
import { lineScan } from "../database/lines.ts";
import { areSmall, type LogFile, surveyOf, textStretches } from "../files.ts";
import { commentMark, hasBlankOrComment, isBlankOrComment, lineEndsIn, linesOf } from "../forms/lines.ts";
import { type LogGroup, mostColumns } from "../layout.ts";
import { readRows, sumOf } from "../read-rows.ts";
import { findLines, refusalWords } from "../refused.ts";
import { rowsOf } from "../rows.ts";
import type { Survey } from "../source/survey.ts";
import * as sql from "../statements.ts";
import { allYears } from "../values.ts";
import { clockDoubts, withoutRunningCounter } from "./clocks-and-counters.ts";
import { describeCodes, guessForm } from "./codes.ts";
import { type ColumnChoice, chooseColumns, levelIn } from "./columns.ts";
import type { LogDescription, OddLines, ReadFacts, RssiFacts, RssiScale, TextFacts } from "./description.ts";
import { entryText, rawEntry } from "./entry.ts";
import { remarksOn } from "./remarks.ts";
import { type LogStart, type Sample, sampleOf, startOf, UnreadableLog, unlessUnreadable } from "./sample.ts";
import { settingsRemarks } from "./settings.ts";
import type { Table } from "./table.ts";
import { guessTimes, type TimeGuess } from "./times.ts";

export interface DescribedLog extends LogDescription {
  /** What a person should know before using the log, in sentences. */
  remarks: string[];
  /** The `reader_logs` entry to paste into facility.yaml; empty where time or code could not be told. */
  entry: string;
}

/**
 * Tells how a reader log is written and what it holds. Its beginning gives a guess at an entry of `reader_logs`; then the log is read with that
 * entry as `judge` reads it. Throws `UnreadableLog` where it is not a reader log at all.
 */
export async function describeLog(path: string): Promise<DescribedLog> {
  const start = await startOf(path);
  const survey = surveyOf({
    place: path,
    kind: kindOf(start),
    form: start.form?.form ?? null,
    zipped: start.gzipped,
  });
  await survey.done;
  if (survey.fault !== null) throw new UnreadableLog(sentenceOf(survey.fault));
  const {
    sample,
    choice,
    log: first,
  } = await withDatabase(start, async (database) => {
    const layout = await guessLayout(database, start);
    const guessed = await withText(start, layout);
    return { ...layout, log: await readLog({ database, survey }, guessed, layout.choice) };
  });
  let log = first;
  // An entry with which rows are refused for their level is none to propose.
  if (log.rssi !== null && log.rssi.outside > 0)
    log = await withDatabase(start, (database) => readLog({ database, survey }, first, choice));
  const change = await survey.changed();
  if (change !== null) throw new UnreadableLog(sentenceOf(change));
  const settings = log.text === null ? [] : await settingsRemarks(path, start.gzipped);
  return { ...log, remarks: [...remarksOn(log, sample), ...settings], entry: entryText(log) };
}

/** What the layout and a walk through the lines say, before the log is read. */
async function withText(
  start: LogStart,
  { sample, choice, guess, rssi }: LayoutGuess,
): Promise<LogDescription> {
  const { table } = sample;
  // A document need not have lines.
  const hasLines = start.kind !== "parquet" && start.form?.form.hasLines !== false;
  const text = hasLines ? await unlessUnreadable(textFacts(start, table)) : null;
  const { columns, doubts, only } = choice;
  const codes = choice.codes.map((code) => sample.names[code]!);
  return { ...start, table, text, columns, codes, only, doubts, guess, rssi, read: null };
}

function sentenceOf({ found, expected, advice }: FullText): string {
  return `Found ${found}; expected ${expected}. ${advice}`;
}

function kindOf({ kind }: Pick<LogStart, "kind">): LogFile["kind"] {
  const kinds = {
    jsonl: "json-lines",
    parquet: "parquet",
    csv: "delimited",
    tsv: "delimited",
    items: "items",
  };
  return kinds[kind] as LogFile["kind"];
}

async function withDatabase<T>(start: LogStart, use: (database: LogDatabase) => Promise<T>): Promise<T> {
  const file = { bytes: start.bytes, kind: kindOf(start), zipped: start.gzipped };
  const database = await LogDatabase.open([start.path], { isSmall: areSmall([file]) });
  try {
    return await use(database);
  } finally {
    database.close();
  }
}

interface LayoutGuess extends Pick<LogDescription, "guess" | "rssi"> {
  sample: Sample;
  choice: ColumnChoice;
}

async function guessLayout(database: LogDatabase, start: LogStart): Promise<LayoutGuess> {
  const sample = await sampleOf(database, start);
  const { names, rows, table } = sample;
  if (names.length === 0) throw new UnreadableLog("It holds no rows.");
  if (names.length > mostColumns)
    throw new UnreadableLog(
      sentenceOf(readerLogColumnsTooMany.with({ columns: names.length, most: mostColumns })),
    );
  const values = names.map((_, i) => rows.map((row) => row[i] ?? ""));
  const times: TimeGuess[] = [];
  for (const each of values) times.push(await guessTimes(database, each, table?.decimal ?? "."));
  const choice = withoutRunningCounter(chooseColumns(names, values, times), values);
  const sampled = { values, times, decimal: table?.decimal ?? "." };
  choice.doubts.push(...(await clockDoubts(database, choice, sampled)));
  const { time, RSSI } = choice.chosen;
  const codes = choice.codes.flatMap((code) => values[code]!.filter((text) => text !== ""));
  const guess = {
    time:
      time === null
        ? { kind: "none" as const }
        : await timeOf(database, choice, { values, times, decimal: table?.decimal ?? "." }),
    form: guessForm(new Set(codes)),
  };
  return { sample, choice, guess, rssi: RSSI === null ? null : guessRssi(names[RSSI]!, values[RSSI]!) };
}

interface SampledTimes {
  values: readonly (readonly string[])[];
  times: readonly TimeGuess[];
  decimal: "." | ",";
}

/** How the times of the chosen column are written, with the day before each where it stands in another column. */
function timeOf(
  database: LogDatabase,
  { chosen, date }: ColumnChoice,
  { values, times, decimal }: SampledTimes,
): TimeGuess | Promise<TimeGuess> {
  const time = chosen.time!;
  if (date === null) return times[time]!;
  const dated = values[date]!.map((day, row) => [day, values[time]![row]!]);
  return guessTimes(
    database,
    dated.map((parts) => (parts.includes("") ? "" : parts.join(" "))),
    decimal,
  );
}

/** Null where no value is a number. */
function guessRssi(column: ColumnName, values: readonly string[]): RssiFacts | null {
  const levels = values.map(levelIn).filter((level) => level !== null);
  if (levels.length === 0) return null;
  levels.sort((a, b) => a - b);
  const [min, median, max] = [levels[0]!, levels[(levels.length - 1) >>> 1]!, levels.at(-1)!];
  const scale = scaleOf({ min, median, max, isWhole: levels.every(Number.isInteger) });
  const above = levels.filter((level) => level > 0).length;
  return {
    column,
    scale,
    min,
    median,
    max,
    zero: levels.filter((level) => level === 0).length,
    blank: values.filter((text) => text === "").length,
    // Of a unit that facility.yaml knows, the reading will tell.
    outside: scale === "dBm" || scale === "cdBm" ? 0 : above,
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

const mostComments = 200;
const longestComment = 1000;
const mostExamples = 3;

/** Walks through all lines of a text. */
async function textFacts(start: LogStart, table: Table | null): Promise<TextFacts> {
  const headerLine = table?.headerLine ?? 0;
  const header = table?.header === "yes" ? start.lines[headerLine - 1]! : null;
  const facts: TextFacts = {
    encoding: "ASCII",
    byteOrderMark: start.byteOrderMark,
    lineEnds: { lf: 0, crlf: 0, cr: 0 },
    finalNewline: true,
    comments: [],
    commentCount: 0,
    blankLines: 0,
    passedOver: [],
  };
  const above: OddLines = {
    reason: "above the header",
    words: "a line above the header",
    count: 0,
    first: [],
  };
  const again: OddLines = { reason: "header again", words: "the header once more", count: 0, first: [] };
  const passOver = (odd: OddLines, line: number, text: string) => {
    odd.count += 1;
    if (odd.first.length < mostExamples) odd.first.push({ line, text });
  };
  for await (const { firstLine, text } of textStretches({ place: start.path, zipped: start.gzipped })) {
    const { lf, crlf, cr } = lineEndsIn(text);
    facts.lineEnds.lf += lf;
    facts.lineEnds.crlf += crlf;
    facts.lineEnds.cr += cr;
    facts.finalNewline = /[\r\n]$/.test(text);
    if (text.includes("\ufffd")) facts.encoding = "neither ASCII nor UTF-8";
    else if (facts.encoding === "ASCII" && /[^\0-\x7f]/.test(text)) facts.encoding = "UTF-8";
    const isPlain =
      facts.finalNewline &&
      firstLine > headerLine &&
      !hasBlankOrComment(text) &&
      (header === null || !text.includes(header));
    if (isPlain) continue;
    for (const [index, line] of linesOf(text).entries()) {
      const number = firstLine + index;
      if (line.trim() === "") facts.blankLines += 1;
      else if (number === headerLine) continue;
      else if (line === header) passOver(again, number, line);
      else if (isBlankOrComment(line)) {
        facts.commentCount += 1;
        if (facts.comments.length < mostComments)
          facts.comments.push({
            line: number,
            text: line.replace(commentMark, "").trim().slice(0, longestComment),
          });
      } else if (header !== null && number < headerLine) passOver(above, number, line);
    }
  }
  facts.passedOver = [above, again].filter((odd) => odd.count > 0);
  return facts;
}

/** Reads a log with the entry, where one can be written, and adds what that shows. */
async function readLog(
  { database, survey }: { database: LogDatabase; survey: Survey },
  log: LogDescription,
  choice: ColumnChoice,
): Promise<LogDescription> {
  const entry = rawEntry({ ...log, read: null });
  if (entry === null) return log;
  const { path, bytes, kind, gzipped } = log;
  const spec = normaliseReaderLog(entry);
  const file: LogFile = {
    index: 0,
    path,
    place: path,
    bytes,
    form: log.form?.form ?? null,
    kind: kindOf(log),
    zipped: gzipped,
    delimiter: spec.delimiter ?? (kind === "tsv" ? "\t" : ","),
    spec,
    survey,
  };
  const problems = new ProblemList(null);
  const { read, countsOf } = await readRows(database, [file], {
    facilityZone: null,
    years: allYears,
    scopeOf: () => ({ scope: 0, point: 0 }),
    map: [],
    problems,
  });
  const group = read.get(0)?.group;
  if (group === undefined) {
    const [fault] = problems.sorted(() => null);
    throw new UnreadableLog(`It cannot be read with the entry that its beginning suggests: ${fault?.found}.`);
  }
  const sums = (await database.rows<sql.LogSums>(sql.logSums))[0]!;
  const order = (await database.rows<sql.TimeOrder>(sql.timeOrder))[0]!;
  const fall = (await database.rows<{ us: number }>(sql.longestFall))[0]!;
  const codes = await database.rows<{ text: string }>(sql.writtenCodes);
  const tags = describeCodes(new Set(codes.map(({ text }) => text)), spec.epcForm);
  const { valid, repeated, otherEvents, refused: reasons } = countsOf(0);
  const lines = await findLines(file, reasons);
  const odd = reasons.map(({ reason, rows }): OddLines => {
    const first = lines.filter((line) => line.reason === reason).slice(0, mostExamples);
    return { reason, words: refusalWords(reason, spec).found, count: rows, first };
  });
  odd.push(...(log.text?.passedOver ?? []));
  odd.sort((a, b) => (a.first[0]?.line ?? 0) - (b.first[0]?.line ?? 0));
  const refused = sumOf(reasons);
  const hasReader = choice.chosen.reader !== null;
  return {
    ...log,
    rssi: spec.columns.rssi === null ? log.rssi : rssiFacts(log.rssi!, sums, reasons),
    read: {
      rows: valid + refused,
      refused,
      otherEvents,
      repeated,
      sums,
      order,
      longestFallUs: fall.us,
      tags: tags.facts,
      codeRemarks: tags.remarks,
      readers: hasReader ? await namedRows(database, "reader", byCodePoint) : [],
      readerCandidates: await candidatesOf(database, group, choice),
      antennas: spec.columns.antenna === null ? [] : await namedRows(database, "antenna", byNaturalOrder),
      odd,
    },
  };
}

/** In the unit of the log. */
function rssiFacts(guess: RssiFacts, sums: sql.LogSums, reasons: readonly sql.Refused[]): RssiFacts {
  const { weakest, median, strongest, zero, blank } = sums;
  const perUnit = guess.scale === "cdBm" ? 1 : 100;
  const outside = reasons.find(({ reason }) => reason === "rssi-range")?.rows ?? 0;
  const counts = { ...guess, zero, blank, outside };
  return weakest === null || median === null || strongest === null
    ? counts
    : { ...counts, min: weakest / perUnit, median: median / perUnit, max: strongest / perUnit };
}

async function namedRows(
  database: LogDatabase,
  role: "reader" | "antenna",
  order: (a: string, b: string) => number,
): Promise<sql.NamedRows[]> {
  const rows = await database.rows<sql.NamedRows>(sql.rowsByName(role));
  return rows.sort((a, b) => order(a.name, b.name));
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
  if (group.kind === "items") return found;
  for (const index of readerCandidates.slice(0, mostCandidates)) {
    const { name } = columns[index]!;
    const { layout } = group;
    const reader = group.kind === "delimited" ? index + 1 : name;
    const named = { ...group, layout: { ...layout, columns: { ...layout.columns, reader } } };
    // Line by line: of typed columns the database reads all or fails where the text is not UTF-8.
    const texts = await database.rows<{ name: string; rows: number }>(
      sql.rowsByReader(rowsOf(named, lineScan(named)), mostReaderNames + 2),
    );
    await database.run(sql.dropRejects);
    const names = texts.map((text) => text.name).filter((text) => text !== "");
    const rows = texts.reduce((sum, text) => sum + text.rows, 0);
    if (names.length >= 2 && texts.length <= mostReaderNames && rows >= 3 * names.length)
      found.push({ column: name, names: names.sort(byNaturalOrder) });
  }
  return found;
}
