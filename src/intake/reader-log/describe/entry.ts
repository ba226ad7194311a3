import { existsSync } from "node:fs";
import { basename, dirname, join, relative, resolve } from "node:path";
import { namesUtc } from "./column-words.ts";
import type { DescribedColumn, LogDescription } from "./log-description.ts";
import { isUsableRssi } from "./rssi-scale.ts";
import { shownColumn } from "./shown-column.ts";
import { endsInUtc } from "./time-formats.ts";
import type { TimeGuess } from "./time-texts.ts";
import { yamlScalar } from "./yaml-scalar.ts";

type Facts = Omit<LogDescription, "remarks" | "entry">;

const mostReaders = 50;

/** The `reader_logs` entry for a log, every guess marked; empty where time or code could not be told. */
export function entryOf(facts: Facts, guess: TimeGuess, formDoubt: string | null): string {
  const time = columnOf(facts, "time");
  const code = columnOf(facts, "code");
  if (time === null || code === null || guess.kind !== "style" || facts.time === null) return "";
  const lines = [
    "reader_logs:",
    filesLine(facts.path),
    ...readPointLines(facts),
    "    columns:",
    columnLine("time", time),
    columnLine("epc", code),
    ...optionalColumns(facts),
    ...timeLines(facts, time, guess),
  ];
  if (facts.rssi !== null && isUsableRssi(facts.rssi)) {
    const { scale, min, max } = facts.rssi;
    const stated = scale === "dBm" && /\bdbm\b/i.test(String(facts.rssi.column).replaceAll("_", " "));
    lines.push(marked(`    rssi_unit: ${scale}`, stated ? null : `by their size, ${min} to ${max}`));
  }
  const form = facts.tags?.form ?? "hex";
  if (form !== "hex" || formDoubt !== null) lines.push(marked(`    epc_form: ${form}`, formDoubt));
  lines.push(...dialectLines(facts));
  return `${lines.join("\n")}\n`;
}

function columnOf(facts: Facts, role: DescribedColumn["role"]): DescribedColumn | null {
  return facts.columns.find((column) => column.used && column.role === role) ?? null;
}

function marked(line: string, why: string | null): string {
  return why === null ? line : `${line}  # guess: ${why}`;
}

function filesLine(path: string): string {
  for (let folder = dirname(resolve(path)); ; folder = dirname(folder)) {
    if (existsSync(join(folder, "facility.yaml"))) {
      return `  - files: ${yamlScalar(relative(folder, resolve(path)).replaceAll("\\", "/"))}`;
    }
    if (dirname(folder) === folder) break;
  }
  return marked(
    `  - files: ${yamlScalar(`reads/${basename(path)}`)}`,
    "where it will lie in the facility's folder",
  );
}

function readPointLines(facts: Facts): string[] {
  const column = columnOf(facts, "reader");
  const readers = facts.readers.filter(({ name }) => name !== "");
  if (column === null || readers.length === 0 || readers.length > mostReaders) {
    const stem = basename(facts.path).replace(/\..*$/s, "");
    return [
      marked(`    read_point: ${yamlScalar(idOf(stem))}`, "put the id of the read point that wrote this log"),
      ...otherReadPoints(facts),
    ];
  }
  if (readers.length === 1 && facts.readers.length === 1) {
    const why = "put the id of the read point where the one reader named in the log stands";
    return [marked(`    read_point: ${yamlScalar(idOf(readers[0]!.name))}`, why)];
  }
  const why = "put the id of the read point where this reader stands";
  return [
    "    read_point:",
    `      column: ${yamlScalar(column.name)}`,
    "      values:",
    ...readers.map(({ name }) => marked(`        ${yamlScalar(name)}: ${yamlScalar(idOf(name))}`, why)),
  ];
}

/** What could stand in place of one read point, ready to be put in by taking off the mark. */
function otherReadPoints({ readerCandidates, antennas, columns }: Facts): string[] {
  const line = (column: string | number, names: string[], why: string) => {
    const values = names.map((name) => `${yamlScalar(name)}: ${yamlScalar(idOf(name))}`).join(", ");
    return `    # read_point: { column: ${yamlScalar(column)}, values: { ${values} } }  # instead, ${why}`;
  };
  const lines = readerCandidates
    .slice(0, 3)
    .map(({ column, names }) =>
      line(column, names, `if ${shownColumn(column)} names the reader: put the ids of their read points`),
    );
  const antenna = columns.find(({ used, role }) => used && role === "antenna");
  const names = antennas.map(({ name }) => name).filter((name) => name !== "");
  if (antenna !== undefined && names.length > 1 && names.length <= 16) {
    lines.push(
      line(antenna.name, names, "if the antennas belong to different read points: put the ids of those"),
    );
  }
  return lines;
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

function columnLine(key: string, column: DescribedColumn): string {
  const why = {
    name: null,
    "part of its name": "going by a part of its name",
    values: "going by what it holds",
    nothing: "nothing speaks for it",
  }[column.by];
  return marked(`      ${key}: ${yamlScalar(column.name)}`, why);
}

function optionalColumns(facts: Facts): string[] {
  const lines: string[] = [];
  const antenna = columnOf(facts, "antenna");
  if (antenna !== null) lines.push(columnLine("antenna", antenna));
  const rssi = columnOf(facts, "RSSI");
  if (rssi !== null) {
    const usable = facts.rssi !== null && isUsableRssi(facts.rssi);
    const why =
      facts.rssi === null
        ? "left out: it holds no numbers"
        : facts.rssi.scale === "dBm" || facts.rssi.scale === "cdBm"
          ? "left out: some values are above 0"
          : "left out: neither dBm nor hundredths of it";
    lines.push(usable ? columnLine("rssi", rssi) : `      # rssi: ${yamlScalar(rssi.name)}  # ${why}`);
  }
  const count = columnOf(facts, "count");
  if (count !== null) lines.push(columnLine("count", count));
  return lines;
}

function timeLines(facts: Facts, column: DescribedColumn, guess: TimeGuess & { kind: "style" }): string[] {
  const { unit, format, offsets, first } = facts.time!;
  const parts = [`unit: ${unit}`];
  const doubts: string[] = [];
  if (format !== null) parts.push(`format: ${yamlScalar(format)}`);
  if (guess.also !== null) doubts.push(`${guess.also.format} fits as well`);
  if (format !== null && endsInUtc(format)) parts.push("zone: UTC");
  else if (unit !== "iso") doubts.push(`by their size, so that the log begins at ${first ?? "no time"}`);
  else if (offsets === "none" && namesUtc(String(column.name))) {
    parts.push("zone: UTC");
    doubts.push("the column's name says UTC");
  } else if (offsets !== "all") {
    doubts.push(
      "no offset stated, so the facility's time_zone is taken; add zone: UTC or zone: Area/City if the clock showed another",
    );
  }
  return [marked(`    time: { ${parts.join(", ")} }`, doubts.length > 0 ? doubts.join("; ") : null)];
}

function dialectLines({ text, kind, tags, rssi }: Facts): string[] {
  if (text === null || kind === "jsonl") return [];
  const lines: string[] = [];
  const usual = kind === "tsv" ? "\t" : ",";
  if (text.delimiter !== null && text.delimiter !== usual)
    lines.push(`    delimiter: ${yamlScalar(text.delimiter)}`);
  if (text.decimal !== ".") lines.push(`    decimal: ${yamlScalar(text.decimal)}`);
  if (text.header !== "yes") {
    const unsure = text.header === "no" && tags === null && rssi === null;
    lines.push(marked(`    header: ${text.header}`, unsure ? "the first row looks like the others" : null));
  }
  return lines;
}
