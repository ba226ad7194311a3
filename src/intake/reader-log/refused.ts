import type { ReaderLogSpec } from "../../model/facility.ts";
import { rssiRangeText } from "../../model/radio/rssi.ts";
import type { ProblemList } from "../problems/problem-list.ts";
import {
  type RefusalWords,
  readerLogLineRefused,
  readerLogLinesRefused,
  readerLogMostlyRefused,
  readerLogRssiUnit,
} from "../problems/reader-log.ts";
import type { BadCode } from "./codes.ts";
import type { LogDatabase } from "./database/database.ts";
import { type LogFile, textStretches } from "./files.ts";
import { linesOf } from "./forms/lines.ts";
import { itemsOf } from "./items.ts";
import { type FileLevels, fileLevels, type Refused } from "./statements.ts";
import type { RefusalReason } from "./values.ts";

/** One line that is refused. */
export interface RefusedLine {
  reason: RefusalReason;
  text: string;
  /** The code's text. */
  epc: string;
  /** From 1; null where the line is not found in the file as the database shows it. */
  line: number | null;
  /** Where in the line an item begins; 1 of a whole line. */
  column: number;
}

type RefusedText = Omit<RefusedLine, "line" | "column">;

/** The first refused lines of each reason, with their numbers, in the order of the file. */
export async function findLines(file: LogFile, refused: readonly Refused[]): Promise<RefusedLine[]> {
  const wanted = refused.flatMap(({ reason, first }) =>
    first.map(({ line, epc }) => ({ reason, text: line, epc })),
  );
  if (file.kind === "parquet") {
    const rowOf = ({ text }: { text: string }) => Number(text.slice("row ".length));
    return wanted.sort((a, b) => rowOf(a) - rowOf(b)).map((each) => ({ ...each, line: null, column: 1 }));
  }
  if (file.kind === "items") return findItems(file, wanted);
  const open = new Map<string, typeof wanted>();
  for (const each of wanted) open.set(each.text, [...(open.get(each.text) ?? []), each]);
  let undecoded = Math.min(mostUndecoded, refused.find(({ reason }) => reason === "encoding")?.rows ?? 0);
  let left = wanted.length + undecoded;
  const found: RefusedLine[] = [];
  for await (const { firstLine, text: stretch } of textStretches(file)) {
    for (const [index, text] of linesOf(stretch).entries()) {
      const each = open.get(text)?.shift();
      const isUndecoded = each === undefined && undecoded > 0 && text.includes("\ufffd");
      if (each === undefined && !isUndecoded) continue;
      found.push({ ...(each ?? { reason: "encoding", text, epc: "" }), line: firstLine + index, column: 1 });
      if (isUndecoded) undecoded -= 1;
      left -= 1;
    }
    if (left === 0) break;
  }
  for (const rest of open.values()) for (const each of rest) found.push({ ...each, line: null, column: 1 });
  return found;
}

/** The same in a log that is read item by item: lines and columns are those in which items begin. */
async function findItems(file: LogFile, wanted: readonly RefusedText[]): Promise<RefusedLine[]> {
  const open = new Map<string, RefusedText[]>();
  for (const each of wanted) open.set(each.text, [...(open.get(each.text) ?? []), each]);
  const found: RefusedLine[] = [];
  for await (const items of itemsOf(file)) {
    for (const { text, shown, line, column } of items) {
      const each = open.get(text)?.shift();
      if (each !== undefined) found.push({ ...each, text: shown, line, column });
    }
    if (found.length === wanted.length) break;
  }
  return found;
}

const mostUndecoded = 20;

interface RefusedFile {
  file: LogFile;
  /** By reason, most rows first. */
  reasons: readonly Refused[];
  /** Rows of the file in all. */
  rows: number;
  badCodes: readonly BadCode[];
}

/** Lists the lines of one log that are refused, and says how many there are. */
export async function reportRefused(
  database: LogDatabase,
  { file, reasons, rows, badCodes }: RefusedFile,
  problems: ProblemList,
): Promise<void> {
  const worst = reasons[0];
  if (worst === undefined) return;
  const { path, spec } = file;
  const badCode = new Map(
    badCodes.filter(({ form }) => form === spec.epcForm).map((code) => [code.text, code]),
  );
  const lines = await findLines(file, reasons);
  const otherUnit = await levelsOfOtherUnit(database, file, reasons);
  for (const { reason, text, epc, line, column } of lines) {
    if (reason === "rssi-range" && otherUnit !== null) continue;
    const { expected, advice } = badCode.get(reason === "code" ? epc : "") ?? {};
    const words = refusalWords(reason, spec);
    problems.report(
      placeOf(path, line, column),
      readerLogLineRefused.with({
        ...words,
        expected: expected ?? words.expected,
        advice: advice ?? words.advice,
        line: text,
      }),
    );
  }
  if (otherUnit !== null) {
    const first = lines.find(({ reason }) => reason === "rssi-range");
    problems.report(
      placeOf(path, first?.line ?? null, first?.column ?? 1),
      readerLogRssiUnit.outside({
        rows: otherUnit.rows,
        line: first?.text ?? "",
        unit: spec.rssiUnit,
        isNegative: (otherUnit.weakest ?? 0) < 0,
      }),
    );
  }
  const counts = {
    reasons: reasons.map((each) => ({ found: refusalWords(each.reason, spec).found, rows: each.rows })),
    rows,
  };
  const isMost = 10 * reasons.reduce((sum, each) => sum + each.rows, 0) > rows;
  // What is wrong with a code says better than its reason what to do.
  const [code] = worst.reason === "code" ? badCode.values() : [];
  const advice = code?.advice ?? refusalWords(worst.reason, spec).advice;
  problems.report(
    { file: path },
    isMost ? readerLogMostlyRefused.with({ ...counts, advice }) : readerLogLinesRefused.with(counts),
  );
}

function placeOf(file: string, line: number | null, column: number) {
  return line === null ? { file } : { file, line, column };
}

/** Rows whose level cannot be dBm, where they are more than those with a level that can: the unit is another one. */
async function levelsOfOtherUnit(
  database: LogDatabase,
  { index }: LogFile,
  refused: readonly Refused[],
): Promise<Refused | null> {
  const outside = refused.find(({ reason }) => reason === "rssi-range");
  if (outside === undefined) return null;
  const [valid] = await database.rows<FileLevels>(fileLevels(index));
  return outside.rows > valid!.rows ? outside : null;
}

/** The weakest level that makes sense of a log in which all are read as hundredths. */
const weakestHundredth = -200;

/** Reports a log declared in hundredths whose levels are dBm: all of them then come out between -2 and 0 dBm. */
export async function checkHundredths(
  database: LogDatabase,
  { index, path, spec }: LogFile,
  problems: ProblemList,
): Promise<void> {
  if (spec.rssiUnit !== "cdBm") return;
  const [levels] = await database.rows<FileLevels>(fileLevels(index));
  const { rows, weakest, strongest } = levels!;
  if (rows === 0 || weakest <= weakestHundredth) return;
  const [weakestDbm, strongestDbm] = [weakest, strongest].map((level) => (level / 100).toFixed(2)) as [
    string,
    string,
  ];
  problems.report({ file: path }, readerLogRssiUnit.tooStrong({ weakestDbm, strongestDbm }));
}

/** What to say of a line that is refused. */
export function refusalWords(reason: RefusalReason, { time, rssiUnit }: ReaderLogSpec): RefusalWords {
  const isText = time.unit === "iso" || time.format !== null;
  const timeForm =
    time.format ??
    { iso: "ISO 8601", s: "seconds", ms: "milliseconds", us: "microseconds", ns: "nanoseconds" }[time.unit];
  const stateUnit = "State time.unit as the log counts: s, ms, us or ns.";
  const cutOff = "Look whether the line was cut off; export the log again where it was.";
  const words: Record<RefusalReason, [found: string, expected: string, advice: string]> = {
    encoding: ["bytes that are not UTF-8", "text in UTF-8", "Export the log as UTF-8."],
    quotes: ["a quote that does not close", "each field's quotes closed on its own line", cutOff],
    json: ["no whole JSON object", "one JSON object a line", cutOff],
    "few-columns": ["too few columns", "as many columns as the header has", cutOff],
    "many-columns": [
      "too many columns",
      "as many columns as the header has",
      "Put quotes around fields that hold the delimiter, or say decimal and delimiter in reader_logs.",
    ],
    "code-missing": ["no code", "the code of the tag that was read", cutOff],
    "code-number": [
      "a code as a number too long to keep its digits",
      "the code as text",
      "Let the middleware write codes in quotes: digits of long numbers are lost.",
    ],
    code: ["a code that cannot be read", "a tag's code", "State the epc_form that the log is written in."],
    "time-missing": ["no time", "the time of the read", cutOff],
    time: [
      "a time that cannot be read",
      `a time in ${timeForm}`,
      isText ? "State time.unit or time.format as the log writes times." : stateUnit,
    ],
    "time-span": isText
      ? [
          "a time that the clocks skipped or showed twice, or outside 1990 to 2100",
          "a time that stands for one moment",
          "Let the reader log in UTC; until then, reads of the hour in which the clocks change cannot be placed.",
        ]
      : ["a time outside 1990 to 2100", "a time that stands for one moment", stateUnit],
    "last-time": [
      "a last time that cannot be read",
      `a time in ${timeForm}, or a blank`,
      "Correct columns.last_time in reader_logs; write none where the log has no last time.",
    ],
    "last-before-first": [
      "a last time before the first",
      "a last time that is not before the first",
      "Check whether columns.time and columns.last_time are the right way round.",
    ],
    rssi: [
      "an RSSI that is not a number",
      `a number in ${rssiUnit}`,
      "State decimal where the log writes a decimal comma.",
    ],
    "rssi-range": [
      "an RSSI that cannot be dBm",
      `a level from ${rssiRangeText}`,
      "Look what the reader means by such a level; state rssi_unit where the log writes all of them so.",
    ],
    count: [
      "a count that is not a whole number from 1 up",
      "how many reads the row stands for",
      "Correct columns.count in reader_logs.",
    ],
  };
  const [found, expected, advice] = words[reason];
  return { found, expected, advice };
}
