import { counted, countText } from "../../../model/number-words.ts";
import { quoted, shortened } from "../../quotation.ts";
import type { DescribedColumn, LogDescription, RssiFacts, TextFacts, TimeFacts } from "./log-description.ts";
import { shownColumn } from "./shown-column.ts";

const mostListed = 12;

/** A description as a terminal shows it: facts, columns, odd lines, remarks, and the entry to paste. */
export function descriptionText(log: LogDescription): string {
  const blocks = [
    [`${shortened(log.path)}: ${kindOf(log)}, ${countText(log.bytes)} bytes`, ...facts(log)],
    ["Columns", ...columnLines(log.columns)],
    oddLines(log),
    log.remarks.length === 0 ? [] : ["Worth knowing", ...log.remarks.map((remark) => `  - ${remark}`)],
  ];
  const above = blocks
    .filter((block) => block.length > 0)
    .map((block) => `${block.join("\n")}\n`)
    .join("\n");
  return log.entry === ""
    ? `${above}\nNo entry for facility.yaml can be written: see above what is missing.\n`
    : `${above}\n${nextStep}\n\n${log.entry}`;
}

const nextStep = [
  "For facility.yaml. Where reader_logs stands there already, add what is below its first line to it.",
  "Look at every line marked as a guess, then run `proofwalk check`.",
].join("\n");

function kindOf({ kind, gzipped }: LogDescription): string {
  const name = { csv: "a text table", tsv: "a text table", jsonl: "JSON lines", parquet: "Parquet" }[kind];
  return gzipped ? `${name}, packed with gzip` : name;
}

function facts(log: LogDescription): string[] {
  const { text, time, tags, rssi, count, readers, antennas } = log;
  const lines: [string, string][] = [];
  if (text !== null) lines.push(...textLines(text, log.kind === "jsonl"));
  lines.push(["rows", countText(log.rows) + repeats(log)]);
  if (time !== null) lines.push(["time", timeText(time)]);
  if (tags !== null) {
    lines.push(["tags", `${counted(tags.distinct, "distinct code", "distinct codes")}${form(tags.form)}`]);
    for (const { shape, codes } of tags.shapes.slice(0, mostListed))
      lines.push(["", `${countText(codes)} of ${shape}`]);
  }
  if (rssi !== null) lines.push(["RSSI", rssiText(rssi)]);
  if (count !== null) {
    lines.push(["reads", `${countText(count.sum)} in all; a row stands for up to ${countText(count.max)}`]);
  }
  if (antennas.length > 0) lines.push(["antennas", listedRows(antennas)]);
  for (const [i, reader] of readers.slice(0, mostListed).entries()) {
    const span = reader.first === null ? "" : `, ${reader.first} to ${reader.last}`;
    lines.push([
      i === 0 ? "readers" : "",
      `${named(reader.name)}: ${counted(reader.rows, "row", "rows")}${span}`,
    ]);
  }
  if (readers.length > mostListed) lines.push(["", `and ${readers.length - mostListed} more`]);
  return lines.map(([label, value]) => `  ${label.padEnd(10)}${value}`);
}

function repeats({ repeated, repeatsLookedAt, rows }: LogDescription): string {
  const among = repeatsLookedAt < rows ? ` among the first ${countText(repeatsLookedAt)}` : "";
  return repeated === 0
    ? `, none of them repeated${among}`
    : `, ${countText(repeated)} of them exact repeats${among}`;
}

function textLines(text: TextFacts, json: boolean): [string, string][] {
  const ends = [
    text.lineEnds.lf > 0 ? `LF (${countText(text.lineEnds.lf)})` : "",
    text.lineEnds.crlf > 0 ? `CRLF (${countText(text.lineEnds.crlf)})` : "",
    text.lineEnds.cr > 0 ? `CR (${countText(text.lineEnds.cr)})` : "",
  ].filter((part) => part !== "");
  const lines: [string, string][] = [
    ["text", `${text.encoding}, ${text.byteOrderMark ? "with" : "without"} a byte-order mark`],
    ["line ends", `${ends.join(" and ") || "none"}${text.finalNewline ? "" : "; the last line has none"}`],
  ];
  if (json) return lines;
  const part = { ",": "comma", ";": "semicolon", "\t": "tab", "|": "vertical bar", " ": "blank" };
  const mark =
    text.delimiter === null ? "nothing: there is one column" : part[text.delimiter as keyof typeof part];
  lines.push(["parted by", `${mark}; decimal ${text.decimal === "," ? "comma" : "point"}`]);
  const header = { yes: "yes", no: "none", commented: "in a comment" }[text.header];
  lines.push(["header", text.headerLine === null ? header : `${header}, line ${text.headerLine}`]);
  for (const [i, { line, text: words }] of text.comments.slice(0, mostListed).entries()) {
    lines.push([i === 0 ? "comments" : "", `line ${line}: ${quoted(words)}`]);
  }
  const hidden = text.commentCount - Math.min(text.comments.length, mostListed);
  if (hidden > 0) lines.push(["", `and ${countText(hidden)} more`]);
  if (text.blankLines > 0) lines.push(["blank", counted(text.blankLines, "line", "lines")]);
  return lines;
}

function timeText({ first, last, unit, format, offsets }: TimeFacts): string {
  const units = {
    iso: "date and time in words",
    s: "seconds",
    ms: "milliseconds",
    us: "microseconds",
    ns: "nanoseconds",
  };
  const how = unit === "iso" ? (format ?? units.iso) : `${units[unit]} since 1970, judged by their size`;
  const zone = {
    all: "with its offset from UTC",
    none: "no offset from UTC stated",
    some: "an offset from UTC stated in some rows only",
    "count since 1970": "UTC",
  }[offsets];
  return `${first ?? "?"} to ${last ?? "?"}; ${how}, ${zone}`;
}

function form(form: "hex" | "pc-epc" | "pc-epc-crc" | "base64"): string {
  return {
    hex: "",
    "pc-epc": ", with the PC word before each",
    "pc-epc-crc": ", with the PC word before each and the CRC behind it",
    base64: ", in base64",
  }[form];
}

function rssiText({ min, median, max, scale, blank }: RssiFacts): string {
  const unit = {
    dBm: "dBm, judged by their size",
    cdBm: "hundredths of a dBm, judged by their size",
    "tenths of a dBm": "tenths of a dBm, judged by their size",
    "unsigned byte": "not dBm: an unsigned byte, judged by their size",
    positive: "not dBm: they are not negative",
    unclear: "of a unit that cannot be told",
  }[scale];
  const missing = blank > 0 ? `; blank in ${counted(blank, "row", "rows")}` : "";
  return `${min} to ${max}, half of them up to ${median}; ${unit}${missing}`;
}

function listedRows(entries: { name: string; rows: number }[]): string {
  const shown = entries
    .slice(0, mostListed)
    .map(({ name, rows }) => `${named(name)} (${counted(rows, "row", "rows")})`);
  return shown.join(", ") + (entries.length > mostListed ? ` and ${entries.length - mostListed} more` : "");
}

function named(name: string): string {
  return name === "" ? "blank" : shortened(name);
}

function columnLines(columns: readonly DescribedColumn[]): string[] {
  const mostColumns = 60;
  const names = columns.map(({ name }) => shownColumn(name));
  const width = Math.min(32, Math.max(...names.map((name) => name.length)));
  const lines = columns.slice(0, mostColumns).map(({ role, by, used, samples }, i) => {
    const how = {
      name: "",
      "part of its name": " (by a part of its name)",
      values: " (by its values)",
      nothing: "",
    }[by];
    const taken =
      role === "unknown" ? "not recognised" : `${role}${how}${used || !wanted.has(role) ? "" : ", not used"}`;
    const held = samples.length === 0 ? "empty" : samples.map((sample) => shortened(sample)).join("  ");
    return `  ${names[i]!.padEnd(width)}  ${taken.padEnd(22)}  ${held}`;
  });
  if (columns.length > mostColumns) lines.push(`  and ${columns.length - mostColumns} more`);
  return lines;
}

const wanted = new Set<string>(["time", "code", "antenna", "RSSI", "count", "reader"]);

function oddLines({ odd, kind }: LogDescription): string[] {
  if (odd.length === 0) return [];
  const place = kind === "parquet" ? "row" : "line";
  const lines = ["Odd lines, refused unless something else is said"];
  for (const { reason, count, first } of odd.slice(0, mostListed)) {
    lines.push(`  ${reason}: ${counted(count, "line", "lines")}`);
    for (const { line, text } of first) lines.push(`    ${place} ${line}: ${quoted(text)}`);
  }
  if (odd.length > mostListed) lines.push(`  and ${odd.length - mostListed} more kinds`);
  return lines;
}
