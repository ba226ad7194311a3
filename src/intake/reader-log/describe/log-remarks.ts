import { counted, countText } from "../../../model/number-words.ts";
import { namesUtc } from "./column-words.ts";
import type { Dialect } from "./dialect.ts";
import {
  type DescribedColumn,
  headerAgain,
  type LogDescription,
  lineBefore,
  noUtf8,
} from "./log-description.ts";
import { noNumberRssi } from "./log-tally.ts";
import { isUsableRssi, scaleRemark } from "./rssi-scale.ts";
import { shownColumn } from "./shown-column.ts";
import type { TimeGuess } from "./time-texts.ts";

type Facts = Omit<LogDescription, "remarks" | "entry">;

interface Found {
  guess: TimeGuess;
  sample: readonly (readonly string[])[];
}

/** What a person should know of a log before using it. */
export function remarksOf(facts: Facts, found: Found, dialect: Dialect | null): string[] {
  return [
    ...nameRemarks(facts),
    ...textRemarks(facts, dialect),
    ...columnRemarks(facts, found),
    ...timeRemarks(facts, found.guess),
    ...valueRemarks(facts),
  ];
}

/** A log is read by what its name ends in. */
function nameRemarks({ path, kind, gzipped }: Facts): string[] {
  const ending = /\.(csv|tsv|txt|log|jsonl|ndjson|parquet)(\.gz)?$/i.exec(path);
  const word = ending?.[1]?.toLowerCase() ?? "";
  const told = { jsonl: "jsonl", ndjson: "jsonl", parquet: "parquet", "": "" }[word] ?? "table";
  const wanted = kind === "jsonl" || kind === "parquet" ? kind : "table";
  if (told === wanted && gzipped === (ending?.[2] !== undefined)) return [];
  const name = `${wanted === "table" ? ".csv, .tsv, .txt or .log" : `.${wanted}`}${gzipped ? ", with .gz behind it" : ""}`;
  return [`Logs are read by what their names end in: rename this one to end in ${name}.`];
}

function textRemarks({ text, columns, odd, rssi, lines }: Facts, dialect: Dialect | null): string[] {
  const remarks: string[] = [];
  if (text === null) return remarks;
  const ends = Object.values(text.lineEnds).filter((count) => count > 0).length;
  if (ends > 1)
    remarks.push("Lines end in more than one way: the file was probably put together from several.");
  if (columns.length === 1 && columns[0]!.samples.some((sample) => /\S {2,}\S/.test(sample))) {
    remarks.push(
      "The columns seem to be parted by runs of blanks, which no entry can say: have the log write commas or tabs.",
    );
  }
  const foreign = odd.find(({ reason }) => reason === noUtf8)?.count ?? 0;
  if (foreign > 0) {
    remarks.push(
      `${counted(foreign, "line holds", "lines hold")} bytes that are no UTF-8 and will be refused: the file is in an older encoding. Have the log write UTF-8, or convert a copy of it (iconv -f WINDOWS-1252 -t UTF-8, say).`,
    );
  }
  if (dialect?.decimalMixed) {
    remarks.push(
      `Numbers with a decimal point and numbers with a decimal comma both occur; the ${dialect.decimal === "," ? "comma" : "point"} is taken for the mark.`,
    );
  }
  if (dialect?.namesInHeader != null && dialect.namesInHeader !== dialect.width) {
    remarks.push(
      `The header has ${dialect.namesInHeader} names and the rows have ${dialect.width} fields: look whether they line up.`,
    );
  }
  if (odd.some(({ reason }) => reason === lineBefore)) {
    remarks.push(
      "Lines above the header or the first row are neither: put a # before each in a copy of the log, and use the copy.",
    );
  }
  const refused = refusedLines({ odd, rssi });
  if (refused * 10 > lines) {
    remarks.push(
      `${countText(refused)} lines will be refused, more than a tenth: \`check\` takes that for a log that is read wrongly, and judges nothing. Look at the odd lines.`,
    );
  }
  const names = columns.map((column) => column.name);
  const twice = names.filter(
    (name, i) => typeof name === "string" && name !== "" && names.indexOf(name) !== i,
  );
  for (const name of new Set(twice)) {
    remarks.push(
      `Two columns are called ${shownColumn(name)}: an entry cannot tell them apart. Rename one in the header.`,
    );
  }
  return remarks;
}

/** Lines that reading the log will refuse; a line with two faults counts twice. */
function refusedLines({ odd, rssi }: Pick<Facts, "odd" | "rssi">): number {
  const passedOver = new Set([headerAgain, lineBefore]);
  if (rssi === null || !isUsableRssi(rssi)) passedOver.add(noNumberRssi);
  return odd.reduce((sum, { reason, count }) => sum + (passedOver.has(reason) ? 0 : count), 0);
}

function columnRemarks({ columns, text }: Facts, { sample }: Found): string[] {
  const remarks: string[] = [];
  for (const [i, column] of columns.entries()) {
    if (column.role !== "frequency") continue;
    const values = sample.map((row) => row[i] ?? "").filter((value) => value !== "");
    if (values.length > 0 && values.every((value) => /^\d{1,3}$/.test(value) && Number(value) < 400)) {
      column.role = "channel";
      remarks.push(
        `${shownColumn(column.name)} is called a frequency but holds small whole numbers: a channel index, whose frequency depends on the region.`,
      );
    }
  }
  const missing = (["time", "code"] as const).filter(
    (role) => !columns.some((column) => column.used && column.role === role),
  );
  for (const role of missing) {
    const halves = role === "time" && has(columns, "date alone") && has(columns, "time of day alone");
    const hint = halves
      ? " Date and time of day stand in two columns: have the log write them in one."
      : role === "time" && has(columns, "uptime")
        ? " A reader's uptime says nothing about the time of day."
        : "";
    remarks.push(`No column was recognised as the ${role}: no entry can be written without it.${hint}`);
  }
  if (text?.header === "no")
    remarks.push(
      "There is no header: columns go by their number, and what each holds was judged by its values.",
    );
  return remarks;
}

function has(columns: readonly DescribedColumn[], role: DescribedColumn["role"]): boolean {
  return columns.some((column) => column.role === role);
}

function timeRemarks({ time, columns, readers }: Facts, guess: TimeGuess): string[] {
  const remarks: string[] = [];
  const column = columns.find(({ used, role }) => used && role === "time");
  if (column === undefined) return remarks;
  const name = shownColumn(column.name);
  if (guess.kind === "unusable") remarks.push(`${name}: ${guess.why}.`);
  if (guess.kind === "none") {
    remarks.push(
      `The times in ${name} are in no form that is known: neither date and time in words nor a count since 1970.`,
    );
  }
  if (guess.kind === "style" && guess.also !== null) {
    remarks.push(
      `The day and the month in ${name} cannot be told apart: ${guess.style.format} and ${guess.also.format} fit both.`,
    );
  }
  if (time === null) return remarks;
  if (time.offsets === "none" && !namesUtc(String(column.name))) {
    remarks.push(
      `Times in ${name} state no offset from UTC: say by zone what the reader's clock showed, the facility's own zone is taken otherwise.`,
    );
  }
  if (time.offsets === "some")
    remarks.push(`Some times in ${name} state an offset from UTC and some do not.`);
  if (time.stepsBack > 0) {
    remarks.push(
      `Rows are not in the order of time: ${counted(time.stepsBack, "row is", "rows are")} earlier than the one before, by up to ${time.longestStepBackS} s. That does no harm.`,
    );
  }
  const spans = readers.filter(({ first }) => first !== null);
  const apart = spans.filter(({ first }) => spans.some(({ last }) => last! < first!));
  if (apart.length > 0) {
    remarks.push(
      "Not all readers were heard at the same time: look at their spans; one of the clocks may be wrong, or they were walked one after the other.",
    );
  }
  return remarks;
}

function valueRemarks({ columns, rssi, count, time, repeated, readers, rows, antennas }: Facts): string[] {
  const remarks: string[] = [];
  const level = columns.find(({ used, role }) => used && role === "RSSI");
  if (rssi === null && level !== undefined && level.samples.length > 0) {
    remarks.push(
      `${shownColumn(level.name)} holds no plain numbers: have the log write RSSI without its unit. Left out of the entry.`,
    );
  }
  const scale = rssi === null ? null : scaleRemark(rssi);
  if (scale !== null) remarks.push(scale);
  if (count !== null && count.above1 > 0) {
    remarks.push(
      `${counted(count.above1, "row stands", "rows stand")} for more than one read: ${countText(count.sum)} reads in ${counted(rows, "row", "rows")}.`,
    );
  }
  if (time !== null && time.outside > 0) {
    remarks.push(
      `${counted(time.outside, "row has", "rows have")} a time outside 1990 to 2100 and will be refused: readers write such times, 0 mostly, until their clock is set.`,
    );
  }
  if (repeated > 0) {
    remarks.push(
      `${counted(repeated, "row repeats", "rows repeat")} another one exactly, down to the time; such rows count once.${time?.wholeSeconds ? " The times are whole seconds, so that some of them may be reads of their own: a finer time would tell." : ""}`,
    );
  }
  if (readers.length > 1) {
    remarks.push(`${readers.length} readers wrote this log: give each the id of its read point.`);
  } else if (antennas.length > 1) {
    remarks.push(
      "Where antennas of this reader belong to different read points, name the antenna's column under read_point: the entry shows how.",
    );
  }
  return remarks;
}
