import { existsSync, readFileSync } from "node:fs";
import { basename, dirname, join, relative, resolve } from "node:path";
import type { ColumnName } from "../../../model/facility.ts";
import { readFacilityYaml } from "../../facility/facility.ts";
import type { RawReaderLog } from "../../facility/reader-logs.ts";
import { ProblemList } from "../../problems/problem-list.ts";
import { yamlFlow, yamlScalar } from "../../yaml/scalar-text.ts";
import { namesUtc } from "../source/column-words.ts";
import { type DescribedColumn, type EntryRole, shownColumn } from "./columns.ts";
import { isUsable, type LogDescription } from "./description.ts";
import { endsInUtc, shownTime } from "./times.ts";

const mostReaders = 50;

/** The entry of `reader_logs` that a log is read with; null where time or code could not be told. */
export function rawEntry(log: LogDescription, home = homeOf(log.path)): RawReaderLog | null {
  const [time, code, antenna, RSSI, count] = (["time", "code", "antenna", "RSSI", "count"] as const).map(
    (role) => columnOf(log, role),
  );
  const { guess, table, rssi } = log;
  if (time == null || code == null || guess.time.kind !== "style") return null;
  const { unit, format } = guess.time.style;
  const last = lastTimeOf(log);
  const day = log.columns.find(({ used, role }) => used && role === "date alone");
  const isRssiUsed = RSSI != null && rssi !== null && isUsable(rssi);
  const usualDelimiter = log.kind === "tsv" ? "\t" : ",";
  return {
    files: home.path,
    read_point: readPointOf(log, home),
    ...(log.form?.rows == null ? {} : { rows: log.form.rows.join(".") }),
    ...(log.only.length === 0 ? {} : { only: onlyOf(log) }),
    columns: {
      ...(day === undefined ? {} : { date: day.name }),
      time: time.name,
      ...(last === undefined ? {} : { last_time: last.name }),
      epc: log.codes.length > 1 ? log.codes : code.name,
      ...(antenna == null ? {} : { antenna: antenna.name }),
      ...(isRssiUsed ? { rssi: RSSI.name } : {}),
      ...(count == null ? {} : { count: count.name }),
    },
    time: {
      unit,
      ...(format === null ? {} : { format }),
      ...(hasUtcZone(log, time) ? { zone: "UTC" } : {}),
    },
    ...(isRssiUsed ? { rssi_unit: rssi.scale as "dBm" | "cdBm" } : {}),
    ...(guess.form.form !== "hex" || guess.form.doubt !== null ? { epc_form: guess.form.form } : {}),
    ...(table === null || table.delimiter === usualDelimiter ? {} : { delimiter: table.delimiter }),
    ...(table === null || table.decimal === "." ? {} : { decimal: table.decimal }),
    ...(table === null || table.header === "yes" ? {} : { header: table.header }),
  };
}

function onlyOf({ only }: LogDescription): NonNullable<RawReaderLog["only"]> {
  return Object.fromEntries(
    only.map(({ name, values }) => [String(name), values.length === 1 ? values[0]! : values]),
  );
}

/** The column of the last time that the entry names. */
function lastTimeOf({ columns }: LogDescription): DescribedColumn | undefined {
  return columns.find(({ used, role }) => used && role === "last time");
}

function columnOf({ columns }: LogDescription, role: EntryRole): DescribedColumn | null {
  return columns.find((column) => column.used && column.role === role) ?? null;
}

/** Where a log lies in its facility's folder, or where it will. */
interface LogHome {
  path: string;
  isGuess: boolean;
  /** The ids of the facility's read points, as far as they are known. */
  readPoints: readonly string[];
}

function homeOf(path: string): LogHome {
  for (let folder = dirname(resolve(path)); ; folder = dirname(folder)) {
    if (existsSync(join(folder, "facility.yaml"))) {
      const within = relative(folder, resolve(path)).replaceAll("\\", "/");
      return { path: within, isGuess: false, readPoints: readPointsOf(folder) };
    }
    if (dirname(folder) === folder) return { path: `reads/${basename(path)}`, isGuess: true, readPoints: [] };
  }
}

/** The read points of a facility, as far as its facility.yaml can be read. */
function readPointsOf(folder: string): string[] {
  let source = "";
  try {
    source = readFileSync(join(folder, "facility.yaml"), "utf8");
  } catch {
    return [];
  }
  const read = readFacilityYaml(basename(folder), source, new ProblemList(null));
  return read?.facility.readPoints.map(({ id }) => id) ?? [];
}

/** By the column that names the reader, where the log tells more than one. */
function readPointOf(log: LogDescription, home: LogHome): RawReaderLog["read_point"] {
  const column = columnOf(log, "reader");
  const stem = stemOf(log.path);
  if (column === null) return idFor(stem, home);
  const readers = log.read?.readers ?? [];
  const named = readers.filter(({ name }) => name !== "");
  if (log.read !== null && (named.length === 0 || named.length > mostReaders)) return idFor(stem, home);
  const [only] = named;
  if (readers.length === 1 && only !== undefined) return knownId(stem, home) ?? idFor(only.name, home);
  return {
    column: column.name,
    values: Object.fromEntries(named.map(({ name }) => [name, knownId(name, home) ?? idOf(name)])),
  };
}

function stemOf(path: string): string {
  return basename(path).replace(/\..*$/s, "");
}

/** The one read point there is, the one of that name, or else an id made of the name. */
function idFor(name: string, home: LogHome): string {
  const [only, ...others] = home.readPoints;
  if (only !== undefined && others.length === 0) return only;
  return knownId(name, home) ?? idOf(name);
}

/** The known read point that a name stands for: the same but for case and marks, or contained in it as a whole word. */
function knownId(name: string, { readPoints }: LogHome): string | null {
  const word = `-${idOf(name)}-`;
  const fitting = readPoints.filter((id) => word.includes(`-${idOf(id)}-`));
  return fitting.length === 1 ? fitting[0]! : (readPoints.find((id) => idOf(id) === idOf(name)) ?? null);
}

/** A name as an id could be: letters and digits, hyphens between. */
function idOf(name: string): string {
  const id = name
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, "-")
    .replace(/^-+|-+$/g, "")
    .slice(0, 40);
  return id === "" ? "read-point" : id;
}

function hasUtcZone({ guess }: LogDescription, { name }: DescribedColumn): boolean {
  if (guess.time.kind !== "style") return false;
  const { style, offsets } = guess.time;
  if (style.format !== null && endsInUtc(style.format)) return true;
  return offsets === "none" && namesUtc(String(name));
}

/** The entry as facility.yaml takes it, every guess marked; empty where there is none. */
export function entryText(log: LogDescription, home = homeOf(log.path)): string {
  const entry = rawEntry(log, home);
  if (entry === null || log.read === null) return "";
  const lines = linesOf(entry, {
    indent: "    ",
    path: "",
    doubts: doubtsOf(log, entry, home),
    additions: additionsOf(log, entry),
  });
  return ["reader_logs:", `  - ${lines[0]!.trimStart()}`, ...lines.slice(1), ""].join("\n");
}

interface Writing {
  indent: string;
  /** Keys above, each with a dot behind it. */
  path: string;
  /** Why a line is a guess, by the path of its key. */
  doubts: ReadonlyMap<string, string>;
  /** Comments that follow a key and what is below it. */
  additions: ReadonlyMap<string, readonly string[]>;
}

function linesOf(values: object, writing: Writing): string[] {
  const { indent, path, doubts, additions } = writing;
  return Object.entries(values).flatMap(([key, value]: [string, unknown]) => {
    const start = `${indent}${yamlScalar(key)}:`;
    const doubt = doubts.get(path + key);
    const mark = doubt === undefined ? "" : `  # guess: ${doubt}`;
    const added = (additions.get(path + key) ?? []).map((line) => `${indent}${line}`);
    if (typeof value !== "object" || value === null)
      return [`${start} ${yamlScalar(value as string | number)}${mark}`, ...added];
    if (path + key === "time" || path + key === "only" || Array.isArray(value))
      return [`${start} ${yamlFlow(value)}${mark}`, ...added];
    return [
      start,
      ...linesOf(value, { ...writing, indent: `${indent}  `, path: `${path}${key}.` }),
      ...added,
    ];
  });
}

function doubtsOf(log: LogDescription, entry: RawReaderLog, home: LogHome): Map<string, string> {
  const { guess, read, rssi } = log;
  const choice = home.readPoints.length === 0 ? "" : `: ${home.readPoints.join(", ")}`;
  const doubts = new Map<string, string>();
  const doubt = (path: string, why: string | null) => why !== null && doubts.set(path, why);
  if (home.isGuess) doubt("files", "where it will lie in the facility's folder");
  const readers = read?.readers.filter(({ name }) => name !== "") ?? [];
  if (typeof entry.read_point === "string") {
    doubt(
      "read_point",
      home.readPoints.includes(entry.read_point)
        ? home.readPoints.length === 1
          ? "the only read point"
          : "going by the names of the file and the reader"
        : readers.length === 1
          ? `put the id of the read point where the one reader named in the log stands${choice}`
          : `put the id of the read point that wrote this log${choice}`,
    );
  } else {
    for (const [name, id] of Object.entries(entry.read_point.values)) {
      const isKnown = home.readPoints.includes(id);
      const missing = `put the id of the read point where this reader stands${choice}`;
      doubt(`read_point.values.${name}`, isKnown ? "going by its name" : missing);
    }
  }
  const keys = { time: "time", code: "epc", antenna: "antenna", RSSI: "rssi", count: "count" };
  for (const column of log.columns) {
    if (!column.used || !(column.role in keys)) continue;
    const how = {
      name: null,
      "part of its name": "going by a part of its name",
      values: "going by what it holds",
      nothing: "nothing speaks for it",
    };
    doubt(`columns.${keys[column.role as keyof typeof keys]}`, how[column.by]);
  }
  for (const { others } of log.only) {
    const names = others.filter((each) => each !== "").map((each) => yamlScalar(each));
    doubt("only", `${names.length === 0 ? "rows without it hold no code" : `not ${names.join(", ")}`}`);
  }
  doubt("time", timeDoubt(log));
  if (rssi !== null) {
    const isStated = rssi.scale === "dBm" && /\bdbm\b/i.test(String(rssi.column).replaceAll("_", " "));
    doubt("rssi_unit", isStated ? null : `by their size, ${rssi.min} to ${rssi.max}`);
  }
  doubt("epc_form", guess.form.doubt);
  return doubts;
}

function timeDoubt(log: LogDescription): string | null {
  const { guess, read } = log;
  if (guess.time.kind !== "style" || read === null) return null;
  const { style, also, offsets } = guess.time;
  const column = columnOf(log, "time")!;
  const doubts = also === null ? [] : [`${also.format} fits as well`];
  if (style.unit !== "iso")
    doubts.push(`by their size, so that the log begins at ${shownTime(read.sums.firstUs, guess.time)}`);
  else if (style.format !== null && endsInUtc(style.format)) return doubts[0] ?? null;
  else if (hasUtcZone(log, column)) doubts.push("the column's name says UTC");
  else if (offsets !== "all") {
    doubts.push(
      "no offset stated, so the facility's time_zone is taken; add zone: UTC or zone: Area/City if the clock showed another",
    );
  }
  return doubts.length === 0 ? null : doubts.join("; ");
}

/** What could stand in place of something, ready to be put in by taking off the mark, and what was left out. */
function additionsOf(log: LogDescription, entry: RawReaderLog): Map<string, string[]> {
  const additions = new Map<string, string[]>();
  const { read, rssi } = log;
  if (typeof entry.read_point === "string" && (read?.readers.length ?? 0) === 0) {
    const instead = (column: ColumnName, names: readonly string[], why: string) => {
      const values = Object.fromEntries(names.map((name) => [name, idOf(name)]));
      return `# read_point: ${yamlFlow({ column, values })}  # instead, ${why}`;
    };
    const lines = (read?.readerCandidates ?? []).map(({ column, names }) =>
      instead(column, names, `if ${shownColumn(column)} names the reader: put the ids of their read points`),
    );
    const antenna = columnOf(log, "antenna");
    const names = (read?.antennas ?? []).map(({ name }) => name).filter((name) => name !== "");
    if (antenna !== null && names.length > 1 && names.length <= 16) {
      const why = "if the antennas belong to different read points: put the ids of those";
      lines.push(instead(antenna.name, names, why));
    }
    additions.set("read_point", lines);
  }
  const column = columnOf(log, "RSSI");
  if (column !== null && entry.columns.rssi === undefined) {
    const why =
      rssi === null
        ? "it holds no numbers"
        : rssi.outside > 0
          ? "some values cannot be dBm"
          : "neither dBm nor hundredths of it";
    additions.set("columns", [`  # rssi: ${yamlScalar(column.name)}  # left out: ${why}`]);
  }
  return additions;
}
