import type { Finding } from "../problem-list.ts";
import { quoted } from "../quotation.ts";
import type { LogSource } from "./log-source.ts";
import type { RefusalReason } from "./row-sql.ts";

interface Words {
  /** What is wrong with the line. */
  found: string;
  expected: string;
  advice: string;
}

/** What to say of a line that is refused. */
export function refusalWords(reason: RefusalReason, source: LogSource): Words {
  const { spec } = source;
  const unit = spec.time.unit;
  const isText = unit === "iso" || spec.time.format !== null;
  const timeForm =
    spec.time.format ??
    { iso: "ISO 8601", s: "seconds", ms: "milliseconds", us: "microseconds", ns: "nanoseconds" }[unit];
  switch (reason) {
    case "encoding":
      return words("bytes that are no UTF-8", "text in UTF-8", "Export the log as UTF-8.");
    case "quotes":
      return words("a quote that does not close", "each field's quotes closed on its own line", cutOff);
    case "json":
      return words("no whole JSON object", "one JSON object a line", cutOff);
    case "few-columns":
      return words("too few columns", "as many columns as the header has", cutOff);
    case "many-columns":
      return words(
        "too many columns",
        "as many columns as the header has",
        "Put quotes around fields that hold the delimiter, or say decimal and delimiter in reader_logs.",
      );
    case "code-missing":
      return words("no code", "the code of the tag that was heard", cutOff);
    case "code-number":
      return words(
        "a code as a number too long to keep its digits",
        "the code as text",
        "Let the middleware write codes in quotes: digits of long numbers are lost.",
      );
    case "code":
      return words(
        "a code that cannot be read",
        "a tag's code",
        "State the epc_form that the log is written in.",
      );
    case "time-missing":
      return words("no time", "the time of the read", cutOff);
    case "time":
      return words(
        "a time that cannot be read",
        `a time in ${timeForm}`,
        isText
          ? "State time.unit or time.format as the log writes times."
          : "State time.unit as the log counts: s, ms, us or ns.",
      );
    case "time-span":
      return words(
        isText
          ? "a time that the clocks skipped or showed twice, or outside 1990 to 2100"
          : "a time outside 1990 to 2100",
        "a time that stands for one moment",
        isText
          ? "Let the reader log in UTC; until then, reads of the hour in which the clocks change cannot be placed."
          : "State time.unit as the log counts: s, ms, us or ns.",
      );
    case "rssi":
      return words(
        "an RSSI that is no number",
        `a number in ${spec.rssiUnit}`,
        "State decimal where the log writes a decimal comma.",
      );
    case "rssi-range":
      return words(
        "an RSSI that cannot be dBm",
        "a level from -200 to 0 dBm",
        "Look what the reader means by such a level; state rssi_unit where the log writes all of them so.",
      );
    case "count":
      return words(
        "a count that is no whole number from 1",
        "how many reads the row stands for",
        "Correct columns.count in reader_logs.",
      );
  }
}

const cutOff = "Look whether the line was cut off; export the log again where it was.";

function words(found: string, expected: string, advice: string): Words {
  return { found, expected, advice };
}

/** One line that is refused. */
export function refusedLine(words: Words, text: string): Finding {
  return {
    severity: "warning",
    code: "reader-log-line-refused",
    found: `${words.found}: ${quoted(text)}`,
    expected: words.expected,
    advice: words.advice,
  };
}

/** All lines of a log that are refused, in one sentence; an error where they are so many that the log is read wrongly. */
export function refusedLines(reasons: [string, number][], rows: number, advice: string): Finding {
  const refused = reasons.reduce((sum, [, count]) => sum + count, 0);
  const isMost = refused * 10 > rows;
  return {
    severity: isMost ? "error" : "warning",
    code: isMost ? "reader-log-mostly-refused" : "reader-log-lines-refused",
    found: `${refused} of ${rows} lines cannot be used: ${reasons.map(([found, count]) => `${count} with ${found}`).join(", ")}`,
    expected: isMost ? "at most a tenth of a log's lines refused" : "lines that can all be read",
    advice: isMost ? advice : "They are left out and counted as refused.",
  };
}

/** RSSI values that show a wrong unit. */
export function wrongUnit(
  rows: number,
  text: string,
  spec: LogSource["spec"],
  isHundredths: boolean,
): Finding {
  return {
    severity: "error",
    code: "reader-log-rssi-unit",
    found: `an RSSI that cannot be dBm in ${rows} ${rows === 1 ? "line" : "lines"}, first ${quoted(text)}`,
    expected: `a level from -200 to 0 dBm, written in ${spec.rssiUnit}`,
    advice: isHundredths
      ? "Such large figures are hundredths of a dBm: say rssi_unit: cdBm."
      : "A level above 0 dBm is no reader's: look whether columns.rssi names another column, or a raw indicator without a unit.",
  };
}

/** Levels that are all far stronger than a receiver hears: dBm taken for hundredths. */
export const tooStrong = (strongest: string, weakest: string): Finding => ({
  severity: "error",
  code: "reader-log-rssi-unit",
  found: `every RSSI from ${weakest} to ${strongest} dBm once read as hundredths`,
  expected: "levels weaker than -2 dBm, written as whole hundredths such as -6350",
  advice: "Figures such as -63.5 are dBm: say rssi_unit: dBm, or leave rssi_unit out.",
});

/** A column of moments where the entry speaks of a count. */
export const momentColumn = (column: string, unit: string): Finding => ({
  severity: "error",
  code: "reader-log-time-type",
  found: `moments in the column ${quoted(column)}, not a count of ${unit}`,
  expected: "a time.unit that fits the column's type",
  advice: "Write time: { unit: iso } in reader_logs; give the zone too where the column's type has none.",
});

export const unknownReader = (name: string, rows: number): Finding => ({
  severity: "warning",
  code: "reader-log-reader-unknown",
  found: `${rows} ${rows === 1 ? "row" : "rows"} of the reader ${quoted(name)}`,
  expected: "readers that read_point.values names",
  advice:
    "Add the reader to read_point.values if its reads belong to a read point here; else they are left out.",
});

export const repeatedRows = (rows: number): Finding => ({
  severity: "warning",
  code: "reader-log-rows-repeated",
  found: `${rows} ${rows === 1 ? "row that repeats another" : "rows that repeat others"} exactly`,
  expected: "each read once",
  advice:
    "Repeats are counted once. Look whether the log was exported twice or joined from parts that overlap.",
});

export const sameFile = (earlier: string): Finding => ({
  severity: "warning",
  code: "reader-log-same-file",
  found: `the same bytes as ${quoted(earlier)}`,
  expected: "each reader log once",
  advice: "Its rows are counted once. Remove one of the two.",
});

export const emptyLog: Finding = {
  severity: "warning",
  code: "reader-log-empty",
  found: "no rows",
  expected: "a reader log with reads in it",
  advice: "Look whether the export is whole.",
};

export const codeRemark = (code: string, text: string): Finding => ({
  severity: "warning",
  code: "reader-log-code-remark",
  found: `the code ${quoted(code)}: ${text}`,
  expected: "whole codes with sound checks",
  advice: "It is used as it stands. Look whether epc_form in reader_logs says what the log writes.",
});

export const unreadableLog = (fault: string): Finding => ({
  severity: "error",
  code: "reader-log-unreadable",
  found: `a log that cannot be read: ${fault}`,
  expected: "a log as reader_logs describes it",
  advice: "Correct the entry in reader_logs, or export the log again.",
});
