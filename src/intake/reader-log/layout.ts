import type { ColumnName, ReaderLogSpec } from "../../model/facility.ts";
import type { FullText } from "../problems/card/problem.ts";
import type { ProblemList } from "../problems/problem-list.ts";
import {
  readerLogColumnMissing,
  readerLogColumnsTooMany,
  readerLogEmpty,
  readerLogHeaderMissing,
  readerLogRowsTooMany,
  readerLogTimeType,
  readerLogUnreadable,
} from "../problems/reader-log.ts";
import type { LogDatabase } from "./database/database.ts";
import { fieldsOf, lineScan, textLines } from "./database/lines.ts";
import { headOf, type LogFile, type LogKind } from "./files.ts";
import type { Form } from "./forms/form.ts";
import { commentMark, isBlankOrComment, lineEnd } from "./forms/lines.ts";
import { limits } from "./source/survey.ts";
import { columnTypes, dropRejects, jsonKeys, parquetRowCount } from "./statements.ts";

/** Where rows keep what is asked of them: a column's number from 1, or its name. */
interface LogLayout {
  /** Columns in all, of delimited logs. */
  width: number;
  /** The names of the columns; null where they have none, or where not all rows have the same. */
  names: readonly string[] | null;
  /** The line with the names of the columns, as it stands; it is not a row wherever it stands. */
  header: string | null;
  /** Lines from the top to the first line of data. */
  skip: number;
  columns: Columns;
  /** Columns that nothing is asked of. */
  rest: ColumnName[];
  /** Types of columns, where the file states them. */
  types: Record<string, string>;
}

/** What a log is asked for, by names or numbers of columns. */
export interface Columns extends Omit<ReaderLogSpec["columns"], "time"> {
  time: ColumnName | null;
  reader: ColumnName | null;
  only: ReaderLogSpec["only"];
}

/** Logs that the database reads in one go: of one entry of `reader_logs`, and with the same layout. */
export interface LogGroup {
  spec: ReaderLogSpec;
  kind: LogKind;
  form: Form | null;
  zipped: boolean;
  delimiter: string;
  layout: LogLayout;
  files: GroupedFile[];
}

export interface GroupedFile extends LogFile {
  /** Lines above the header that are not comments; they are not rows. */
  above: string[];
  /** Whether the lines above the data end in more than one way: the database would skip too many, and say nothing. */
  mixesLineEnds: boolean;
}

/** What was found out about one file. */
type Found = { layout: LogLayout } & Pick<GroupedFile, "above" | "mixesLineEnds">;

/** What one file is looked at with. */
interface Search {
  database: LogDatabase;
  file: LogFile;
  asked: Columns;
  /** Splits header lines into names. */
  split: (lines: readonly string[], delimiter: string) => Promise<string[][]>;
}

/** Lines at the top among which the header is looked for. */
const mostLinesAbove = 1000;
export const headBytes = 1 << 17;
export const mostColumns = 1000;

/** Finds the columns that are asked for; a log that lacks one, or that cannot be read, is a problem and in no group. */
export async function findLayouts(
  database: LogDatabase,
  files: readonly LogFile[],
  problems: ProblemList,
): Promise<LogGroup[]> {
  const split = nameSplitter(database);
  const specs = [...new Set(files.map(({ spec }) => spec))];
  const groups = new Map<string, LogGroup>();
  for (const file of files) {
    const { spec, kind, form, zipped, delimiter, path } = file;
    const find = {
      delimited: delimitedLayout,
      "json-lines": jsonLayout,
      parquet: parquetLayout,
      items: itemsLayout,
    }[kind];
    const asked = askedOf(spec);
    const found: Found | readonly FullText[] = await find({ database, file, asked, split }).catch(
      (fault: unknown) => problemsOf(fault, file),
    );
    if (!("layout" in found)) {
      for (const problem of found) problems.report({ file: path }, problem);
      continue;
    }
    const { layout, ...member } = found;
    const key = JSON.stringify([specs.indexOf(spec), kind, form?.id, zipped, delimiter, layout]);
    const group = groups.get(key) ?? { spec, kind, form, zipped, delimiter, layout, files: [] };
    groups.set(key, group);
    group.files.push({ ...file, ...member });
  }
  return [...groups.values()];
}

/** All that an entry asks of a log. */
export function askedOf({ columns, readPoint, only }: ReaderLogSpec): Columns {
  return { ...columns, reader: readPoint.kind === "column" ? readPoint.column : null, only };
}

/** A log that cannot be read, for reasons of its own. */
export class UnfitLog extends Error {
  readonly problems: readonly FullText[];

  constructor(...problems: readonly FullText[]) {
    super("the log is not fit to be read");
    this.problems = problems;
  }
}

/** A log that lacks columns that its entry names. */
export class ColumnsMissing extends UnfitLog {
  constructor(columns: readonly NamedColumn[], names: readonly string[]) {
    super(...columns.map((column) => missingProblem(column, names)));
  }
}

/** Whatever cannot be digested is a fault of the file or of its entry, to be named with the others. */
export function problemsOf(fault: unknown, { path, place }: LogFile): readonly FullText[] {
  if (fault instanceof UnfitLog) return fault.problems;
  const [first = ""] = String(fault instanceof Error ? fault.message : fault).split("\n");
  // Paths of this machine say nothing to the reader and differ from place to place.
  return [readerLogUnreadable.with(first.replaceAll(place, path))];
}

/** Splits lines as the rows of a delimited log are split; null where the quotes of a line do not close. */
export async function splitLines(
  database: LogDatabase,
  lines: readonly string[],
  delimiter: string,
): Promise<(string[] | null)[]> {
  if (lines.length === 0) return [];
  const rows = await database.rows<{ fields: string[] | null }>(
    `SELECT ${fieldsOf("line", delimiter)} AS fields FROM (${textLines})`,
    { text: lines.join("\n") },
  );
  return rows.map(({ fields }) => fields);
}

/** Each distinct line is split once: the logs of a reader have the same header. */
function nameSplitter(database: LogDatabase): Search["split"] {
  const known = new Map<string, string[]>();
  return async (lines, delimiter) => {
    const unknown = lines.filter((line) => !known.has(delimiter + line));
    const split = await splitLines(database, unknown, delimiter);
    for (const [index, line] of unknown.entries()) {
      const names = (split[index] ?? line.split(delimiter)).map((name) => name.trim());
      // A delimiter at the end of every line makes no column.
      if (names.length > 1 && names.at(-1) === "") names.pop();
      known.set(delimiter + line, names);
    }
    return lines.map((line) => known.get(delimiter + line)!);
  };
}

interface Header {
  /** The header as it stands, where it is not a comment. */
  line: string | null;
  /** Null where the columns have no names. */
  names: string[] | null;
  above: string[];
  skip: number;
  width: number;
}

async function delimitedLayout(search: Search): Promise<Found | FullText[]> {
  const { bytes } = await headOf(search.file, headBytes);
  const text = new TextDecoder("utf-8").decode(bytes);
  const find = { yes: headerLine, commented: commentedHeader, no: noHeader }[search.file.spec.header];
  const found = await find(search, text.split(lineEnd, mostLinesAbove));
  if ("code" in found) return [found];
  const { line, names, above, skip, width } = found;
  if (width > mostColumns) return [readerLogColumnsTooMany.with({ columns: width, most: mostColumns })];
  const columnOf = (name: ColumnName) =>
    typeof name === "number" ? (name <= width || width === 0 ? name : 0) : (names?.indexOf(name) ?? -1) + 1;
  const missing = missingOf(search.asked, (name) => columnOf(name) > 0);
  if (missing.length > 0)
    return missing.map((column) => readerLogColumnMissing.with({ ...column, names, width }));
  const columns = mapped(search.asked, columnOf);
  const used = new Set(namedBy({ ...columns, only: [] }).map(({ name }) => name));
  const rest = Array.from({ length: width }, (_, index) => index + 1).filter((index) => !used.has(index));
  const ends = text.split(/(\r\n|\n|\r)/, 2 * (skip + 1)).filter((_, index) => index % 2 === 1);
  return {
    layout: { width, names, header: line, skip, columns, rest, types: {} },
    above,
    mixesLineEnds: skip > 1 && new Set(ends).size > 1,
  };
}

/** Of the columns that may hold the code, those that there are. */
function mapped({ epc, only, ...others }: Columns, columnOf: (name: ColumnName) => number): Columns {
  const columns = Object.entries(others).map(([role, name]) => [role, name === null ? null : columnOf(name)]);
  return {
    ...(Object.fromEntries(columns) as typeof others),
    epc: epc.map(columnOf).filter((column) => column > 0),
    only: only.map(({ column, values }) => ({ column: columnOf(column), values })),
  };
}

interface NamedColumn {
  /** Its key in an entry of `reader_logs`. */
  key: string;
  name: ColumnName;
}

function namedBy({ epc, only, reader, lastTime, ...others }: Columns): NamedColumn[] {
  const single = Object.entries({ ...others, last_time: lastTime });
  return [
    ...single.flatMap(([role, name]) => (name === null ? [] : [{ key: `columns.${role}`, name }])),
    ...epc.map((name) => ({ key: "columns.epc", name })),
    ...(reader === null ? [] : [{ key: "read_point.column", name: reader }]),
    ...only.map(({ column }) => ({ key: "only", name: column })),
  ];
}

/** The columns that are asked for and lacking; of those that may hold the code, the first, where none is there. */
export function missingOf(asked: Columns, isThere: (name: ColumnName) => boolean): NamedColumn[] {
  const [code] = asked.epc;
  const hasCode = asked.epc.some(isThere);
  return namedBy(hasCode ? { ...asked, epc: [] } : { ...asked, epc: [code!] }).filter(
    ({ name }) => !isThere(name),
  );
}

/** The names of all that is asked for. */
export function namesOf(asked: Columns): string[] {
  return namedBy(asked).map(({ name }) => String(name));
}

/** Names by which a header is known: with several columns for the code, any of them may be missing. */
function wantedNames({ asked }: Search): string[] {
  return namedBy(asked.epc.length > 1 ? { ...asked, epc: [] } : asked)
    .map(({ name }) => name)
    .filter((name) => typeof name === "string");
}

/** The first line that holds all names that are asked for, else the first line that is not a comment. */
async function headerLine(search: Search, lines: readonly string[]): Promise<Header | FullText> {
  const wanted = wantedNames(search);
  const data = lines.flatMap((line, index) => (isBlankOrComment(line) ? [] : [index]));
  const first = data[0];
  if (first === undefined) return readerLogEmpty;
  const isLikely = (index: number) => wanted.every((name) => lines[index]!.includes(name));
  const tried = [...(wanted.length === 0 ? [] : data.filter(isLikely).slice(0, 20)), first];
  const split = await search.split(
    tried.map((index) => lines[index]!),
    search.file.delimiter,
  );
  const place = split.findIndex((names) => wanted.every((name) => names.includes(name)));
  const header = tried[place] ?? first;
  const names = split[place] ?? split.at(-1)!;
  const above = data.filter((index) => index < header).map((index) => lines[index]!);
  return { line: lines[header]!, names, above, skip: header + 1, width: names.length };
}

/** The last comment above the data that holds all names that are asked for. */
async function commentedHeader(search: Search, lines: readonly string[]): Promise<Header | FullText> {
  const wanted = wantedNames(search);
  const skip = linesAboveData(lines);
  const likely = lines.slice(0, skip).filter((line) => wanted.some((name) => line.includes(name)));
  const comments = likely.map((line) => line.replace(commentMark, ""));
  const split = await search.split(comments, search.file.delimiter);
  const held = (found: string[]) => wanted.filter((name) => found.includes(name)).length;
  const names = split.findLast((found) => held(found) === wanted.length);
  if (names !== undefined) return { line: null, names, above: [], skip, width: names.length };
  return readerLogHeaderMissing.with(
    split.reduce((best, found) => (held(found) > held(best) ? found : best), []),
  );
}

async function noHeader({ split, file }: Search, lines: readonly string[]): Promise<Header> {
  const skip = linesAboveData(lines);
  const [fields = []] = await split(
    lines.slice(skip, skip + 1).filter((line) => !isBlankOrComment(line)),
    file.delimiter,
  );
  return { line: null, names: null, above: [], skip, width: fields.length };
}

/** How many comments and blank lines there are before the first line of data. */
function linesAboveData(lines: readonly string[]): number {
  const start = lines.findIndex((line) => !isBlankOrComment(line));
  return start < 0 ? lines.length - 1 : start;
}

/** What items hold shows once they are read. */
async function itemsLayout({ asked }: Search): Promise<Found> {
  return namedLayout(asked, [], {});
}

async function jsonLayout({ database, file, asked }: Search): Promise<Found | FullText[]> {
  const { bytes } = await headOf(file, headBytes);
  let names = keysOf(new TextDecoder("utf-8").decode(bytes).split(lineEnd));
  // A name with dots may be a path. Of a log without rows nothing is said.
  const isKey = (name: ColumnName) =>
    typeof name === "string" &&
    (names.length === 0 || names.includes(name) || names.includes(name.split(".")[0]!));
  const missing = () => missingOf(asked, isKey);
  if (missing().length > 0) {
    // A key that is rare may stand in none of the first lines.
    const scan = lineScan({ ...file, files: [file] });
    const keys = await database.rows<{ key: string }>(jsonKeys(scan));
    await database.run(dropRejects);
    names = keys.map(({ key }) => key);
  }
  if (missing().length > 0) return missing().map((column) => missingProblem(column, names));
  return namedLayout(asked, [], {});
}

function missingProblem(column: NamedColumn, names: readonly string[]): FullText {
  return readerLogColumnMissing.with({ ...column, names, width: names.length });
}

function keysOf(lines: readonly string[]): string[] {
  const keys = new Set<string>();
  for (const line of lines) {
    try {
      const object: unknown = JSON.parse(line);
      if (typeof object === "object" && object !== null && !Array.isArray(object))
        for (const key of Object.keys(object)) keys.add(key);
    } catch {
      // What is not JSON is refused once the rows are read.
    }
  }
  return [...keys];
}

async function parquetLayout({ database, file, asked }: Search): Promise<Found | FullText[]> {
  const columns = await database.rows<{ name: string; type: string }>(columnTypes(file.place));
  if (columns.length > mostColumns)
    return [readerLogColumnsTooMany.with({ columns: columns.length, most: mostColumns })];
  const [counted] = await database.rows<{ rows: number }>(parquetRowCount(file.place));
  if (counted!.rows > limits.rows)
    return [readerLogRowsTooMany.with({ rows: counted!.rows, most: limits.rows })];
  const types = Object.fromEntries(columns.map(({ name, type }) => [name, type]));
  const names = columns.map(({ name }) => name);
  const isThere = (name: ColumnName) => typeof name === "string" && names.includes(name);
  const missing = missingOf(asked, isThere);
  if (missing.length > 0) return missing.map((column) => missingProblem(column, names));
  const { unit } = file.spec.time;
  if (types[String(asked.time)]!.startsWith("TIMESTAMP") && unit !== "iso")
    return [readerLogTimeType.with({ column: String(asked.time), unit })];
  const present = { ...asked, epc: asked.epc.filter(isThere) };
  const used = new Set(namedBy({ ...present, only: [] }).map(({ name }) => name));
  return namedLayout(
    present,
    names.filter((name) => !used.has(name)),
    types,
  );
}

function namedLayout(columns: LogLayout["columns"], rest: string[], types: LogLayout["types"]): Found {
  const names = Object.keys(types);
  const layout = {
    width: 0,
    names: names.length === 0 ? null : names,
    header: null,
    skip: 0,
    columns,
    rest,
    types,
  };
  return { layout, above: [], mixesLineEnds: false };
}
