import { firstForeignLine } from "../csv/csv-places.ts";
import type { CsvStyle } from "../csv/csv-style.ts";
import { type CsvFault, type CsvWalk, walkCsv } from "../csv/csv-walk.ts";
import { quoted } from "../quotation.ts";
import type { CsvReporter } from "./csv-reporter.ts";
import type { Header } from "./header.ts";
import type { TakeRecord } from "./log-context.ts";

/** What becomes of a header: the records after it are handed to `take`, or nobody wants them. */
export interface Body {
  header: Header;
  take: TakeRecord | null;
}

export interface CsvFileRead extends CsvWalk {
  /** Records of data: neither the header nor blank ones. */
  rows: number;
  headerSeen: boolean;
}

/** Reads a pass log or manifest: finds the header, passes over blank records, objects to records of the wrong width. */
export async function readCsvFile(
  path: string,
  report: CsvReporter,
  onHeader: (cells: string[], ordinal: number, style: CsvStyle) => Body,
): Promise<CsvFileRead> {
  let body: Body | null = null;
  let rows = 0;
  const walk = await walkCsv(path, (record, ordinal, style) => {
    if (body === null) {
      if (record.every((cell) => cell.trim() === "")) return;
      body = onHeader(record, ordinal, style);
      return;
    }
    const { width } = body.header;
    // Blank records are what a spreadsheet leaves below its table.
    if (record[0] === "" && record.every((cell) => cell.trim() === "")) return;
    rows += 1;
    if (body.take === null) return;
    if (record.length !== width && !hasWidth(record, width)) {
      reportWidth(record, ordinal, width, style, report);
      return;
    }
    body.take(record, ordinal);
  });
  if (walk.fault !== null) await reportFault(walk.fault, path, report);
  else if (walk.style?.delimiter === ";") {
    report.warning(
      0,
      null,
      "semicolon-separated",
      "semicolons between the columns",
      "commas between the columns, points in decimal numbers",
      "It was read as it is, decimal commas included. Nothing needs doing if the numbers look right.",
    );
  }
  return { ...walk, rows, headerSeen: body !== null };
}

/** More cells than the header names are fine as long as they are blank. */
function hasWidth(record: string[], width: number): boolean {
  if (record.length < width) return false;
  for (let i = width; i < record.length; i += 1) if (record[i]!.trim() !== "") return false;
  return true;
}

function reportWidth(
  record: string[],
  ordinal: number,
  width: number,
  style: CsvStyle,
  report: CsvReporter,
): void {
  const other = style.delimiter === "," ? ";" : ",";
  const mixed = record.length < width && record.some((cell) => cell.includes(other) || cell.includes("\t"));
  const mark = style.delimiter === "," ? "comma" : "semicolon";
  report.error(
    ordinal,
    record.length > width ? width : null,
    mixed ? "separators-mixed" : "row-width",
    `${record.length} ${record.length === 1 ? "cell" : "cells"}, beginning ${quoted(record[0] ?? "")}`,
    `${width} cells, as in the header`,
    mixed
      ? `The header is parted by ${mark}s and this row by something else: save the whole file with one mark between cells.`
      : `Count the ${mark}s in this row. A cell that holds a ${mark} or a line break wants double quotes around it.`,
  );
}

async function reportFault(fault: CsvFault, path: string, report: CsvReporter): Promise<void> {
  switch (fault.kind) {
    case "encoding":
      return reportEncoding(fault.detail, path, report);
    case "separator":
      report.error(
        0,
        null,
        "separators-mixed",
        `${fault.detail} in the header`,
        "commas between the cells (or semicolons throughout)",
        fault.detail === "tabs"
          ? "Save the file as CSV with commas instead of tabs."
          : "Save the file with one mark between cells; a name that holds the other wants double quotes.",
      );
      return;
    case "unreadable":
      report.whole(
        "error",
        "file-unreadable",
        fault.detail,
        "a file that can be read",
        "Check the file and its permissions.",
      );
      return;
    case "quotes":
      reportQuotes(fault, report);
  }
}

async function reportEncoding(detail: string, path: string, report: CsvReporter): Promise<void> {
  const foreign = detail === "not UTF-8" ? await firstForeignLine(path) : null;
  const advice = 'Save the file again as "CSV UTF-8".';
  if (foreign === null) {
    report.whole("error", "encoding-not-utf-8", detail, "text in UTF-8", advice);
    return;
  }
  report.problems.add(
    report.file,
    { line: foreign.line, column: 1 },
    {
      severity: "error",
      code: "encoding-not-utf-8",
      found: `a line that is not UTF-8: ${quoted(foreign.text)}`,
      expected: "text in UTF-8",
      advice,
    },
  );
}

function reportQuotes(fault: CsvFault, report: CsvReporter): void {
  const open = fault.detail === "CSV_QUOTE_NOT_CLOSED";
  report.error(
    fault.record ?? 0,
    fault.field,
    "quotes-unbalanced",
    open ? "a double quote that is never closed" : "a double quote inside a cell",
    "double quotes around a whole cell, and doubled inside it",
    `Close the quote, or write "" for a quote that belongs to the text. Nothing after it could be read.`,
  );
}
