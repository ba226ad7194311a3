import { counted, countText } from "../../../model/number-words.ts";
import { printable, quoted, shortened } from "../../problems/card/wording.ts";
import type { LogSums } from "../statements.ts";
import { type DescribedColumn, entryRoles, shownColumn } from "./columns.ts";
import type { DescribedLog } from "./describe.ts";
import type { LogDescription, ReadFacts, RssiFacts, TextFacts } from "./description.ts";
import type { Table } from "./table.ts";
import { shownTime, type TimeGuess } from "./times.ts";

const mostListed = 12;

/** A line of a block: its label, empty under another line of the same, and its text. */
type Labelled = [label: string, text: string];

/** A description as a terminal shows it: facts, columns, odd lines, remarks, and the entry to paste. */
export function descriptionText(log: DescribedLog): string {
  const kinds = {
    csv: "a text table",
    tsv: "a text table",
    jsonl: "JSON lines",
    parquet: "Parquet",
    items: "",
  };
  const kind = log.form?.form.title ?? kinds[log.kind];
  const title = `${shortened(log.path)}: ${kind}${log.gzipped ? ", packed with gzip" : ""}, ${countText(log.bytes)} bytes`;
  const blocks = [
    [title, ...facts(log).map(([label, text]) => `  ${label.padEnd(10)}${text}`)],
    ["Columns", ...columnLines(log.columns)],
    oddLines(log),
    log.remarks.length === 0 ? [] : ["Worth knowing", ...log.remarks.map((remark) => `  - ${remark}`)],
  ];
  const above = blocks.flatMap((block) => (block.length === 0 ? [] : [`${block.join("\n")}\n`])).join("\n");
  if (log.entry === "")
    return `${above}\nNo entry for facility.yaml can be written: see above what is missing.\n`;
  return `${above}
For facility.yaml. Where reader_logs stands there already, add what is below its first line to it.
Look at every line marked as a guess, then run \`proofwalk check\`.

${log.entry}`;
}

function facts({ text, table, columns, guess, rssi, read }: LogDescription): Labelled[] {
  const lines = text === null ? [] : textLines(text, table);
  if (read !== null) {
    lines.push(["rows", countText(read.rows) + repeatsText(read)]);
    if (read.otherEvents > 0)
      lines.push([
        "others",
        `${counted(read.otherEvents, "other event", "other events")}, which are no reads`,
      ]);
    lines.push(["time", timeText(read.sums, guess.time)]);
    lines.push(...tagLines(read.tags));
  }
  if (rssi !== null) lines.push(["RSSI", rssiText(rssi)]);
  if (read === null) return lines;
  const { sums, antennas, readers } = read;
  if (columns.some(({ role, used }) => role === "count" && used))
    lines.push([
      "reads",
      `${countText(sums.reads)} in all; a row stands for up to ${countText(sums.mostReads)}`,
    ]);
  if (antennas.length > 0) {
    const listed = antennas
      .slice(0, mostListed)
      .map(({ name, rows }) => `${named(name)} (${counted(rows, "row", "rows")})`);
    const more = antennas.length > mostListed ? ` and ${antennas.length - mostListed} more` : "";
    lines.push(["antennas", listed.join(", ") + more]);
  }
  const listed = readers.map(
    ({ name, rows, firstUs, lastUs }) =>
      `${named(name)}: ${counted(rows, "row", "rows")}, ${shownTime(firstUs, guess.time)} to ${shownTime(lastUs, guess.time)}`,
  );
  lines.push(...below("readers", listed));
  return lines;
}

/** Several lines under one label, the first few of them. */
function below(label: string, texts: readonly string[], hidden = texts.length - mostListed): Labelled[] {
  const shown = texts.slice(0, mostListed).map((text, i): Labelled => [i === 0 ? label : "", text]);
  return hidden > 0 ? [...shown, ["", `and ${countText(hidden)} more`]] : shown;
}

function named(name: string): string {
  return name === "" ? "blank" : shortened(name);
}

function textLines(text: TextFacts, table: Table | null): Labelled[] {
  const { lf, crlf, cr } = text.lineEnds;
  const ends = Object.entries({ LF: lf, CRLF: crlf, CR: cr })
    .filter(([, lines]) => lines > 0)
    .map(([name, lines]) => `${name} (${countText(lines)})`);
  const lines: Labelled[] = [
    ["text", `${text.encoding}, ${text.byteOrderMark ? "with" : "without"} a byte-order mark`],
    ["line ends", `${ends.join(" and ") || "none"}${text.finalNewline ? "" : "; the last line has none"}`],
  ];
  if (table === null) return lines;
  const marks: Record<string, string> = {
    ",": "comma",
    ";": "semicolon",
    "\t": "tab",
    "|": "vertical bar",
    " ": "blank",
  };
  lines.push([
    "delimiter",
    `${marks[table.delimiter]}; decimal ${table.decimal === "," ? "comma" : "point"}`,
  ]);
  const header = { yes: "yes", no: "none", commented: "in a comment" }[table.header];
  lines.push(["header", table.headerLine === null ? header : `${header}, line ${table.headerLine}`]);
  // The reader's settings stand in comments: they are told whole.
  const comments = text.comments.map(({ line, text }) => `line ${line}: "${printable(text)}"`);
  lines.push(...comments.map((text, i): Labelled => [i === 0 ? "comments" : "", text]));
  const hidden = text.commentCount - comments.length;
  if (hidden > 0) lines.push(["", `and ${countText(hidden)} more`]);
  if (text.blankLines > 0) lines.push(["blank", counted(text.blankLines, "line", "lines")]);
  return lines;
}

function repeatsText({ repeated }: ReadFacts): string {
  return repeated === 0 ? ", none of them repeated" : `, ${countText(repeated)} of them exact repeats`;
}

function timeText({ firstUs, lastUs }: LogSums, guess: TimeGuess): string {
  if (guess.kind !== "style") return "";
  const { unit, format } = guess.style;
  const units = { s: "seconds", ms: "milliseconds", us: "microseconds", ns: "nanoseconds" };
  const how =
    unit === "iso" ? (format ?? "date and time in words") : `${units[unit]} since 1970, judged by their size`;
  const zone = {
    all: "with its offset from UTC",
    none: "no offset from UTC stated",
    some: "an offset from UTC stated in some rows only",
    "count since 1970": "UTC",
  }[guess.offsets];
  return `${shownTime(firstUs, guess)} to ${shownTime(lastUs, guess)}; ${how}, ${zone}`;
}

function tagLines({ distinct, form, shapes }: ReadFacts["tags"]): Labelled[] {
  const around = {
    hex: "",
    "pc-epc": ", with the PC word before each",
    "pc-epc-crc": ", with the PC word before each and the CRC behind it",
    base64: ", in base64",
    "ascii-hex": ", its characters in hexadecimal",
    decimal: ", as decimal numbers",
    "hex-reversed": ", the last byte first",
  }[form];
  return [
    ["tags", `${counted(distinct, "distinct code", "distinct codes")}${around}`],
    ...below(
      "",
      shapes.map(({ shape, codes }) => `${countText(codes)} of ${shape}`),
    ),
  ];
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

const mostColumns = 60;

function columnLines(columns: readonly DescribedColumn[]): string[] {
  const names = columns.map(({ name }) => shownColumn(name));
  const width = Math.min(32, Math.max(...names.map((name) => name.length)));
  const lines = columns.slice(0, mostColumns).map(({ role, by, used, samples }, i) => {
    const how = {
      name: "",
      "part of its name": " (by a part of its name)",
      values: " (by its values)",
      nothing: "",
    };
    const isWanted = (entryRoles as readonly string[]).includes(role);
    const taken =
      role === "unknown" ? "not recognised" : `${role}${how[by]}${used || !isWanted ? "" : ", not used"}`;
    const held = samples.length === 0 ? "empty" : samples.map((sample) => shortened(sample)).join("  ");
    return `  ${names[i]!.padEnd(width)}  ${taken.padEnd(22)}  ${held}`;
  });
  return columns.length > mostColumns ? [...lines, `  and ${columns.length - mostColumns} more`] : lines;
}

function oddLines({ read, kind }: LogDescription): string[] {
  const odd = read?.odd ?? [];
  if (odd.length === 0) return [];
  const place = kind === "parquet" ? "" : "line ";
  const lines = odd
    .slice(0, mostListed)
    .flatMap(({ reason, words, count, first }) => [
      `  ${words}: ${counted(count, "line", "lines")}, ${isPassedOver(reason) ? "passed over" : "refused"}`,
      ...first.map(({ line, text }) => `    ${line === null ? "" : `${place}${line}: `}${quoted(text)}`),
    ]);
  return [
    "Odd lines",
    ...lines,
    ...(odd.length > mostListed ? [`  and ${odd.length - mostListed} more kinds`] : []),
  ];
}

function isPassedOver(reason: string): boolean {
  return reason === "header again" || reason === "above the header";
}
