import { join } from "node:path";
import type { Facility } from "../../model/facility.ts";
import type { CsvRecord } from "../csv/records.ts";
import type { Sheet } from "../csv/sheet.ts";
import { Times } from "../csv/times.ts";
import { fileCopied, manifestNameTwice } from "../problems/csv-file.ts";
import { passesTooMany, passTwice } from "../problems/pass-log.ts";
import type { ProblemList } from "../problems/problem-list.ts";
import { type DeclaredColumns, declaredColumns } from "../tables/declared-columns.ts";
import { openHeader, remarkOnExtras } from "../tables/header.ts";
import { openSheet } from "../tables/open-sheet.ts";
import { copiesAmong } from "./copies.ts";
import { fitsForm, formOf, reservedColumns } from "./forms/index.ts";
import { type ComparedPass, type HandRow, type HandRows, settleHandPasses } from "./hand-logs.ts";
import { type LogFile, passColumns, type RecordReader } from "./rows/log-form.ts";
import { type Manifest, readManifest } from "./rows/manifest.ts";
import { keepExtra, type LogPass, PassBook, PassCells, PassFinder, placeholderPass } from "./rows/passes.ts";
import { ColumnTable, type Row } from "./rows/table.ts";

/** Everything that the manifests and pass logs of a facility say. */
export interface FacilityLogs {
  facility: Facility;
  declared: DeclaredColumns;
  /** By name, without .csv. */
  manifests: ReadonlyMap<string, Manifest>;
  files: readonly LogFile[];
  /** In the order in which they were met; a pass's number is its place. */
  passes: readonly LogPass[];
  /** Passes of logs kept by hand that a timed log has, too; they are not among the others. */
  compared: readonly ComparedPass[];
  table: ColumnTable;
}

/** A facility's folder, as far as its logs are concerned. */
export interface LogFolder {
  folder: string;
  /** Paths relative to the folder, with `/`; names without .csv. */
  manifests: { path: string; name: string }[];
  logs: { path: string }[];
  facility: Facility;
  /** Whether facility.yaml has reader_logs, well formed or not: then a log may be timed. */
  hasReaderLogs: boolean;
  /** Whether facility.yaml could be read: else the logs are looked at by themselves. */
  isFacilityKnown: boolean;
}

/** Reads the manifests, then the pass logs, which name them. */
export async function readLogs(given: LogFolder, problems: ProblemList): Promise<FacilityLogs> {
  const { facility } = given;
  const declared = declaredColumns(facility);
  const table = new ColumnTable(declared.names);
  const manifests = await readManifests(given, { table, declared, problems });
  const book = new PassBook();
  const handBook = facility.compareWithReader ? new PassBook() : book;
  const handRows: HandRows = new Map();
  const times = new Times(facility.timeZone);
  const files: LogFile[] = [];
  const copies = await copiesAmong(
    given.folder,
    given.logs.map(({ path }) => path),
  );
  const sheets = given.logs.flatMap(({ path }) => sheetsOf(path, facility));
  for (const { path, sheet: name } of sheets) {
    const place = { path, onDisk: join(given.folder, path), rowsAre: "passes", sheet: name };
    const sheet = openSheet(place, problems);
    const original = copies.get(path);
    if (original !== undefined) {
      await readCopy(sheet, original);
      continue;
    }
    const file = await openLog(sheet, given, declared);
    if (file === null) await sheet.skipRows();
    else {
      files.push(file);
      const reader = file.form.open({ file, table, manifests });
      const passCells = new PassCells(file, times, facility.dateOrder);
      const isByHand = file.form.readsFrom === "pass-log";
      const passes = new PassFinder(file, isByHand ? handBook : book, given);
      const keep: RowReading["keep"] =
        handBook !== book && isByHand
          ? (pass, at, row) => addTo(handRows, pass, { at, row })
          : (pass, at, row) => table.addRow(pass.number, at, row);
      await readRows(file, { reader, passes, passCells, keep, book });
      passCells.finish();
    }
  }
  const compared =
    handBook === book ? [] : settleHandPasses({ book: handBook, rows: handRows }, { book, table });
  return { facility, declared, manifests, files, passes: book.passes, compared, table };
}

/** What is wrong with a copy is told of the original, and that the same passes come twice is told in one sentence. */
async function readCopy(sheet: Sheet, original: string): Promise<void> {
  await sheet.header();
  await sheet.skipRows();
  if (sheet.source.rows > 0) sheet.report.whole(fileCopied.log({ path: sheet.path, original }));
}

/** The sheets of a file that are read, each a table of its own; null for the first one. */
function sheetsOf(path: string, { sheets }: Facility): { path: string; sheet: string | null }[] {
  return (sheets[path] ?? [null]).map((sheet) => ({ path, sheet }));
}

async function readManifests(
  { folder, manifests, facility }: LogFolder,
  shared: { table: ColumnTable; declared: DeclaredColumns; problems: ProblemList },
): Promise<Map<string, Manifest>> {
  const byName = new Map<string, Manifest>();
  const copies = await copiesAmong(
    folder,
    manifests.map(({ path }) => path),
  );
  for (const { path, name } of manifests) {
    const { sheet } = sheetsOf(path, facility)[0]!;
    const file = { name, path, onDisk: join(folder, path), sheet };
    const manifest = await readManifest(file, { ...shared, reserved: reservedColumns });
    const other = byName.get(name)?.sheet.path;
    if (other !== undefined) manifest.sheet.report.whole(manifestNameTwice.with({ name, other }));
    const original = copies.get(path);
    if (original !== undefined && manifest.items.size > 0)
      manifest.sheet.report.whole(fileCopied.manifest({ path, original }));
    byName.set(name, manifest);
  }
  return byName;
}

/** Reads the header; null, with the reason reported, where it makes the rest unreadable. */
export async function openLog(
  sheet: Sheet,
  { facility, hasReaderLogs, isFacilityKnown }: LogFolder,
  declared: DeclaredColumns,
): Promise<LogFile | null> {
  const { report } = sheet;
  const meanings = { own: [...reservedColumns], declared, fits: fitsForm };
  const header = await openHeader(sheet, meanings);
  if (header === null) return null;
  const hasSeveralRounds = facility.rounds.length > 1;
  const form = formOf(header, { hasSeveralRounds, hasReaderLogs }, report);
  const possible = form === null ? [...reservedColumns] : [...passColumns, ...form.columns];
  if (isFacilityKnown && (form !== null || header.extras.some(({ look }) => look !== null)))
    remarkOnExtras(header, { file: "pass log", possible }, report);
  if (form === null) return null;
  return { form, header, sheet, report };
}

function addTo(rows: HandRows, pass: LogPass, row: HandRow): void {
  const own = rows.get(pass);
  if (own === undefined) rows.set(pass, [row]);
  else own.push(row);
}

/** Far more than anybody walks: a pass a minute, day and night, for more than four months. */
export const mostPasses = 200_000;

interface RowReading {
  reader: RecordReader;
  passes: PassFinder;
  passCells: PassCells;
  book: PassBook;
  /** Where a row goes. */
  keep(pass: LogPass, at: number, row: Row): void;
}

/** Record by record: which pass it belongs to, what it says of the pass, and what of the tags in it. */
async function readRows(file: LogFile, { reader, passes, passCells, keep, book }: RowReading): Promise<void> {
  for await (const records of file.sheet.rows(file.header.width)) {
    for (const record of records) {
      const pass = passes.passOf(record);
      if (pass !== null && file.form.isRowAPass && pass.at !== record.at) {
        reportRepeat(pass, record, file);
        passCells.note(placeholderPass(file, record.at), record);
        reader(record);
        continue;
      }
      passCells.note(pass ?? placeholderPass(file, record.at), record);
      const tags = reader(record);
      if (pass === null || tags === null) continue;
      pass.straysRecorded = tags.straysRecorded;
      pass.tallyStrays = tags.tallyStrays;
      pass.rssiRecorded = tags.rssiRecorded;
      pass.isMissedBlank = tags.isMissedBlank ?? false;
      pass.isLoadUnknown = tags.isLoadUnknown ?? false;
      if (tags.manifest !== null) keepManifest(pass, tags.manifest);
      for (const row of tags.rows) keep(pass, record.at, row);
    }
    if (book.passes.length <= mostPasses) continue;
    file.report.at(
      { record: records.at(-1)!.at, field: file.header.fields.get("pass") ?? null },
      passesTooMany.with({ most: mostPasses }),
    );
    return;
  }
}

function keepManifest(pass: LogPass, manifest: Manifest): void {
  pass.manifest = manifest;
  for (const [name, texts] of manifest.extras) for (const text of texts) keepExtra(pass, name, text);
}

function reportRepeat(pass: LogPass, { at }: CsvRecord, { form, header, report }: LogFile): void {
  const place = { record: at, field: header.fields.get("pass")!, value: pass.id };
  report.cell(place, passTwice.with({ log: form.name }));
}
