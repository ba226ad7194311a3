import { basename } from "node:path";
import { trimmed } from "../csv/cells.ts";
import { readFacilityYaml } from "../facility/facility.ts";
import { reservedColumns } from "../pass-log/forms/index.ts";
import { openLog } from "../pass-log/read.ts";
import type { LogFile } from "../pass-log/rows/log-form.ts";
import { readManifest } from "../pass-log/rows/manifest.ts";
import { ColumnTable } from "../pass-log/rows/table.ts";
import { ProblemList } from "../problems/problem-list.ts";
import { type DescribedLog, describeLog } from "../reader-log/describe/describe.ts";
import { UnreadableLog } from "../reader-log/describe/sample.ts";
import { declaredColumns } from "../tables/declared-columns.ts";
import { openSheet, workbookName } from "../tables/open-sheet.ts";
import { visibleSheets } from "../workbook/workbook-table.ts";
import { emptyColumn, type FoundColumn, noteCell } from "./columns-found.ts";
import { exampleStart } from "./example-start.ts";
import { facilityText } from "./facility-text.ts";

/** A file that somebody starts from, recognised by what is in it. */
export type GivenFile = { path: string; name: string; sheet: string | null } & (
  | PassLogFound
  | ManifestFound
  | ReaderLogFound
  | NotRecognised
);

interface PassLogFound {
  kind: "pass log";
  form: string;
  /** Whether what was read comes from the reader's log. */
  isTimed: boolean;
  /** How many passes each round and read point has there. */
  rounds: Map<string, number>;
  readPoints: Map<string, number>;
  passes: number;
  /** The loads that it names. */
  manifests: Set<string>;
  columns: FoundColumn[];
}

interface ManifestFound {
  kind: "manifest";
  tags: number;
  columns: FoundColumn[];
}

interface ReaderLogFound {
  kind: "reader log";
  log: DescribedLog;
}

interface NotRecognised {
  kind: "not recognised";
  /** What was found, and what to do. */
  why: string;
}

/** Recognises one file; of a workbook with several sheets each sheet by itself. */
export async function recognise(path: string): Promise<GivenFile[]> {
  const sheets = workbookName.test(path) ? await visibleSheets(path) : [];
  if (sheets.length < 2) return [await recogniseTable(path, null)];
  const found: GivenFile[] = [];
  for (const sheet of sheets) found.push(await recogniseTable(path, sheet));
  return found;
}

async function recogniseTable(path: string, sheetName: string | null): Promise<GivenFile> {
  const file = { path, name: basename(path), sheet: sheetName };
  const facility = draftFacility();
  const problems = new ProblemList(null);
  const table = { path: file.name, onDisk: path, rowsAre: "passes", sheet: sheetName };
  const sheet = openSheet(table, problems);
  const given = { folder: "", manifests: [], logs: [], facility, hasReaderLogs: true, isFacilityKnown: true };
  const opened = await openLog(sheet, given, declaredColumns(facility));
  const namesPasses =
    opened !== null && ["pass", "read_point"].every((name) => opened.header.fields.has(name));
  if (namesPasses) return { ...file, ...(await walked(opened)) };
  if (sheet.isFaulty) await sheet.skipRows();
  else await sheet.close();
  const fault = sheet.isFaulty
    ? problems.sorted(() => null).find(({ severity }) => severity === "error")
    : undefined;
  const missing = problems.sorted(() => null).filter(({ code }) => code === "column-missing");
  // What lacks a column or two of a pass log is one that has to be mended, and no list of tags.
  const [first] = missing;
  if (first !== undefined && (opened !== null || missing.length <= mostMissing)) {
    const found = missing.map((problem) => problem.found).join(", ");
    return {
      ...file,
      kind: "not recognised",
      why: `It looks like a pass log, but has ${found}. ${first.advice}`,
    };
  }
  const { log, why } = workbookName.test(path) ? { log: null, why: null } : await described(path);
  // A list of tags may say when each was encoded; a reader's log repeats its tags, or has levels and antennas.
  const manifest = log === null || isList(log) ? await manifestIn(path, sheetName) : null;
  if (log !== null && manifest === null) return { ...file, kind: "reader log", log };
  if (manifest !== null) return { ...file, ...manifest };
  const told = fault && `Found ${fault.found}; expected ${fault.expected}. ${fault.advice}`;
  return {
    ...file,
    kind: "not recognised",
    why: why ?? told ?? (workbookName.test(path) ? noTable : nothingKnown),
  };
}

const mostMissing = 2;
const nothingKnown =
  "It is none of these: a pass log needs the columns pass and read_point, a manifest the column tag, a reader log a time and a code in every row. `proofwalk describe` says what was found in it; name the columns so and start again.";
const noTable =
  "It is neither a pass log, which needs the columns pass and read_point, nor a manifest, which needs the column tag. Export a reader's log as CSV, codes as text.";

/** What any file can be read against. */
function draftFacility() {
  const problems = new ProblemList(null);
  const start = { ...exampleStart("UTC"), conditions: [], criteria: [] };
  return readFacilityYaml("draft", facilityText(start), problems)!.facility;
}

async function walked({ sheet, header, form }: LogFile): Promise<PassLogFound> {
  const found: PassLogFound = {
    kind: "pass log",
    form: form.id,
    isTimed: form.readsFrom === "reader-log",
    rounds: new Map(),
    readPoints: new Map(),
    passes: 0,
    manifests: new Set(),
    columns: header.extras.map(({ name }) => emptyColumn(name)),
  };
  const field = (name: string) => header.fields.get(name) ?? -1;
  const [round, point, pass, manifest] = ["round", "read_point", "pass", "manifest"].map(field);
  const passes = new Set<string>();
  for await (const records of sheet.rows(header.width)) {
    for (const { cells } of records) {
      const text = (index: number) => trimmed(cells[index] ?? "");
      const [roundId, pointId, load] = [text(round!), text(point!), text(manifest!)];
      const key = JSON.stringify([roundId, pointId, text(pass!)]);
      if (!passes.has(key)) {
        passes.add(key);
        if (roundId !== "") found.rounds.set(roundId, (found.rounds.get(roundId) ?? 0) + 1);
        if (pointId !== "") found.readPoints.set(pointId, (found.readPoints.get(pointId) ?? 0) + 1);
      }
      if (load !== "") found.manifests.add(load.replace(/\.(?:csv|xlsx)$/i, ""));
      for (const [i, extra] of header.extras.entries())
        noteCell(found.columns[i]!, cells[extra.field] ?? "", sheet.decimalComma);
    }
  }
  return { ...found, passes: passes.size };
}

/** Null where the file has no column of codes. */
async function manifestIn(path: string, sheetName: string | null): Promise<ManifestFound | null> {
  const facility = draftFacility();
  const problems = new ProblemList(null);
  const table = new ColumnTable([]);
  const file = { name: basename(path), path: basename(path), onDisk: path, sheet: sheetName };
  const shared = { table, declared: declaredColumns(facility), reserved: reservedColumns, problems };
  const { items, extras, sheet } = await readManifest(file, shared);
  if (items.size === 0) return null;
  const columns = [...extras].map(([name, texts]) => {
    const column = emptyColumn(name);
    for (const text of texts) noteCell(column, text, sheet.decimalComma);
    return { ...column, filled: items.size };
  });
  return { kind: "manifest", tags: items.size, columns };
}

/** Why it cannot be one is null where it is a table, and has no time or no code in it. */
async function described(path: string): Promise<{ log: DescribedLog | null; why: string | null }> {
  try {
    const log = await describeLog(path);
    if (log.entry !== "") return { log, why: null };
    return { log: null, why: null };
  } catch (fault) {
    if (!(fault instanceof UnreadableLog)) throw fault;
    return { log: null, why: fault.message };
  }
}

function isList(log: DescribedLog): boolean {
  const roles = log.columns.filter(({ used }) => used).map(({ role }) => role);
  const isRepeated = log.read !== null && log.read.tags.distinct < log.read.rows;
  return !isRepeated && !roles.includes("RSSI") && !roles.includes("antenna") && !roles.includes("reader");
}
