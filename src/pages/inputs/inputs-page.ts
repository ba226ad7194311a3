import { counted, countText } from "../../model/number-words.ts";
import { type Cause, causesOf, type Problem } from "../../model/problem.ts";
import type { InputFile } from "../../model/record/input-file.ts";
import type { Result } from "../../model/result/result.ts";
import {
  type Archive,
  journeyInputs,
  keptInputs,
  leftOutSentence,
  pseudonymSentence,
} from "../parts/archive.ts";
import type { CsvTable } from "../parts/csv.ts";
import { type Column, fileOf } from "../parts/figure.ts";
import { definePage, type Here, type Link } from "../parts/page.ts";
import { type FacilityPaths, noticesPath, resultSchemaPath } from "../parts/paths.ts";
import { type ListedPicture, listedPictures, type ShownPicture, shownPictures } from "../record/pictures.ts";
import { type RecordView, recordView } from "../record/record.ts";
import { causePlaces, problemPlace, problemSentence } from "../words/problems.ts";

export interface InputsView {
  lead: string;
  /** What the paths of the files are relative to. */
  folder: string;
  files: FileRow[];
  /** What the files of journeys are for; empty where there are none. */
  journeys: string;
  /** What a journey takes from its facilities' files, which the table does not have; empty on a facility's page. */
  facilities: string;
  readerLogs: { sentence: string; hasOthers: boolean; rows: ReaderLogRow[] };
  remarks: RemarkBlock[];
  record: RecordView | null;
  pictures: ListedPicture[];
  /** Pictures of no read point and no open point. */
  photographs: ShownPicture[];
  result: Link;
  table: Link;
  remarksTable: Link;
  /** The tables of the facility, then those of each read point. */
  downloads: DownloadGroup[];
  /** What of the files is not in the site; empty where all are. */
  leftOut: string;
  /** Who holds the names; empty where the pages have them. */
  pseudonyms: string;
  /** SHA-256 of the archived result, whole; empty where it is not known. */
  resultHash: string;
  /** A file to check, as it lies in the site or elsewhere. */
  firstFile: string;
  /** In the folder of the seal that the site is part of; null where it is part of none. */
  howToVerify: Link | null;
  sheet: Link;
  schema: Link;
  notices: Link;
  contents: Link;
}

/** The files that were judged, the remarks on them, and everything that can be downloaded. */
export const inputsPage = definePage({
  template: "inputs",
  navigation: "Inputs",
  pages: ({ paths, result }) => [
    {
      path: paths.inputs,
      title: "Inputs",
      subject: result,
      tables: [inputsTable(result), remarksTable(result)],
    },
  ],
  view: (here, result): InputsView => ({
    ...inputsView(here, {
      lead: leadSentence(result),
      about: "the facility",
      readPoints: result.readPoints,
      folder: "facility's folder",
      firstFile: "facility.yaml",
      schemaPath: resultSchemaPath,
    }),
    facilities: "",
    record: recordView(result),
    pictures: listedPictures(here),
    photographs: shownPictures(here, (one) => one.readPoint === null && one.openPoint === null),
  }),
});

/** What the inputs of a facility, and those of a journey, are shown from. */
interface InputsHere extends Here {
  result: Pick<Result, "inputs" | "journeys" | "problems" | "pseudonyms">;
  archive: Archive;
  paths: Pick<FacilityPaths, "result" | "signOffSheet" | "input">;
}

/** @param firstFile a file that every such folder has */
export function inputsView(
  here: InputsHere,
  told: {
    lead: string;
    /** What the tables are of, besides those of read points. */
    about: string;
    readPoints?: readonly { id: string; name: string }[];
    folder: string;
    firstFile: string;
    schemaPath: string;
  },
): Omit<InputsView, "facilities" | "record" | "pictures" | "photographs"> {
  const { result, archive, paths } = here;
  const { lead, folder, firstFile, schemaPath } = told;
  return {
    lead,
    folder,
    files: fileRows(here),
    journeys: journeysSentence(result),
    readerLogs: readerLogs(result.inputs),
    remarks: causesOf(result.problems).map(remarkBlock),
    result: here.link("result.json", paths.result),
    table: here.tableLink("inputs"),
    remarksTable: here.tableLink("remarks"),
    downloads: [
      downloadGroup(told.about, undefined, here),
      ...(told.readPoints ?? []).map(({ id, name }) => downloadGroup(name, id, here)),
    ],
    pseudonyms: pseudonymSentence(result),
    leftOut: leftOutSentence(result, archive.inputs),
    resultHash: archive.mark,
    firstFile: keptInputs(result, archive.inputs).length === 0 ? firstFile : inputHref(here, firstFile),
    howToVerify: archive.isSealed === true ? here.link(sealText, `../../${sealText}`) : null,
    sheet: here.link("sign-off sheet", paths.signOffSheet),
    schema: here.link(schemaPath.split("/").at(-1)!, schemaPath),
    notices: here.link("notices.txt", noticesPath),
    contents: here.link("contents.sha256", "contents.sha256"),
  };
}

/** What the folder of a seal has for people without this tool. */
const sealText = "HOW-TO-VERIFY.txt";

/** Remarks with one cause. */
interface RemarkBlock {
  sentence: string;
  /** The first few places; with what was found there, where that differs. */
  places: { place: string; found: string }[];
  /** How many more there are; empty where all are shown. */
  more: string;
}

function remarkBlock(cause: Cause): RemarkBlock {
  const { places, more } = causePlaces(cause);
  return {
    sentence: problemSentence(cause.problems[0]!),
    places: places.map(({ problem, found }) => ({ place: problemPlace(problem), found })),
    more: more === "" ? "" : `and ${more}`,
  };
}

export function inputsTable(result: Pick<Result, "inputs" | "journeys">): CsvTable {
  const inputs = [...result.inputs, ...journeyInputs(result)];
  const others: Column<InputFile>[] = inputs.some(hasOtherEvents)
    ? [{ header: "other_events", value: (input) => input.reader?.otherEvents ?? null }]
    : [];
  return fileOf(
    { name: "inputs", holds: "Every input file with its rows and its SHA-256." },
    [
      { header: "path", value: (input) => input.path },
      { header: "rows", value: (input) => input.rows },
      { header: "used", value: (input) => input.used },
      { header: "void", value: (input) => input.void },
      { header: "repeated", value: (input) => input.reader?.repeated ?? null },
      { header: "elsewhere", value: (input) => input.reader?.elsewhere ?? null },
      ...others,
      { header: "refused", value: (input) => input.reader?.refused ?? null },
      { header: "size_bytes", value: (input) => input.bytes },
      { header: "sha256", value: (input) => input.sha256 },
    ],
    inputs,
  );
}

const problemFields = ["file", "sheet", "line", "column", "code", "found", "expected", "advice"] as const;

export function remarksTable({ problems }: Pick<Result, "problems">): CsvTable {
  const hasSheets = problems.some(({ sheet }) => sheet !== undefined);
  const fields = problemFields.filter((field) => hasSheets || field !== "sheet");
  return fileOf(
    { name: "remarks", holds: "The remarks on the logs, with file, line and column." },
    fields.map((field): Column<Problem> => ({ header: field, value: (problem) => problem[field] ?? null })),
    problems,
  );
}

interface Download extends Link {
  holds: string;
  rows: string;
}

interface DownloadGroup {
  name: string;
  tables: Download[];
}

/** The tables of a read point, or of the facility. */
function downloadGroup(
  name: string,
  readPoint: string | undefined,
  { tables, tableLink }: Pick<Here, "tables" | "tableLink">,
): DownloadGroup {
  const own = tables.filter((table) => table.readPoint === readPoint);
  return {
    name,
    tables: own.map((table) => ({
      ...tableLink(table.name),
      holds: table.holds,
      rows: counted(table.rows, "row", "rows"),
    })),
  };
}

interface FileRow {
  path: string;
  /** To the file itself; empty where the site does not hold it. */
  href: string;
  rows: string;
  /** Empty where the file has no rows of its own. */
  used: string;
  void: string;
  size: string;
  sha256: string;
}

/** A reader's own log: where each of its rows went. */
interface ReaderLogRow {
  path: string;
  rows: string;
  used: string;
  repeated: string;
  elsewhere: string;
  /** Empty where the log's entry takes every row for a read. */
  others: string;
  refused: string;
}

/** Empty where the facility has none. */
function readerLogs(inputs: InputFile[]): InputsView["readerLogs"] {
  const logs = inputs.filter(isReaderLog);
  return {
    sentence: readerLogSentence(logs),
    hasOthers: logs.some(hasOtherEvents),
    rows: logs.map(({ path, rows, used, reader }) => ({
      path,
      rows: countText(rows ?? 0),
      used: countText(used ?? 0),
      repeated: countText(reader.repeated),
      elsewhere: countText(reader.elsewhere),
      others: reader.otherEvents === undefined ? "" : countText(reader.otherEvents),
      refused: countText(reader.refused),
    })),
  };
}

function hasOtherEvents({ reader }: InputFile): boolean {
  return reader?.otherEvents !== undefined;
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
  return `The readers' own logs have ${counted(rows, "row", "rows")}, and every row is accounted for. ${all}`;
}

/** From the page to an input file, in the site or beside it. */
function inputHref({ archive, paths, href }: InputsHere, path: string): string {
  return href(archive.inputs === "beside" ? `../inputs/${path}` : paths.input(path));
}

function fileRows(here: InputsHere): FileRow[] {
  const { result, archive } = here;
  const kept = new Set(keptInputs(result, archive.inputs));
  const linkTo = (path: string) => inputHref(here, path).split("/").map(encodeURIComponent).join("/");
  const hrefOf = (input: InputFile, isKept: boolean) => (isKept ? linkTo(input.path) : "");
  return [
    ...result.inputs.map((input) => fileRow(input, hrefOf(input, kept.has(input)))),
    ...journeyInputs(result).map((input) => fileRow(input, hrefOf(input, kept.size > 0))),
  ];
}

function journeysSentence({ journeys = [] }: Pick<Result, "journeys">): string {
  return journeys.length === 0
    ? ""
    : "What the readers heard of a tag on a journey is no idle read: the files in journeys, relative to the data folder, say when it was on one.";
}

function fileRow(input: InputFile, href: string): FileRow {
  return {
    path: input.path,
    href,
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
  const heard =
    readers === 0 ? "" : ` Of the readers' own logs, ${counted(readers, "row", "rows")} entered them.`;
  const files = counted(inputs.length, "file was", "files were");
  const blocks = causesOf(problems).length;
  const remarks =
    blocks === 0
      ? "There are no remarks on them."
      : `There ${blocks === 1 ? "is" : "are"} ${counted(blocks, "remark", "remarks")} on them.`;
  if (rows === 0) return `${files} read; none of them has a pass. ${remarks}`;
  return `${files} read, with ${counted(rows, "row", "rows")}: ${countText(
    sum((input) => input.used),
  )} entered the figures, ${countText(sum((input) => input.void))} belong to void passes.${heard} ${remarks}`;
}
