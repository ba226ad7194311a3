import { open, stat } from "node:fs/promises";
import type { ColumnName } from "../../../model/facility.ts";
import type { LogDatabase } from "../database/database.ts";
import { headOf } from "../files.ts";
import { deepestValue } from "../forms/item.ts";
import { isJson } from "../forms/json.ts";
import { isBlankOrComment, linesOf } from "../forms/lines.ts";
import { columnTypes, parquetTexts } from "../statements.ts";
import { guessLogForm, type LogForm } from "./lists.ts";
import { guessTable, type Table } from "./table.ts";

/** A file that cannot be described: the message is for the person who named it. */
export class UnreadableLog extends Error {}

export type FileKind = "csv" | "tsv" | "jsonl" | "parquet" | "items";

/** What the beginning of a file shows. */
export interface LogStart {
  path: string;
  kind: FileKind;
  gzipped: boolean;
  bytes: number;
  byteOrderMark: boolean;
  /** Of a log that is read item by item. */
  form: LogForm | null;
  /** Its first lines; none of Parquet. */
  lines: string[];
}

const headBytes = 1 << 16;
const sampleRows = 2000;

/** Looks at the beginning of a file. Throws `UnreadableLog` where it is not a reader log at all. */
export async function startOf(path: string): Promise<LogStart> {
  const info = await unlessUnreadable(stat(path));
  if (info.isDirectory()) throw new UnreadableLog("It is a folder. Name one reader log in it.");
  if (/[*?[\]]/.test(path))
    throw new UnreadableLog("Its path holds *, ?, [ or ], which stand for other names: rename it.");
  const gzipped = await isGzipped(path);
  const { bytes, isWhole } = await unlessUnreadable(headOf({ place: path, zipped: gzipped }, headBytes));
  if (bytes.length === 0) throw new UnreadableLog("It is empty.");
  const start = { path, gzipped, bytes: info.size, byteOrderMark: bytes.toString("hex", 0, 3) === "efbbbf" };
  if (bytes.toString("latin1", 0, 4) === "PAR1") {
    if (gzipped)
      throw new UnreadableLog("A packed parquet file: unpack it first, parquet packs its columns itself.");
    return { ...start, kind: "parquet", form: null, lines: [] };
  }
  const text = new TextDecoder("utf-8").decode(bytes);
  refuseForeign(bytes, text);
  const lines = linesOf(text);
  // The last line is cut off where the file goes on.
  if (!isWhole && lines.length > 1) lines.pop();
  const form = await guessLogForm(text, isWhole);
  if (form !== null) return { ...start, kind: "items", form, lines };
  const kind = isJson({ lines: lines.filter((line) => !isBlankOrComment(line)) })
    ? "jsonl"
    : /\.tsv(\.gz)?$/i.test(path)
      ? "tsv"
      : "csv";
  return { ...start, kind, form: null, lines };
}

/** Reading a file may fail at its beginning, and at the end of a packed one that is cut off. */
export function unlessUnreadable<T>(reading: Promise<T>): Promise<T> {
  return reading.catch((fault: NodeJS.ErrnoException) => {
    throw new UnreadableLog(cannotRead(fault));
  });
}

async function isGzipped(path: string): Promise<boolean> {
  const file = await unlessUnreadable(open(path, "r"));
  const { buffer } = await file.read(Buffer.alloc(2), 0, 2, 0).finally(() => file.close());
  return buffer.toString("hex") === "1f8b";
}

/** What a person is told of a file that cannot be read. */
function cannotRead(fault: NodeJS.ErrnoException): string {
  if (fault.code === "ENOENT") return "There is no such file.";
  if (fault.code === "Z_BUF_ERROR")
    return "It is cut off: the packed file ends before its end. Fetch it again.";
  if (fault.code?.startsWith("Z_")) return "It is packed and damaged. Fetch it again.";
  return `It cannot be read (${fault.code ?? "fault"}).`;
}

/** Refuses, with what to do, the kinds of file that people hand over in good faith and that are not logs. */
function refuseForeign(bytes: Buffer, text: string): void {
  const mark = bytes.toString("hex", 0, 2);
  if (mark === "fffe" || mark === "feff")
    throw new UnreadableLog("It is written in UTF-16. Save it as UTF-8.");
  if (bytes.toString("latin1", 0, 2) === "PK") {
    throw new UnreadableLog(
      "It is a spreadsheet or another packed folder. Export the log as CSV, codes as text.",
    );
  }
  // A long run of NULs is what a power cut leaves in a log; single ones are another encoding.
  if (
    text
      .slice(0, 4096)
      .replace(/\0{16,}/g, "")
      .includes("\0")
  )
    throw new UnreadableLog("It is UTF-16 without its mark, or no text at all.");
  if (/^\s*<!doctype/i.test(text))
    throw new UnreadableLog(
      "It is HTML, or XML with a document type. Export the log as CSV, JSON or plain XML.",
    );
  if (text.trim() === "") throw new UnreadableLog("It holds no rows.");
}

/** The columns of a log and its first rows. */
export interface Sample {
  names: ColumnName[];
  rows: readonly (readonly string[])[];
  /** Null of JSON and Parquet. */
  table: Table | null;
  /** Names in JSON whose values are lists, or objects that no path reaches. */
  nested: string[];
  /** Names in JSON whose values are numbers too long to keep their digits. */
  longNumbers: string[];
}

export async function sampleOf(database: LogDatabase, start: LogStart): Promise<Sample> {
  if (start.kind === "parquet") return parquetSample(database, start.path);
  if (start.form !== null) return jsonSample(start.form.items, true);
  if (start.kind === "jsonl") return jsonSample(start.lines, false);
  const table = await guessTable(database, start.lines);
  return { names: table.names, rows: table.rows.slice(0, sampleRows), table, nested: [], longNumbers: [] };
}

async function parquetSample(database: LogDatabase, path: string): Promise<Sample> {
  try {
    const columns = await database.rows<{ name: string; type: string }>(columnTypes(path));
    const rows = await database.rows<{ fields: string[] }>(
      parquetTexts([{ place: path }], columns, sampleRows),
    );
    const names = columns.map(({ name }) => name);
    return { names, rows: rows.map(({ fields }) => fields), table: null, nested: [], longNumbers: [] };
  } catch (fault) {
    // The database's own words name its functions; the first line is enough for a person.
    const [words = ""] = String(fault instanceof Error ? fault.message : fault).split("\n");
    throw new UnreadableLog(
      `It begins like a parquet file but cannot be read as one (${words.slice(0, 160)}).`,
    );
  }
}

/** Names are those that the first lines hold, in the order in which they turn up. A value inside an object goes by its path, with dots. */
function jsonSample(lines: readonly string[], areItems: boolean): Sample {
  const objects = lines
    .map(jsonObject)
    .filter((object) => object !== null)
    .map((object) => new Map(leavesOf(object, areItems)));
  const names = [...new Set(objects.flatMap((object) => [...object.keys()]))];
  const having = (test: (value: unknown) => boolean) =>
    names.filter((name) => objects.some((object) => object.has(name) && test(object.get(name))));
  const rows = objects.slice(0, sampleRows).map((object) => names.map((name) => textOf(object.get(name))));
  return {
    names,
    rows,
    table: null,
    nested: having((value) => typeof value === "object" && value !== null),
    longNumbers: having((value) => typeof value === "number" && Math.abs(value) >= 1e20),
  };
}

function jsonObject(line: string): Record<string, unknown> | null {
  if (isBlankOrComment(line) || isNestedDeeply(line)) return null;
  try {
    const value: unknown = JSON.parse(line);
    return isObject(value) ? value : null;
  } catch {
    return null;
  }
}

const deepestNesting = 100;

/** Whether a line opens more brackets inside one another than any log does. Those in texts count too: few lines hold so many. */
function isNestedDeeply(line: string): boolean {
  let depth = 0;
  for (const [bracket] of line.matchAll(/[[{}\]]/g)) {
    depth += bracket === "[" || bracket === "{" ? 1 : -1;
    if (depth > deepestNesting) return true;
  }
  return false;
}

function isObject(value: unknown): value is Record<string, unknown> {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

/** Values and their names, as deep as names reach: a key with a dot in it can only be named at the outermost level. */
function leavesOf(object: Record<string, unknown>, areItems: boolean, path = ""): [string, unknown][] {
  return Object.entries(object).flatMap(([key, written]): [string, unknown][] => {
    const name = path + key;
    // In an item an object of one value goes by the name of the object.
    const value = areItems ? onlyValue(written) : written;
    const isReached =
      isObject(value) && !key.includes(".") && Object.keys(value).length > 0 && !hasDots(value);
    return isReached ? leavesOf(value, areItems, `${name}.`) : [[name, value]];
  });
}

function onlyValue(value: unknown, depth = 0): unknown {
  if (!isObject(value) || depth === deepestValue) return value;
  const values = Object.values(value);
  return values.length === 1 ? onlyValue(values[0], depth + 1) : value;
}

function hasDots(object: Record<string, unknown>): boolean {
  return Object.keys(object).some((key) => key.includes("."));
}

function textOf(value: unknown): string {
  if (value === undefined || value === null) return "";
  if (typeof value === "string") return value.trim();
  return typeof value === "object" ? JSON.stringify(value) : String(value);
}
