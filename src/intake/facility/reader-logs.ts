import { z } from "zod";
import { epcForms, type ReaderLogSpec } from "../../model/facility.ts";
import type { DeclaredNames, Path, YamlReport } from "../problems/reports.ts";
import { pathOutside, readerColumnUnclear, timeFormatUnused } from "../problems/yaml.ts";
import { type Entry, filled, optional, words } from "../yaml/shape.ts";
import { checkTimeZone } from "../yaml/time-zone.ts";
import type { YamlPlace } from "./names.ts";
import { checkClock, clockComparisonSchema, isOutside, normaliseComparison } from "./record.ts";

/* How facility.yaml describes the logs that readers wrote themselves. */

/** Says of `last_time` that there is none. */
const noColumn = "none";

const columnName = z.union([filled, z.int().min(1)]);
const keptValue = z.union([z.string(), z.number(), z.boolean()]);

export const readerLogSchema = z.strictObject({
  files: z
    .union([filled, z.array(filled).min(1)])
    .meta({ description: "Paths below the facility's folder; * stands for any characters in a name." }),
  read_point: z
    .union([
      filled,
      z.strictObject({
        column: columnName.meta({ description: "The column that names the reader." }),
        values: z.record(z.string(), z.string()).meta({ description: "Read point by the column's value." }),
      }),
    ])
    .meta({ description: "The read point of the files, or the column and values that tell it row by row." }),
  rows: optional(
    filled,
    "Where a file or a line holds lists of reads: the keys that lead to a list, with dots between. Names of columns are looked up in the item, then in the objects around it.",
  ),
  only: optional(
    z.record(filled, z.union([keptValue, z.array(keptValue).min(1)])),
    "Where reads stand among other events: the value, or the values, that a column has in a read. Rows with another value, or without the column, are counted as other events.",
  ),
  columns: z
    .strictObject({
      time: columnName.meta({ description: "When the tag was read." }),
      date: optional(
        columnName,
        "The day, where it stands in a column of its own; time is then the time of day.",
      ),
      last_time: optional(
        columnName,
        "When the tag was read for the last time, where a row stands for several reads; none if a later time column is no last sighting.",
      ),
      epc: z
        .union([columnName, z.array(columnName).min(1)])
        .meta({ description: "The tag's code; of several columns, the first that is filled." }),
      antenna: optional(columnName, "Which antenna read it."),
      rssi: optional(columnName, "Its signal strength."),
      count: optional(columnName, "How many reads a row stands for; one if left out."),
    })
    .meta({ description: "Columns by name, or by number from 1 if the log has no header." }),
  time: optional(
    z.strictObject({
      unit: optional(
        z.enum(["iso", "s", "ms", "us", "ns"]),
        "iso for date and time in words; else the unit of a count since 1970.",
      ),
      zone: words("IANA zone of times that state no offset; the facility's if left out."),
      format: words("Pattern of unusual times, in strftime notation."),
    }),
    "How the log writes times.",
  ),
  rssi_unit: optional(z.enum(["dBm", "cdBm"]), "dBm, or cdBm for hundredths of it."),
  epc_form: optional(
    z.enum(epcForms),
    "How codes are written: hexadecimal, with the PC word in front, with the CRC behind as well, base64, characters in hexadecimal, a decimal number, or the last byte first.",
  ),
  codes_checked: optional(
    z.boolean(),
    "true accepts logs that hold none of the manifests' codes: the codes were checked, and none was read.",
  ),
  delimiter: optional(z.string().length(1), "The mark between the columns; a comma if left out."),
  decimal: optional(z.enum([".", ","]), "The decimal mark; a point if left out."),
  header: optional(
    z.enum(["yes", "no", "commented"]),
    "Whether the log has a line of column names, and whether that line is a comment.",
  ),
  clock_offset_s: optional(z.number(), "Seconds added to the reader's clock to give the pass sheet's."),
  clock_compared: optional(
    z.array(clockComparisonSchema),
    "Who compared the reader's clock with the pass sheet's, when and how.",
  ),
});

export const passWindowSchema = z.strictObject({
  before_s: optional(z.number().min(0), "Seconds before its start that belong to a pass."),
  after_s: optional(z.number().min(0), "Seconds after its end that belong to a pass."),
});

export type RawReaderLog = z.infer<typeof readerLogSchema>;

/** What the entries of `reader_logs` say about the rest of facility.yaml, and about themselves. */
export function checkReaderLogs(
  readerLogs: Entry<RawReaderLog>[],
  { readPoints, root }: { readPoints: DeclaredNames; root: unknown },
  report: YamlReport,
): void {
  for (const { value, path } of readerLogs) {
    const comparisons = value.clock_compared ?? [];
    const offset = value.clock_offset_s ?? 0;
    checkClock({ offset, comparisons, path: [...path, "clock_compared"] }, root, report);
    checkReadPoint(value, readPoints, { path, report });
    checkColumns(value, path, report);
    checkTime(value, path, report);
    checkPaths(value, path, report);
  }
}

function checkReadPoint(
  { read_point: point }: RawReaderLog,
  readPoints: DeclaredNames,
  { path, report }: YamlPlace,
): void {
  if (typeof point === "string") {
    report.reference([...path, "read_point"], point, readPoints);
    return;
  }
  for (const [value, id] of Object.entries(point.values))
    report.reference([...path, "read_point", "values", value], id, readPoints);
}

/** Columns go by number where there is no header, and by name where there is one. */
function checkColumns(log: RawReaderLog, path: Path, report: YamlReport): void {
  const hasHeader = log.header !== "no";
  const named = Object.entries(log.columns).flatMap(
    ([key, column]): [Path, string | number | null | undefined][] =>
      Array.isArray(column)
        ? column.map((each, i) => [["columns", key, i], each])
        : [[["columns", key], column]],
  );
  if (typeof log.read_point !== "string") named.push([["read_point", "column"], log.read_point.column]);
  for (const [key, column] of named) {
    if (column == null || (key.at(-1) === "last_time" && column === noColumn)) continue;
    if ((typeof column === "string") === hasHeader) continue;
    report.value(
      [...path, ...key],
      hasHeader ? readerColumnUnclear.withHeader() : readerColumnUnclear.withoutHeader(),
    );
  }
}

function checkTime({ time }: RawReaderLog, path: Path, report: YamlReport): void {
  if (time == null) return;
  if (time.zone != null) checkTimeZone([...path, "time", "zone"], time.zone, report);
  if (time.format != null && time.unit != null && time.unit !== "iso")
    report.value([...path, "time", "format"], timeFormatUnused.with({ unit: time.unit }));
}

function checkPaths({ files }: RawReaderLog, path: Path, report: YamlReport): void {
  if (typeof files === "string") {
    if (isOutside(files)) report.value([...path, "files"], pathOutside);
    return;
  }
  files.forEach((file, i) => {
    if (isOutside(file)) report.value([...path, "files", i], pathOutside);
  });
}

/** One entry with its defaults filled in. */
export function normaliseReaderLog(raw: RawReaderLog): ReaderLogSpec {
  const { columns, time } = raw;
  return {
    files: Array.isArray(raw.files) ? raw.files : [raw.files],
    readPoint:
      typeof raw.read_point === "string"
        ? { kind: "fixed", readPoint: raw.read_point }
        : { kind: "column", column: raw.read_point.column, values: raw.read_point.values },
    columns: {
      time: columns.time,
      date: columns.date ?? null,
      lastTime: columns.last_time === noColumn ? null : (columns.last_time ?? null),
      epc: [columns.epc].flat(),
      antenna: columns.antenna ?? null,
      rssi: columns.rssi ?? null,
      count: columns.count ?? null,
    },
    rows: raw.rows?.split(".") ?? null,
    only: Object.entries(raw.only ?? {}).map(([column, values]) => ({
      // Keys of YAML are text: without a header they are numbers of columns all the same.
      column: raw.header === "no" && /^[1-9]\d*$/.test(column) ? Number(column) : column,
      values: [values].flat().map(String),
    })),
    time: { unit: time?.unit ?? "iso", zone: time?.zone ?? null, format: time?.format ?? null },
    rssiUnit: raw.rssi_unit ?? "dBm",
    delimiter: raw.delimiter ?? null,
    decimal: raw.decimal ?? ".",
    header: raw.header ?? "yes",
    clockOffsetS: raw.clock_offset_s ?? 0,
    clockComparisons: (raw.clock_compared ?? []).map(normaliseComparison),
    noLastTime: columns.last_time === noColumn,
    epcForm: raw.epc_form ?? "hex",
    codesChecked: raw.codes_checked ?? false,
  };
}
