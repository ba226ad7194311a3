import type { InputFile } from "../../model/result.ts";
import { itemisedColumns, listedColumns, passColumns, tallyColumns } from "../log-columns.ts";
import type { ProblemList } from "../problem-list.ts";
import { quoted } from "../quotation.ts";
import { type Body, readCsvFile } from "./csv-file.ts";
import { CsvReporter } from "./csv-reporter.ts";
import { type Header, readHeader, remarkOnExtras } from "./header.ts";
import { itemisedReader } from "./itemised.ts";
import { listedReader } from "./listed.ts";
import type { LogContext, LogFile } from "./log-context.ts";
import { logForm } from "./log-form.ts";
import { type Manifest, ManifestReader } from "./manifest.ts";
import { tallyReader } from "./tally.ts";
import { timedReader } from "./timed.ts";

const ownColumns = [...new Set([...passColumns, ...itemisedColumns, ...listedColumns, ...tallyColumns])];
const readers = { itemised: itemisedReader, listed: listedReader, tally: tallyReader, timed: timedReader };

function nothing(record: number): Header {
  return { record, width: 0, fields: new Map(), extras: [] };
}

/** Reads one pass log into the context. */
export async function readPassLog(
  path: string,
  onDisk: string,
  context: LogContext,
  problems: ProblemList,
): Promise<InputFile> {
  const report = new CsvReporter(path, problems);
  const read = await readCsvFile(onDisk, report, (cells, ordinal, style): Body => {
    const header = readHeader(cells, ordinal, ownColumns, context.vocabulary, report);
    const form = logForm(header, context, report);
    if (form === null) return { header: nothing(ordinal), take: null };
    remarkOnExtras(header, "pass log", report);
    const file: LogFile = {
      index: context.files.length,
      path,
      form,
      header,
      decimalComma: style.decimalComma,
      report,
    };
    context.files.push(file);
    return { header, take: readers[form](context, file) };
  });
  if (read.fault === null) remarkOnEmptiness(read.headerSeen, read.rows, "passes", report);
  return inputOf(path, read);
}

/** Reads one manifest; it can be walked by pass logs afterwards. */
export async function readManifest(
  path: string,
  onDisk: string,
  name: string,
  context: LogContext,
  problems: ProblemList,
): Promise<InputFile> {
  const report = new CsvReporter(path, problems);
  const manifest: Manifest = {
    name,
    path,
    report,
    rows: [],
    byTag: new Map(),
    header: null,
    columns: new Map(),
    extras: new Map(),
    hasBystanders: false,
    broken: false,
    walked: { valid: 0, void: 0 },
    input: { path, sha256: "", bytes: 0, rows: 0, used: 0, void: 0 },
  };
  const reader = new ManifestReader(manifest, context.rows, context.vocabulary);
  const read = await readCsvFile(onDisk, report, (cells, ordinal, style): Body => {
    const header = reader.header(cells, ordinal, style.decimalComma);
    if (header === null) manifest.broken = true;
    return header === null
      ? { header: nothing(ordinal), take: null }
      : { header, take: (record, at) => reader.row(record, at) };
  });
  if (read.fault !== null) manifest.broken = true;
  else remarkOnEmptiness(read.headerSeen, read.rows, "tags", report);
  manifest.input = inputOf(path, read);
  const twin = context.manifests.get(name);
  if (twin !== undefined) {
    report.whole(
      "error",
      "manifest-name-twice",
      `a second manifest called ${quoted(name)}`,
      "one file for each name",
      `${twin.path} has the same name: rename one of the two.`,
    );
  }
  context.manifests.set(name, manifest);
  return manifest.input;
}

function remarkOnEmptiness(headerSeen: boolean, rows: number, what: string, report: CsvReporter): void {
  if (rows > 0) return;
  report.whole(
    "warning",
    headerSeen ? "file-without-rows" : "file-empty",
    headerSeen ? "a header and nothing below it" : "an empty file",
    `a header and rows of ${what}`,
    "Fill it in, or remove the file if it was left by mistake.",
  );
}

function inputOf(path: string, read: { sha256: string; bytes: number; rows: number }): InputFile {
  return { path, sha256: read.sha256, bytes: read.bytes, rows: read.rows, used: 0, void: 0 };
}
