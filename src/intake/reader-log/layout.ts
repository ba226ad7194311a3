import type { ReaderLogSpec } from "../../model/facility.ts";
import type { ProblemList } from "../problems/problem-list.ts";
import {
  readerLogColumnMissing,
  readerLogEmpty,
  readerLogHeaderMissing,
  readerLogTimeType,
  readerLogUnreadable,
} from "../problems/reader-log.ts";
import type { LogDatabase } from "./database.ts";
import { headOf, type LogFile, type LogKind, lineEnd } from "./files.ts";
import { fieldsOf, lineScan, textLines } from "./rows.ts";

/** Where rows keep what is asked of them: a column's number from 1, or its name. */
interface LogLayout {
  /** Columns in all, of delimited logs. */
  width: number;
  /** The line with the names of the columns, as it stands; it is no row wherever it stands. */
  header: string | null;
  /** Lines from the top to the first line of data. */
  skip: number;
  columns: Record<Role, number | string | null>;
  /** Columns that nothing is asked of. */
  rest: (number | string)[];
  /** Types of columns, where the file states them. */
  types: Record<string, string>;
}

type Role = "time" | "epc" | "antenna" | "rssi" | "count" | "reader";

/** Logs that the database reads in one go: of one entry of `reader_logs`, and with the same layout. */
export interface LogGroup {
  spec: ReaderLogSpec;
  kind: LogKind;
  zipped: boolean;
  delimiter: string;
  layout: LogLayout;
  files: GroupedFile[];
}

export interface GroupedFile extends LogFile {
  /** Lines above the header that are no comments: they are not rows. */
  above: string[];
  /** Whether the lines above the data end in more than one way: the database would skip too many, and say nothing. */
  mixesLineEnds: boolean;
}

/** What was found out about one file. */
interface Found {
  layout: LogLayout;
  above: string[];
  mixesLineEnds: boolean;
}

/** Lines at the top among which the header is looked for. */
const mostLinesAbove = 1000;
const headBytes = 1 << 17;

/** Finds the columns that are asked for; a log that lacks one, or that cannot be read, is a problem and in no group. */
export async function findLayouts(
  database: LogDatabase,
  files: readonly LogFile[],
  problems: ProblemList,
): Promise<LogGroup[]> {
  const specs = new Map<ReaderLogSpec, number>();
  const groups = new Map<string, LogGroup>();
  for (const file of files) {
    const found = await findLayout(database, file, problems).catch((fault: unknown) => {
      reportUnreadable(fault, [file], problems);
      return null;
    });
    if (found === null) continue;
    const { spec, kind, zipped, delimiter } = file;
    if (!specs.has(spec)) specs.set(spec, specs.size);
    const key = JSON.stringify([specs.get(spec), kind, zipped, delimiter, found.layout]);
    const { layout, ...member } = found;
    const group = groups.get(key) ?? { spec, kind, zipped, delimiter, layout, files: [] };
    groups.set(key, group);
    group.files.push({ ...file, ...member });
  }
  return [...groups.values()];
}

/** Whatever the database cannot digest is a fault of the file or of its entry, to be named with the others. */
export function reportUnreadable(fault: unknown, files: readonly LogFile[], problems: ProblemList): void {
  const [first = ""] = String(fault instanceof Error ? fault.message : fault).split("\n");
  for (const { path, place } of files) {
    // Paths of this machine say nothing to the reader and differ from place to place.
    problems.report({ file: path }, readerLogUnreadable.with(first.replaceAll(place, path)));
  }
}

function findLayout(database: LogDatabase, file: LogFile, problems: ProblemList): Promise<Found | null> {
  const find = { delimited: delimitedLayout, "json-lines": jsonLayout, parquet: parquetLayout }[file.kind];
  return find(database, file, problems);
}

/** What an entry of `reader_logs` asks of each row. */
function askedOf({ columns, readPoint }: ReaderLogSpec): Record<Role, string | number | null> {
  return { ...columns, reader: readPoint.kind === "column" ? readPoint.column : null };
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

async function namesIn(
  database: LogDatabase,
  lines: readonly string[],
  delimiter: string,
): Promise<string[][]> {
  const split = await splitLines(database, lines, delimiter);
  return split.map((fields, index) => {
    const names = (fields ?? lines[index]!.split(delimiter)).map((name) => name.trim());
    // A delimiter at the end of every line makes no column.
    if (names.length > 1 && names.at(-1) === "") names.pop();
    return names;
  });
}

export const commentMark = /^\s*(?:#+|\/\/+)\s*/;

interface Header {
  /** The header as it stands, where it is no comment. */
  line: string | null;
  /** Null where the columns have no names. */
  names: string[] | null;
  above: string[];
  skip: number;
  width: number;
}

async function delimitedLayout(
  database: LogDatabase,
  file: LogFile,
  problems: ProblemList,
): Promise<Found | null> {
  const asked = askedOf(file.spec);
  const { bytes } = await headOf(file, headBytes);
  const text = new TextDecoder("utf-8").decode(bytes);
  const lines = text.split(lineEnd, mostLinesAbove);
  const find = { yes: headerLine, commented: commentedHeader, no: noHeader }[file.spec.header];
  const header = await find({ database, file, lines, wanted: Object.values(asked), problems });
  if (header === null) return null;
  const { names, width, skip } = header;
  const columns = {} as LogLayout["columns"];
  for (const [role, name] of Object.entries(asked) as [Role, string | number | null][]) {
    const index = name === null ? null : columnOf(name, names, width);
    columns[role] = index;
    if (index === 0)
      problems.report({ file: file.path }, readerLogColumnMissing.with({ role, name: name!, names, width }));
  }
  if (Object.values(columns).includes(0)) return null;
  const used = new Set<number | string | null>(Object.values(columns));
  const rest = Array.from({ length: width }, (_, index) => index + 1).filter((index) => !used.has(index));
  const ends = (text.match(/\r\n|\n|\r/g) ?? []).slice(0, skip + 1);
  return {
    layout: { width, header: header.line, skip, columns, rest, types: {} },
    above: header.above,
    mixesLineEnds: skip > 1 && new Set(ends).size > 1,
  };
}

/** From 1; 0 where there is no such column. */
function columnOf(name: string | number, names: string[] | null, width: number): number {
  if (typeof name === "number") return name <= width || width === 0 ? name : 0;
  return (names?.indexOf(name) ?? -1) + 1;
}

interface Search {
  database: LogDatabase;
  file: LogFile;
  /** The beginning of the file. */
  lines: readonly string[];
  /** The columns that are asked for. */
  wanted: readonly (string | number | null)[];
  problems: ProblemList;
}

/** The first line that holds all names that are asked for, else the first line that is no comment. */
async function headerLine({ database, file, lines, wanted, problems }: Search): Promise<Header | null> {
  const names = wanted.filter((name) => typeof name === "string");
  const data = lines.flatMap((line, index) => (isBlankOrComment(line) ? [] : [index]));
  const first = data[0];
  if (first === undefined) {
    problems.report({ file: file.path }, readerLogEmpty);
    return null;
  }
  const likely =
    names.length === 0
      ? []
      : data.filter((index) => names.every((name) => lines[index]!.includes(name))).slice(0, 20);
  const tried = [...likely, first];
  const split = await namesIn(
    database,
    tried.map((index) => lines[index]!),
    file.delimiter,
  );
  const place = split.findIndex((found) => names.every((name) => found.includes(name)));
  const header = tried[place] ?? first;
  const found = split[place] ?? split.at(-1)!;
  return {
    line: lines[header]!,
    names: found,
    above: data.filter((index) => index < header).map((index) => lines[index]!),
    skip: header + 1,
    width: found.length,
  };
}

/** A line that holds no row. */
export function isBlankOrComment(line: string): boolean {
  return line.trim() === "" || commentMark.test(line);
}

/** The last comment above the data that holds all names that are asked for. */
async function commentedHeader({ database, file, lines, wanted, problems }: Search): Promise<Header | null> {
  const names = wanted.filter((name) => typeof name === "string");
  const { skip } = dataStart(lines);
  const likely = lines
    .slice(0, skip)
    .filter((line) => names.some((name) => line.includes(name)))
    .map((line) => line.replace(commentMark, ""));
  const split = await namesIn(database, likely, file.delimiter);
  const held = (found: string[]) => names.filter((name) => found.includes(name)).length;
  const header = split.findLast((found) => held(found) === names.length);
  if (header !== undefined) return { line: null, names: header, above: [], skip, width: header.length };
  const nearest = split.reduce((best, found) => (held(found) > held(best) ? found : best), [] as string[]);
  problems.report({ file: file.path }, readerLogHeaderMissing.with(nearest));
  return null;
}

async function noHeader({ database, file, lines }: Search): Promise<Header> {
  const { skip, first } = dataStart(lines);
  const [fields = []] = await namesIn(database, first === null ? [] : [first], file.delimiter);
  return { line: null, names: null, above: [], skip, width: fields.length };
}

/** The first line that is no comment, and how many lines are to be skipped above it. */
function dataStart(lines: readonly string[]): { skip: number; first: string | null } {
  const start = lines.findIndex((line) => !isBlankOrComment(line));
  return start < 0 ? { skip: lines.length - 1, first: null } : { skip: start, first: lines[start]! };
}

async function jsonLayout(
  database: LogDatabase,
  file: LogFile,
  problems: ProblemList,
): Promise<Found | null> {
  const asked = askedOf(file.spec);
  const layout = namedLayout(asked, [], {});
  const hasAll = (names: readonly string[]) =>
    Object.values(asked).every((name) => name === null || isKey(name, names));
  const { bytes } = await headOf(file, headBytes);
  let names = keysOf(new TextDecoder("utf-8").decode(bytes).split(lineEnd));
  // A key that is rare may stand in none of the first lines.
  if (!hasAll(names)) {
    const rows = await database.rows<{ key: string }>(
      `SELECT DISTINCT unnest(json_keys(line)) AS key FROM (${lineScan(file)}) WHERE json_valid(line) ORDER BY key`,
      { places: [file.place] },
    );
    await database.run("DROP TABLE reject_errors; DROP TABLE reject_scans");
    names = rows.map(({ key }) => key);
  }
  for (const [role, name] of Object.entries(asked)) {
    if (name !== null && !isKey(name, names))
      problems.report(
        { file: file.path },
        readerLogColumnMissing.with({ role, name, names, width: names.length }),
      );
  }
  return hasAll(names) ? { layout, above: [], mixesLineEnds: false } : null;
}

/** A name with dots may be a path. Of a log without rows nothing is said. */
function isKey(name: string | number, names: readonly string[]): boolean {
  if (typeof name === "number") return false;
  return names.length === 0 || names.includes(name) || names.includes(name.split(".")[0]!);
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

async function parquetLayout(
  database: LogDatabase,
  file: LogFile,
  problems: ProblemList,
): Promise<Found | null> {
  const { spec, path, place } = file;
  const asked = askedOf(spec);
  const columns = await database.rows<{ column_name: string; column_type: string }>(
    "DESCRIBE SELECT * FROM read_parquet($place)",
    { place },
  );
  const types = Object.fromEntries(columns.map((column) => [column.column_name, column.column_type]));
  const names = columns.map((column) => column.column_name);
  const missing = Object.entries(asked).filter(
    ([, name]) => name !== null && !(typeof name === "string" && names.includes(name)),
  );
  for (const [role, name] of missing) {
    problems.report(
      { file: path },
      readerLogColumnMissing.with({ role, name: name!, names, width: names.length }),
    );
  }
  if (missing.length > 0) return null;
  if (types[String(asked.time)]!.startsWith("TIMESTAMP") && spec.time.unit !== "iso") {
    problems.report(
      { file: path },
      readerLogTimeType.with({ column: String(asked.time), unit: spec.time.unit }),
    );
    return null;
  }
  const used = new Set<string | number | null>(Object.values(asked));
  const rest = names.filter((name) => !used.has(name));
  return { layout: namedLayout(asked, rest, types), above: [], mixesLineEnds: false };
}

function namedLayout(columns: LogLayout["columns"], rest: string[], types: LogLayout["types"]): LogLayout {
  return { width: 0, header: null, skip: 0, columns, rest, types };
}
