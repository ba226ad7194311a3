import { counted, countText } from "../model/number-words.ts";
import type { InputFile, Result } from "../model/result.ts";
import { facilityPage, type Page } from "./page.ts";
import { facilityPaths, relativeLink } from "./paths.ts";
import type { Table } from "./tables/table.ts";
import { tablesOf } from "./tables/tables.ts";
import { problemPlace, problemSentence } from "./words/problems.ts";

/** What the figures were made of, what was odd about it, and everything that can be taken away. */
export function inputsPage(result: Result): Page {
  const paths = facilityPaths(result);
  const path = paths.inputs;
  const { folder, facility, readPoints } = tablesOf(result);
  const download = (table: Table) => ({
    label: table.file,
    href: relativeLink(path, `${folder}/${table.file}`),
    holds: table.holds,
    rows: counted(table.rows, "row", "rows"),
  });
  return facilityPage(result, "inputs", path, "Inputs", {
    lead: leadSentence(result),
    files: result.inputs.map(fileRow),
    readerLogs: readerLogs(result.inputs),
    remarks: result.problems.map((problem) => ({
      place: problemPlace(problem),
      sentence: problemSentence(problem),
    })),
    result: { label: "result.json", href: relativeLink(path, paths.result) },
    table: { label: "inputs.csv", href: relativeLink(path, paths.table("inputs")) },
    remarksTable: { label: "remarks.csv", href: relativeLink(path, paths.table("remarks")) },
    downloads: facility.map(download),
    readPoints: result.readPoints.map((readPoint) => ({
      name: readPoint.name,
      downloads: [...(readPoints.get(readPoint.id)?.values() ?? [])].map(download),
    })),
    firstFile: result.inputs[0]?.path ?? "facility.yaml",
  });
}

/** A reader's own log: where each of its rows went. */
interface ReaderLogRow {
  path: string;
  rows: string;
  used: string;
  repeated: string;
  elsewhere: string;
  refused: string;
}

/** Empty where the facility has none. */
function readerLogs(inputs: InputFile[]): { sentence: string; rows: ReaderLogRow[] } {
  const logs = inputs.filter(isReaderLog);
  return {
    sentence: readerLogSentence(logs),
    rows: logs.map(({ path, rows, used, reader }) => ({
      path,
      rows: countText(rows ?? 0),
      used: countText(used ?? 0),
      repeated: countText(reader.repeated),
      elsewhere: countText(reader.elsewhere),
      refused: countText(reader.refused),
    })),
  };
}

type ReaderLogInput = InputFile & { reader: NonNullable<InputFile["reader"]> };

function isReaderLog(input: InputFile): input is ReaderLogInput {
  return input.reader !== undefined;
}

function readerLogSentence(logs: ReaderLogInput[]): string {
  if (logs.length === 0) return "";
  const rows = logs.reduce((sum, log) => sum + (log.rows ?? 0), 0);
  const refused = logs.reduce((sum, { reader }) => sum + reader.refused, 0);
  const all =
    refused === 0
      ? "No row was refused."
      : `${counted(refused, "row was", "rows were")} refused; the remarks below say why.`;
  return `The readers' own logs hold ${counted(rows, "row", "rows")}, and every one of them is accounted for. ${all}`;
}

function fileRow(input: InputFile) {
  return {
    path: input.path,
    rows: input.rows === null ? "no rows of its own" : countText(input.rows),
    used: input.used === null ? "" : countText(input.used),
    void: input.void === null ? "" : countText(input.void),
    size: `${countText(input.bytes)} bytes`,
    sha256: input.sha256,
  };
}

function leadSentence({ inputs, problems }: Result): string {
  const sum = (pick: (input: InputFile) => number | null) =>
    inputs.reduce((total, input) => total + (isReaderLog(input) ? 0 : (pick(input) ?? 0)), 0);
  const rows = sum((input) => input.rows);
  const readers = inputs.filter(isReaderLog).reduce((total, { used }) => total + (used ?? 0), 0);
  const heard = readers === 0 ? "" : ` Of the readers' own logs ${counted(readers, "row", "rows")} did.`;
  const files = counted(inputs.length, "file was", "files were");
  const remarks =
    problems.length === 0
      ? "Nothing in them calls for a remark."
      : `There ${problems.length === 1 ? "is" : "are"} ${counted(problems.length, "remark", "remarks")} on them.`;
  if (rows === 0) return `${files} read; none holds a pass. ${remarks}`;
  return `${files} read, with ${counted(rows, "row", "rows")}: ${countText(
    sum((input) => input.used),
  )} entered the figures, ${countText(sum((input) => input.void))} belong to void passes.${heard} ${remarks}`;
}
