import { type ColumnChoice, chosenColumns } from "./column-roles.ts";
import { commentText, type Dialect, dialectOf, isComment } from "./dialect.ts";
import { entryOf } from "./entry.ts";
import { fieldsOf } from "./field-split.ts";
import { refuseForeign } from "./foreign-files.ts";
import { isSpreadJson, jsonFields, jsonNames, jsonTroubles } from "./json-rows.ts";
import {
  headerAgain,
  type LogDescription,
  type LogKind,
  lineBefore,
  noUtf8,
  type TextFacts,
  UnreadableLog,
} from "./log-description.ts";
import { remarksOf } from "./log-remarks.ts";
import { type LogStart, logBytes, logStart } from "./log-source.ts";
import { LogTally } from "./log-tally.ts";
import { parquetRows, unreadable } from "./parquet-rows.ts";
import { RepeatedRows } from "./repeated-rows.ts";
import { shownColumn } from "./shown-column.ts";
import { walkLines } from "./text-lines.ts";
import { type TimeGuess, timeStyleOf } from "./time-texts.ts";

const sampleRows = 2000;
const mostComments = 20;

/**
 * Tells how a reader log is written and what it holds: its beginning decides the dialect and what each column is taken
 * for, then every row is counted. Throws `UnreadableLog` where it is no reader log at all.
 */
export async function describeLog(path: string): Promise<LogDescription> {
  const start = await logStart(path);
  if (start.head.length === 0) throw new UnreadableLog("It is empty.");
  return start.head.subarray(0, 4).toString("latin1") === "PAR1"
    ? describeParquet(path, start)
    : describeText(path, start);
}

/** What the beginning of a log tells, before its rows are counted. */
interface Plan {
  choice: ColumnChoice;
  guess: TimeGuess;
  tally: LogTally;
  repeats: RepeatedRows;
  sample: readonly (readonly string[])[];
}

function planned(
  names: readonly (string | number)[],
  sample: readonly (readonly string[])[],
  decimal: "." | ",",
): Plan {
  const choice = chosenColumns(names, sample, decimal, shownColumn);
  const column = choice.chosen.time;
  const guess: TimeGuess =
    column === null
      ? { kind: "none" }
      : timeStyleOf(
          sample.map((row) => row[column] ?? ""),
          decimal,
        );
  const style = guess.kind === "style" ? guess.style : null;
  return { choice, guess, tally: new LogTally(choice, style, decimal), repeats: new RepeatedRows(), sample };
}

async function describeParquet(path: string, start: LogStart): Promise<LogDescription> {
  if (start.gzipped)
    throw new UnreadableLog("A packed parquet file: unpack it first, parquet packs its columns itself.");
  const file = await parquetRows(path);
  try {
    const plan = planned(file.names, await file.sample(sampleRows), ".");
    let number = 0;
    await file.walk((fields) => {
      number += 1;
      const text = fields.join("\u001f");
      plan.repeats.add(text);
      plan.tally.add(fields, number, fields.join(", "));
    });
    return described(path, start, "parquet", null, null, plan, []);
  } catch (fault) {
    throw unreadable(fault);
  } finally {
    file.close();
  }
}

async function describeText(path: string, start: LogStart): Promise<LogDescription> {
  const head = start.head.toString("utf8").replace(/^\ufeff/, "");
  refuseForeign(start.head, head);
  const loneCr = head.includes("\r") && !head.includes("\n");
  const lines = head.split(loneCr ? "\r" : /\r?\n/);
  // The last piece is cut off where the file goes on, and empty where it does not.
  if (!start.whole && lines.length > 1) lines.pop();
  else if (lines[lines.length - 1] === "") lines.pop();
  const json = /^\s*\{/.test(head);
  const kind: LogKind = json ? "jsonl" : /\.tsv(\.gz)?$/i.test(path) ? "tsv" : "csv";
  if (json && isSpreadJson(lines)) {
    throw new UnreadableLog(
      "It spreads each JSON object over several lines. Write one object a line (JSON lines).",
    );
  }
  const dialect = json ? null : dialectOf(lines);
  const names = dialect?.names ?? jsonNames(lines);
  if (names.length === 0) throw new UnreadableLog("It holds no rows.");
  const fieldsIn = (line: string): string[] | null =>
    dialect === null ? jsonFields(line, names as string[]) : fieldsOf(line, dialect.delimiter);
  const sample: string[][] = [];
  const header = dialect?.headerLine == null ? null : lines[dialect.headerLine - 1];
  for (const [i, line] of lines.entries()) {
    if (line.trim() === "" || (dialect !== null && (i + 1 < dialect.firstDataLine || isComment(line))))
      continue;
    if (header !== null && line === header) continue;
    const fields = fieldsIn(line);
    if (fields !== null && fields.length === names.length) sample.push(fields);
    if (sample.length >= sampleRows) break;
  }
  const plan = planned(names, sample, dialect?.decimal ?? ".");
  const text = await walkedText(path, start, loneCr, dialect, fieldsIn, names.length, plan);
  const extra = json ? jsonRemarks(lines, plan) : [];
  return described(path, start, kind, text, dialect, plan, extra);
}

async function walkedText(
  path: string,
  start: LogStart,
  loneCr: boolean,
  dialect: Dialect | null,
  fieldsIn: (line: string) => string[] | null,
  width: number,
  { tally, repeats }: Plan,
): Promise<TextFacts> {
  const comments: TextFacts["comments"] = [];
  let commentCount = 0;
  let blankLines = 0;
  let headerText: string | null = null;
  const counts = await walkLines(logBytes(path, start.gzipped), loneCr, (line, number, ended) => {
    if (line === "" || line.trim() === "") {
      blankLines += 1;
      return;
    }
    if (number === dialect?.headerLine) {
      headerText = line;
      return;
    }
    const first = line.charCodeAt(0);
    if (dialect !== null && (first === 0x23 || first === 0x2f || first === 0x20) && isComment(line)) {
      commentCount += 1;
      if (comments.length < mostComments)
        comments.push({ line: number, text: commentText(line).slice(0, 200) });
      return;
    }
    if (dialect !== null && number < dialect.firstDataLine) {
      tally.odd.add(lineBefore, number, line);
      return;
    }
    const fields = fieldsIn(line);
    if (line.includes("\ufffd")) tally.odd.add(noUtf8, number, line);
    if (line === headerText) tally.odd.add(headerAgain, number, line);
    else if (fields === null) tally.addUnparted(ended ? brokenLine(dialect) : cutOff, number, line);
    else if (fields.length !== width) {
      const fault = `${fields.length} ${fields.length === 1 ? "field" : "fields"} where ${width} belong`;
      tally.addUnparted(ended || fields.length > width ? fault : cutOff, number, line);
    } else {
      repeats.add(line);
      tally.add(fields, number, line);
    }
  });
  const { lf, crlf, cr, finalNewline, byteOrderMark, ascii, broken } = counts;
  return {
    encoding: broken ? "neither ASCII nor UTF-8" : ascii ? "ASCII" : "UTF-8",
    byteOrderMark,
    lineEnds: { lf, crlf, cr },
    finalNewline,
    delimiter: dialect?.delimiter ?? null,
    decimal: dialect?.decimal ?? ".",
    header: dialect?.header ?? "yes",
    headerLine: dialect?.headerLine ?? null,
    comments,
    commentCount,
    blankLines,
  };
}

const cutOff = "the last line, cut off";

function brokenLine(dialect: Dialect | null): string {
  return dialect === null ? "no JSON object" : "a quote that is not closed on its line";
}

function described(
  path: string,
  start: LogStart,
  kind: LogKind,
  text: TextFacts | null,
  dialect: Dialect | null,
  plan: Plan,
  extra: string[],
): LogDescription {
  const { choice, tally, repeats } = plan;
  const tags = tally.tags();
  const facts = {
    path,
    kind,
    gzipped: start.gzipped,
    bytes: start.bytes,
    text,
    columns: choice.columns,
    rows: tally.rows,
    lines: tally.rows + tally.unparted,
    time: tally.time(),
    tags: tags?.facts ?? null,
    rssi: tally.rssi(),
    count: tally.count(),
    readers: tally.readers(),
    readerCandidates: tally.readerCandidates(),
    antennas: tally.antennas(),
    repeated: repeats.repeated,
    repeatsLookedAt: repeats.lookedAt,
    odd: tally.odd.list(),
  };
  const remarks = [...choice.doubts, ...extra, ...(tags?.remarks ?? []), ...remarksOf(facts, plan, dialect)];
  return { ...facts, remarks, entry: entryOf(facts, plan.guess, tags?.formDoubt ?? null) };
}

function jsonRemarks(lines: readonly string[], { choice }: Plan): string[] {
  const { nested, longNumbers } = jsonTroubles(lines);
  const remarks: string[] = [];
  for (const name of nested) {
    const used = choice.columns.some((column) => column.name === name && column.used);
    if (used || choice.chosen.code === null) {
      remarks.push(
        `${shownColumn(name)} holds lists, and what is in a list cannot be named in columns: have the log write one row a tag.`,
      );
    }
  }
  for (const name of longNumbers) {
    remarks.push(
      `${shownColumn(name)} is written as a number without quotes: its digits are lost on the way. Have the log write it as text.`,
    );
  }
  return remarks;
}
