import type { NearestReading } from "../../codes/nearest-reading.ts";
import type { ColumnName, EpcForm } from "../../model/facility.ts";
import { rssiRangeText } from "../../model/radio/rssi.ts";
import { problem } from "./card/problem.ts";
import { didYouMean, listing, quoted } from "./card/wording.ts";

/* What the readers' own logs say. */

export const readerLogMissing = problem(
  {
    code: "reader-log-missing",
    severity: "error",
    means: "A pattern in reader_logs matches no file.",
    advice: "Correct the path, or put the log there; * stands for any part of a name.",
  },
  {
    at: (pattern: string) => ({
      found: `no file ${quoted(pattern)} in the facility's folder`,
      expected: "the reader logs that reader_logs names, inside the facility's folder",
    }),
  },
);

export const readerLogClaimedTwice = problem(
  {
    code: "reader-log-claimed-twice",
    severity: "error",
    means: "Two entries of reader_logs name the same file.",
    advice: "Keep it in the entry that describes how it is written.",
  },
  {
    by: ({ earlier, later }: { earlier: number; later: number }) => ({
      found: `entries ${earlier} and ${later} of reader_logs both name this file`,
      expected: "each reader log in one entry",
    }),
  },
);

export const readerLogKind = problem(
  {
    code: "reader-log-kind",
    severity: "error",
    means: "The ending of a reader log's name is unknown, or its content is of another kind.",
    advice: "Give the file the ending that fits its content, or export the log again.",
  },
  {
    unknown: (path: string) => ({
      found: quoted(path),
      expected: ".csv, .tsv, .txt, .log, .json, .jsonl, .ndjson, .xml (also followed by .gz) or .parquet",
      advice: "Give the file the ending that fits its content, or export it as CSV.",
    }),
    bytes: ({ found, kind }: { found: string; kind: "text" | ".gz" | ".parquet" | ".xml" }) => ({
      found,
      expected: kind === "text" ? "text, as the file's name says" : `a ${kind} file, as its name says`,
    }),
  },
);

export const readerLogForm = problem(
  {
    code: "reader-log-form",
    severity: "either",
    means: "The key rows in reader_logs does not fit how the log is written.",
    advice: "Leave rows out, or correct it: proofwalk describe prints the entry.",
  },
  {
    withoutLists: (kind: string) => ({
      severity: "error" as const,
      found: `${kind}, which holds no lists of reads`,
      expected: "JSON or XML, since the entry says by rows where its lists are",
    }),
    withoutRows: () => ({
      severity: "error" as const,
      found: "XML, and no rows in the entry",
      expected: "rows: the elements that lead to a read from the outside, with dots between",
    }),
    notFound: (rows: string) => ({
      severity: "warning" as const,
      found: `no reads at ${quoted(rows)}`,
      expected: "lists of reads where rows says, or a read itself",
    }),
  },
);

export const readerLogName = problem(
  {
    code: "reader-log-name",
    severity: "error",
    means: "The path of a reader log contains a wildcard character.",
    advice: "Rename the file or the folder it is in.",
  },
  {
    at: (path: string) => ({
      found: `${quoted(path)}, which contains a wildcard character`,
      expected: "a path without *, ?, [ and ]",
    }),
  },
);

export const readerLogCutShort = problem(
  {
    code: "reader-log-cut-short",
    severity: "error",
    means: "A compressed or Parquet log ends too early.",
    advice: "Copy or export it again: the missing part cannot be recovered from the rest.",
  },
  { with: (found: string) => ({ found, expected: "the whole file" }) },
);

export const readerLogChanged = problem({
  code: "reader-log-changed",
  severity: "error",
  means:
    "A reader log changed while it was read, so its hash would not be that of the rows that were judged.",
  found: "a file that changed while it was read",
  expected: "a log that nobody writes to",
  advice: "Wait until the reader or the copy has finished writing, then run the command again.",
});

export const readerLogLineTooLong = problem(
  {
    code: "reader-log-line-too-long",
    severity: "error",
    means: "A line of a reader log is longer than any row can be.",
    advice: "Export the log again with one row a line: line breaks are missing, or it is no log.",
  },
  {
    with: ({ line, most }: { line: number; most: number }) => ({
      found: `in line ${line} more than ${most} bytes`,
      expected: `lines of at most ${most} bytes`,
    }),
  },
);

export const readerLogUnpackedSize = problem(
  {
    code: "reader-log-unpacked-size",
    severity: "error",
    means: "A reader log is larger, unpacked where it is packed, than can be read.",
    advice: "Split it by day or by reader; one entry of reader_logs may name several files.",
  },
  {
    with: ({ most, zipped }: { most: number; zipped: boolean }) => ({
      found: `more than ${most} bytes${zipped ? " once unpacked" : ""}`,
      expected: `at most ${most} bytes`,
    }),
  },
);

export const readerLogRowsTooMany = problem(
  {
    code: "reader-log-rows-too-many",
    severity: "error",
    means:
      "A reader log holds more rows than can be read. Lines of text are counted in a sixteenth of the file.",
    advice: "Split it by day or by reader; one entry of reader_logs may name several files.",
  },
  {
    with: ({ rows, most }: { rows: number; most: number }) => ({
      found: `${rows} rows`,
      expected: `at most ${most} rows`,
    }),
    counted: ({ most }: { most: number }) => ({
      found: `more than ${most} rows`,
      expected: `at most ${most} rows`,
    }),
  },
);

export const readerLogUnpackedRatio = problem(
  {
    code: "reader-log-unpacked-ratio",
    severity: "error",
    means: "A packed reader log is far larger unpacked than logs are.",
    advice:
      "Look what is in it: it holds little but repetition. Unpack it yourself if it is a log after all.",
  },
  {
    with: ({ most, size }: { most: number; size: number }) => ({
      found: `${size} packed bytes that are more than ${most} times as many unpacked`,
      expected: `at most ${most} unpacked bytes a packed one`,
    }),
  },
);

export const readerLogFilesTooMany = problem(
  {
    code: "reader-log-files-too-many",
    severity: "error",
    means: "A pattern in reader_logs fits more files or folders than can be looked at.",
    advice: "Name the folder in files, or keep the logs of one facility together in fewer files.",
  },
  {
    with: ({ pattern, most }: { pattern: string; most: number }) => ({
      found: `more than ${most} names that fit ${quoted(pattern)}`,
      expected: `at most ${most} files or folders`,
    }),
  },
);

export const readerLogColumnsTooMany = problem(
  {
    code: "reader-log-columns-too-many",
    severity: "error",
    means: "A reader log has more columns than any log has.",
    advice: "Correct delimiter and header in reader_logs, or export fewer columns.",
  },
  {
    with: ({ columns, most }: { columns: number; most: number }) => ({
      found: `${columns} columns`,
      expected: `at most ${most} columns`,
    }),
  },
);

export const readerLogUnreadable = problem(
  {
    code: "reader-log-unreadable",
    severity: "error",
    means: "The database cannot read a reader log.",
    advice: "Correct the entry in reader_logs, or export the log again.",
  },
  {
    with: (fault: string) => ({
      found: `a log that cannot be read: ${fault}`,
      expected: "a log as reader_logs describes it",
    }),
  },
);

export const readerLogHeaderMissing = problem(
  {
    code: "reader-log-header-missing",
    severity: "error",
    means: "No comment above the data of a reader log names its columns.",
    advice: "Correct the names in columns, or write header: no and give the columns' numbers.",
  },
  {
    with: (nearest: readonly string[]) => ({
      found:
        nearest.length === 0
          ? "no comment line above the data"
          : `comment lines, the nearest to a header with ${listing(nearest)}`,
      expected: "a comment line with the names of the columns above the data",
    }),
  },
);

const correctColumns =
  "Correct columns in reader_logs, or its delimiter and header if the file is split differently.";

export const readerLogColumnMissing = problem(
  {
    code: "reader-log-column-missing",
    severity: "error",
    means: "A reader log lacks a column that its entry in reader_logs names.",
    advice: correctColumns,
  },
  {
    with: ({ key, name, names, width }: MissingColumn) => ({
      found:
        names === null
          ? `${width} columns without names`
          : `the columns ${listing(
              names.filter((each) => each !== ""),
              20,
            )}`,
      expected: `the column ${typeof name === "number" ? name : quoted(name)}, which ${key} names`,
      advice: `${typeof name === "string" && names !== null ? didYouMean(name, names) : ""}${correctColumns}`,
    }),
  },
);

interface MissingColumn {
  /** Of the entry in reader_logs. */
  key: string;
  name: string | number;
  /** The columns that there are; null where they have no names. */
  names: readonly string[] | null;
  width: number;
}

export const readerLogTimeType = problem(
  {
    code: "reader-log-time-type",
    severity: "error",
    means: "A Parquet log holds dates and times where its entry states a count.",
    advice: "Write time: { unit: iso } in reader_logs; give the zone too if the column's type has none.",
  },
  {
    with: ({ column, unit }: { column: string; unit: string }) => ({
      found: `dates and times in the column ${quoted(column)}, not a count of ${unit}`,
      expected: "a time.unit that fits the column's type",
    }),
  },
);

export const readerLogEmpty = problem({
  code: "reader-log-empty",
  severity: "warning",
  means: "A reader log has no rows.",
  found: "no rows",
  expected: "a reader log with reads in it",
  advice: "Check whether the export is complete.",
});

export const readerLogOnlyOthers = problem(
  {
    code: "reader-log-only-others",
    severity: "warning",
    means: "No row of a reader log is a read by its entry in reader_logs.",
    advice: "Compare the names and values under only in reader_logs with what the log writes.",
  },
  {
    with: (rows: number) => ({
      found: `${rows} ${rows === 1 ? "row" : "rows"}, all of them other events`,
      expected: "rows that hold what only names",
    }),
  },
);

export const readerLogSameFile = problem(
  {
    code: "reader-log-same-file",
    severity: "warning",
    means: "Two reader logs are identical.",
    advice: "Its rows are counted once. Remove one of the two.",
  },
  {
    as: (earlier: string) => ({
      found: `the same bytes as ${quoted(earlier)}`,
      expected: "each reader log once",
    }),
  },
);

export const readerLogRowsRepeated = problem(
  {
    code: "reader-log-rows-repeated",
    severity: "warning",
    means: "Rows of a reader log repeat others exactly.",
    advice:
      "Repeats are counted once. Check whether the log was exported twice or joined from parts that overlap.",
  },
  {
    with: (rows: number) => ({
      found: `${rows} ${rows === 1 ? "row that repeats another" : "rows that repeat others"} exactly`,
      expected: "each read once",
    }),
  },
);

export const readerLogReaderUnknown = problem(
  {
    code: "reader-log-reader-unknown",
    severity: "warning",
    means: "A log names a reader that belongs to no read point.",
    advice:
      "Add the reader to read_point.values if its reads belong to a read point here; else they are left out.",
  },
  {
    with: ({ name, rows }: { name: string; rows: number }) => ({
      found: `${rows} ${rows === 1 ? "row" : "rows"} of the reader ${quoted(name)}`,
      expected: "readers that read_point.values names",
    }),
  },
);

export const readerLogCodeRemark = problem(
  {
    code: "reader-log-code-remark",
    severity: "warning",
    means: "A code in a reader log has a wrong checksum, or padding, or not a whole number of words.",
    advice: "It is used as it stands. Check whether epc_form in reader_logs says what the log writes.",
  },
  {
    with: ({ code, text }: { code: string; text: string }) => ({
      found: `the code ${quoted(code)}: ${text}`,
      expected: "complete codes with a valid checksum",
    }),
  },
);

export const readerLogRssiUnit = problem(
  {
    code: "reader-log-rssi-unit",
    severity: "error",
    means: "The levels of a reader log show that rssi_unit or columns.rssi is wrong.",
    advice: "State rssi_unit as the log writes levels, dBm or cdBm, or correct columns.rssi.",
  },
  {
    outside: ({ rows, line, unit, isNegative }: LevelsOutside) => ({
      found: `an RSSI that cannot be dBm in ${rows} ${rows === 1 ? "line" : "lines"}, first ${quoted(line)}`,
      expected: `a level from ${rssiRangeText}, written in ${unit}`,
      advice: isNegative
        ? "Numbers this large are hundredths of a dBm: write rssi_unit: cdBm."
        : "No reader reports a level above 0 dBm: check whether columns.rssi names another column, or a raw indicator without a unit.",
    }),
    tooStrong: ({ strongestDbm, weakestDbm }: { strongestDbm: string; weakestDbm: string }) => ({
      found: `every RSSI from ${weakestDbm} to ${strongestDbm} dBm when read as hundredths`,
      expected: "levels weaker than -2 dBm, written as whole hundredths such as -6350",
      advice: "Numbers such as -63.5 are dBm: write rssi_unit: dBm, or leave rssi_unit out.",
    }),
  },
);

interface LevelsOutside {
  rows: number;
  /** The first such line. */
  line: string;
  unit: "dBm" | "cdBm";
  isNegative: boolean;
}

export const readerLogLineRefused = problem(
  {
    code: "reader-log-line-refused",
    severity: "warning",
    means: "A line of a reader log cannot be used.",
    advice: "Check whether the line was cut off; export the log again if it was.",
  },
  {
    with: ({ found, expected, advice, line }: RefusalWords & { line: string }) => ({
      found: `${found}: ${quoted(line)}`,
      expected,
      advice,
    }),
  },
);

export const readerLogLinesRefused = problem(
  {
    code: "reader-log-lines-refused",
    severity: "warning",
    means: "Some lines of a reader log cannot be used.",
    advice: "They are left out and counted as refused.",
  },
  { with: (counts: RefusedCounts) => ({ found: refusedOf(counts), expected: "lines that can all be read" }) },
);

export const readerLogMostlyRefused = problem(
  {
    code: "reader-log-mostly-refused",
    severity: "error",
    means:
      "More than a tenth of the lines of a reader log cannot be used, so its entry in reader_logs is probably wrong.",
    advice: "Correct the entry in reader_logs, or export the log again.",
  },
  {
    with: ({ advice, ...counts }: RefusedCounts & { advice: string }) => ({
      found: refusedOf(counts),
      expected: "at most a tenth of a log's lines refused",
      advice,
    }),
  },
);

interface RefusedCounts {
  /** What is wrong, and with how many lines, most first. */
  reasons: readonly { found: string; rows: number }[];
  /** Rows of the log in all. */
  rows: number;
}

function refusedOf({ reasons, rows }: RefusedCounts): string {
  const refused = reasons.reduce((sum, reason) => sum + reason.rows, 0);
  const listed = reasons.map((reason) => `${reason.rows} with ${reason.found}`).join(", ");
  return `${refused} of ${rows} lines cannot be used: ${listed}`;
}

export interface RefusalWords {
  /** What is wrong with the line. */
  found: string;
  expected: string;
  advice: string;
}

export const clockShifted = problem(
  {
    code: "clock-shifted",
    severity: "warning",
    means:
      "Most reads of a read point miss its passes, and a constant shift of the reader's clock would bring them in.",
    advice: "Compare the two clocks, and state clock_offset_s in reader_logs if they are known to differ.",
  },
  {
    with: ({ readPoint, shiftS, insideNow, insideShifted, total, statedOffsetS, isShared }: ShiftedClock) => {
      const size = Math.abs(shiftS).toFixed(1);
      const moved = shiftS < 0 ? `${size} s were subtracted from` : `${size} s were added to`;
      const offset = `clock_offset_s: ${(statedOffsetS + shiftS).toFixed(1)}`;
      const where = isShared
        ? `put this reader's rows into a log and an entry of reader_logs of their own, with ${offset}: the other readers of this entry do not show the same difference`
        : `write ${offset} in this entry of reader_logs`;
      return {
        found: `at ${readPoint}: ${insideNow} of ${total} reads fall inside passes; ${insideShifted} would if ${moved} the reader's clock`,
        expected:
          "a reader log and a pass sheet that go by the same clock, or a stated difference between the two",
        advice: `Compare the two clocks: the figure is only good to about a second. If they are known to differ, ${where}${zoneHint(shiftS)}. Nothing was shifted.`,
      };
    },
  },
);

interface ShiftedClock {
  readPoint: string;
  /** Seconds to add to the reader's clock, beyond the offset that is stated. */
  shiftS: number;
  insideNow: number;
  insideShifted: number;
  total: number;
  statedOffsetS: number;
  /** Whether the entry's log holds other readers too, whose clocks are not off by as much. */
  isShared: boolean;
}

/** Whole and half hours are rather a zone than a clock that runs wrong. */
function zoneHint(shiftS: number): string {
  const hours = Math.round(shiftS / 1800) / 2;
  if (hours === 0 || Math.abs(shiftS - hours * 3600) > 60) return "";
  return `; so near to ${Math.abs(hours)} h it may be a time zone or summer time instead, which time: { zone: ... } puts right`;
}

export const readerLogCodesForeign = problem(
  {
    code: "reader-log-codes-foreign",
    severity: "either",
    means:
      "No code of the manifests is anywhere in the logs of a read point, although other codes are: a warning where the entry says codes_checked: true.",
    advice: codesAdvice({ nearest: null, column: null, epcForm: "hex" }),
  },
  {
    unchecked: (facts: ForeignFacts & NearestFacts) => ({
      severity: "error" as const,
      ...foreignFound(facts),
      advice: codesAdvice(facts),
    }),
    checked: (facts: ForeignFacts) => ({
      severity: "warning" as const,
      ...foreignFound(facts),
      advice: "Every tag counts as missed there, since the entry says that the codes were checked.",
    }),
  },
);

interface ForeignFacts {
  readPoint: string;
  /** Distinct codes in its logs, and one of them. */
  codes: number;
  code: string;
  /** One of the manifests' codes. */
  loadCode: string;
}

interface NearestFacts {
  nearest: NearestReading | null;
  /** The column that it is a reading of; null where it is that of the entry. */
  column: ColumnName | null;
  /** That of the entry. */
  epcForm: EpcForm;
}

function foreignFound({ readPoint, codes, code, loadCode }: ForeignFacts) {
  return {
    found: `at ${readPoint}: ${codes} ${codes === 1 ? "code" : "codes"}, ${quoted(code)} ${codes === 1 ? "itself" : "for one"}, and none of the manifests', such as ${quoted(loadCode)}`,
    expected: "codes of the manifests in the logs of a read point that they were carried through",
  };
}

function codesAdvice({ nearest, column, epcForm }: NearestFacts): string {
  const otherwise =
    "If the codes are right and no tag of the load was read, write codes_checked: true in the entry.";
  if (nearest === null) {
    return `Check whether read_point, columns.epc and epc_form of the entry are right, and whether the manifests list these tags. ${otherwise}`;
  }
  const { matches, written, known } = nearest;
  const named = typeof column === "string" ? quoted(column) : column;
  const whose = column === null ? "of them" : `of the codes in the log's column ${named}`;
  const fits = `${matches} ${whose} ${matches === 1 ? "is a code" : "are codes"} of the manifests`;
  const example = `${quoted(written)} is ${quoted(known)}`;
  const write = column === null ? "" : `write epc: ${named} under columns in the entry, and `;
  switch (nearest.kind) {
    case "form":
      return column !== null && nearest.form === epcForm
        ? `In the part of the log that was looked at, ${fits}: write epc: ${named} under columns in the entry. ${otherwise}`
        : `Read differently, ${fits} (${example}): ${write === "" ? "write " : write}epc_form: ${nearest.form} in the entry. ${otherwise}`;
    case "known-form":
      return `The manifests are written differently (${nearest.form} in the words of epc_form), and ${fits} (${example}): ${write}write the manifests' codes in hexadecimal. ${otherwise}`;
    case "uri":
      return `Codes and URIs name the same tags, and ${fits} (${example}): ${write}have the log write hexadecimal, or write the manifests as the log writes codes. ${otherwise}`;
  }
}

const endSightings =
  "Set the reader to report every read, or to end a sighting sooner than the pause between two passes, and walk again";

interface UnknownReads {
  readPoint: string;
  passes: readonly string[];
  tags: readonly string[];
}

function unknownFound({ readPoint, passes, tags }: UnknownReads): string {
  const pass = passes.length === 1 ? "pass" : "passes";
  return `at ${readPoint}: rows that begin before the ${pass} ${listing(passes)} and end after, of ${tags.length === 1 ? "the tag" : `${tags.length} tags,`} ${listing(tags)}`;
}

export const readerLogTagsUnknown = problem(
  {
    code: "reader-log-tags-unknown",
    severity: "error",
    means:
      "Rows of a reader log begin before a pass and end after it, so whether their tags were read in the pass is unknown.",
    advice: `${endSightings}; or void these passes.`,
  },
  {
    with: (facts: UnknownReads) => ({
      found: unknownFound(facts),
      expected: "a first or last time within each pass that a tag was read in",
    }),
  },
);

export const readerLogLastTimeUnread = problem(
  {
    code: "reader-log-last-time-unread",
    severity: "error",
    means: "An entry names no last_time although its log has one and rows last longer than a pass.",
    advice:
      "Name the column in columns.last_time: read by the first time alone, a tag that stayed is missed. Write last_time: none if it is no last sighting.",
  },
  {
    with: ({ column, rows, longestUs, passUs }: UnreadLast) => ({
      found: `a column of last times, ${/^\d+$/.test(column) ? `number ${column}` : quoted(column)}, and ${rows} ${rows === 1 ? "row that lasts" : "rows that last"} longer than a pass of ${seconds(passUs)}, the longest ${seconds(longestUs)}`,
      expected: "columns.last_time, the name of that column or none",
    }),
  },
);

interface UnreadLast {
  column: string;
  rows: number;
  longestUs: number;
  passUs: number;
}

function seconds(us: number): string {
  return `${Number((us / 1e6).toFixed(1))} s`;
}

export const readerLogStraysUnknown = problem(
  {
    code: "reader-log-strays-unknown",
    severity: "warning",
    means:
      "Rows of a reader log begin before a pass and end after it, of tags outside its manifest: its strays are not recorded.",
    advice: `These passes are left out of the rates of strays. ${endSightings}, to have them in.`,
  },
  {
    with: (facts: UnknownReads) => ({
      found: unknownFound(facts),
      expected: "a first or last time within each pass that a stray was read in",
    }),
  },
);
