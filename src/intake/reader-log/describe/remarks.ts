import type { ColumnName } from "../../../model/facility.ts";
import { counted, countText } from "../../../model/number-words.ts";
import { kindOfName } from "../files.ts";
import { namesUtc } from "../source/column-words.ts";
import { type DescribedColumn, shownColumn } from "./columns.ts";
import { isUsable, type LogDescription, type RssiFacts } from "./description.ts";
import type { Sample } from "./sample.ts";

type Remarks = readonly (string | false)[];

/** What a person should know of a log before using it. */
export function remarksOn(log: LogDescription, sample: Sample): string[] {
  return [
    ...log.doubts,
    ...jsonRemarks(log, sample),
    ...(log.read?.codeRemarks ?? []),
    ...textRemarks(log, sample),
    ...columnRemarks(log, sample),
    ...timeRemarks(log),
    ...valueRemarks(log),
  ].filter((remark) => remark !== false);
}

function jsonRemarks({ columns }: LogDescription, { nested, longNumbers }: Sample): Remarks {
  const hasCode = columns.some(({ used, role }) => used && role === "code");
  const isLevel = (name: ColumnName) =>
    columns.some((column) => column.name === name && column.role === "RSSI");
  return [
    ...nested.map(
      (name) =>
        !isLevel(name) &&
        (!hasCode || columns.some((column) => column.name === name && column.used)) &&
        `${shownColumn(name)} holds lists, and what is in a list cannot be named in columns: have the log write one row a tag.`,
    ),
    ...longNumbers.map(
      (name) =>
        `${shownColumn(name)} is written as a number without quotes: its digits are lost on the way. Have the log write it as text.`,
    ),
  ];
}

/** A log is read by what its name ends in, and a text by its beginning. */
function nameRemark({ path, kind, form, gzipped }: LogDescription): string | false {
  const named = kindOfName(path);
  const isXml = form?.form.id === "xml";
  const isRead =
    named !== null &&
    (named.kind === "parquet") === (kind === "parquet") &&
    (isXml || named.kind !== "items");
  if (isRead && named.zipped === gzipped) return false;
  const isTable = kind === "csv" || kind === "tsv";
  const endings = isTable
    ? ".csv, .tsv, .txt or .log"
    : form === null
      ? `.${kind}`
      : isXml
        ? ".xml"
        : ".json or .log";
  return `Logs are read by what their names end in: rename this one to end in ${endings}${gzipped ? ", with .gz behind it" : ""}.`;
}

function textRemarks(log: LogDescription, { names }: Sample): Remarks {
  const { text, table, columns, read } = log;
  const isMostlyRefused =
    read !== null &&
    read.refused * 10 > read.rows &&
    `${countText(read.refused)} lines will be refused, more than a tenth: \`check\` takes that for a log that is read wrongly, and judges nothing. Look at the odd lines.`;
  if (text === null) return [nameRemark(log), isMostlyRefused];
  const { lineEnds, finalNewline } = text;
  const namesInHeader = table?.namesInHeader ?? null;
  const rowsOf = (reason: string) => read?.odd.find((odd) => odd.reason === reason)?.count ?? 0;
  const undecoded = rowsOf("encoding");
  const twice = names.filter(
    (name, i) => typeof name === "string" && name !== "" && names.indexOf(name) !== i,
  );
  const isCutOff = !finalNewline && rowsOf("few-columns") + rowsOf("quotes") + rowsOf("json") > 0;
  return [
    nameRemark(log),
    Object.values(lineEnds).filter((lines) => lines > 0).length > 1 &&
      "Lines end in more than one way: the file was probably put together from several.",
    columns.length === 1 &&
      columns[0]!.samples.some((sample) => /\S {2,}\S/.test(sample)) &&
      "The columns seem to be separated by runs of blanks, which an entry cannot say: have the log write commas or tabs.",
    undecoded > 0 &&
      `${counted(undecoded, "line holds", "lines hold")} bytes that are not UTF-8 and will be refused: the file is in an older encoding. Have the log write UTF-8, or convert a copy of it (iconv -f WINDOWS-1252 -t UTF-8, say).`,
    table?.mixesDecimals === true &&
      `Numbers with a decimal point and numbers with a decimal comma both occur; the ${table.decimal === "," ? "comma" : "point"} is taken for the mark.`,
    namesInHeader !== null &&
      namesInHeader !== columns.length &&
      `The header has ${namesInHeader} names and the rows have ${columns.length} fields: look whether they line up.`,
    isCutOff && "The last line has no line end: it may have been cut off.",
    text.passedOver.some(({ reason }) => reason === "above the header") &&
      "Lines above the header that are not comments are passed over.",
    isMostlyRefused,
    ...[...new Set(twice)].map(
      (name) =>
        `Two columns are called ${shownColumn(name)}: an entry cannot tell them apart. Rename one in the header.`,
    ),
  ];
}

function columnRemarks({ columns, table }: LogDescription, { rows }: Sample): Remarks {
  const has = (role: DescribedColumn["role"]) => columns.some((column) => column.role === role);
  const hints = {
    time: has("uptime") ? " A reader's uptime says nothing about the time of day." : "",
    code: "",
  };
  const isIndex = (i: number) => {
    const values = rows.map((row) => row[i]!).filter((value) => value !== "");
    return values.length > 0 && values.every((value) => /^[0-3]?\d{1,2}$/.test(value));
  };
  return [
    ...columns.map(
      ({ name, role }, i) =>
        role === "frequency" &&
        isIndex(i) &&
        `${shownColumn(name)} is called a frequency but holds small whole numbers: a channel index, whose frequency depends on the region.`,
    ),
    ...(["time", "code"] as const).map(
      (role) =>
        !columns.some((column) => column.used && column.role === role) &&
        `No column was recognised as the ${role}: no entry can be written without it.${hints[role]}`,
    ),
    table?.header === "no" &&
      "There is no header: columns go by their number, and what each holds was judged by its values.",
  ];
}

function timeRemarks({ columns, guess, read }: LogDescription): Remarks {
  const column = columns.find(({ used, role }) => used && role === "time");
  if (column === undefined) return [];
  const name = shownColumn(column.name);
  if (guess.time.kind === "unusable") return [`${name}: ${guess.time.why}.`];
  if (guess.time.kind === "none") {
    return [
      `The times in ${name} are in no form that is known: neither date and time in words nor a count since 1970.`,
    ];
  }
  const { style, also, offsets } = guess.time;
  const { order, longestFallUs = 0, readers } = read ?? { readers: [] };
  const apart = readers.some(({ firstUs }) => readers.some(({ lastUs }) => lastUs < firstUs));
  const last = columns.find(({ used, role }) => used && role === "last time");
  return [
    last !== undefined &&
      `A row reports its tag at two instants, ${name} and ${shownColumn(last.name)}, and in the pass that each of them falls into. A pass that lies between the two is unknown: have the reader end a sighting sooner than the pause between passes. Write last_time: none if ${shownColumn(last.name)} is not when the tag was last read.`,
    also !== null &&
      `The day and the month in ${name} cannot be told apart: ${style.format} and ${also.format} fit both.`,
    offsets === "none" &&
      !namesUtc(String(column.name)) &&
      `Times in ${name} state no offset from UTC: say by zone what the reader's clock showed, the facility's own zone is taken otherwise.`,
    offsets === "some" && `Some times in ${name} state an offset from UTC and some do not.`,
    order !== undefined &&
      order.falls > 0 &&
      `Rows are not in the order of time: ${counted(order.falls, "row is", "rows are")} earlier than the one before, by up to ${longestFallUs / 1e6} s. That does no harm.`,
    apart &&
      "Not all readers were at work at the same time: compare their spans. One of the clocks may be wrong, or they were walked one after the other.",
  ];
}

function valueRemarks({ columns, rssi, read }: LogDescription): Remarks {
  const level = columns.find(({ used, role }) => used && role === "RSSI");
  const { sums, repeated, readers, rows, antennas, odd } = read ?? {};
  const outside = odd?.find(({ reason }) => reason === "time-span")?.count ?? 0;
  return [
    rssi === null &&
      level !== undefined &&
      level.samples.length > 0 &&
      `${shownColumn(level.name)} holds no plain numbers: have the log write RSSI without its unit. Left out of the entry.`,
    rssi !== null && rssiRemark(rssi),
    sums !== undefined &&
      sums.countedRows > 0 &&
      `${counted(sums.countedRows, "row stands", "rows stand")} for more than one read: ${countText(sums.reads)} reads in ${counted(rows!, "row", "rows")}.`,
    outside > 0 &&
      `${counted(outside, "row has", "rows have")} a time outside 1990 to 2100 and will be refused: readers write such times, 0 mostly, until their clock is set.`,
    repeated !== undefined &&
      repeated > 0 &&
      `${counted(repeated, "row repeats", "rows repeat")} another one exactly, down to the time; such rows count once.${sums!.wholeSeconds ? " The times are whole seconds, so that some of them may be reads of their own: a finer time would tell." : ""}`,
    readers !== undefined && readers.length > 1
      ? `${readers.length} readers wrote this log: give each the id of its read point.`
      : antennas !== undefined &&
        antennas.length > 1 &&
        "Where antennas of this reader belong to different read points, name the antenna's column under read_point: the entry shows how.",
  ];
}

function rssiRemark(rssi: RssiFacts): string | false {
  switch (rssi.scale) {
    case "dBm":
    case "cdBm":
      if (!isUsable(rssi)) {
        return `${counted(rssi.outside, "row has", "rows have")} an RSSI that cannot be dBm, above 0 mostly, which \`check\` refuses. Left out of the entry: have the log leave such values blank.`;
      }
      return (
        rssi.zero > 0 &&
        `${counted(rssi.zero, "row has", "rows have")} an RSSI of 0, which no tag gives: a placeholder, or a fault of the reader. It is taken for the strongest read.`
      );
    case "tenths of a dBm":
      return "RSSI looks like tenths of a dBm, which facility.yaml cannot say: left out of the entry. Have the log write dBm or hundredths.";
    case "unsigned byte":
      return `RSSI looks like a signed byte written without its sign (${rssi.median} would be ${rssi.median - 256} dBm): left out of the entry. Have the log write it signed.`;
    case "positive":
      return "RSSI is not negative: not dBm, but the reader's own scale of strength, or dBm without its minus. Left out of the entry: have the log write dBm.";
    case "unclear":
      return "The unit of RSSI cannot be told by its size. Left out of the entry.";
  }
}
