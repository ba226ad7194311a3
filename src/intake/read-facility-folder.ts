import { isUtf8 } from "node:buffer";
import { createHash } from "node:crypto";
import { readFile } from "node:fs/promises";
import { basename, join, resolve } from "node:path";
import type { FacilityInput } from "../model/pass-log.ts";
import type { Problem } from "../model/problem.ts";
import type { InputFile } from "../model/result.ts";
import { csvPlaces, type PlaceFinder } from "./csv/csv-places.ts";
import { listedInputs } from "./input-files.ts";
import { builtLog, type ReaderEvidence } from "./pass-log/built-log.ts";
import { remarkOnClocks } from "./pass-log/clock-remarks.ts";
import { fillHeard } from "./pass-log/heard-rows.ts";
import { checkLog } from "./pass-log/log-checks.ts";
import type { LogContext } from "./pass-log/log-context.ts";
import { PassBook } from "./pass-log/pass-book.ts";
import { readManifest, readPassLog } from "./pass-log/pass-logs.ts";
import { checkCovered, checkOverlaps, windowsOf } from "./pass-log/pass-windows.ts";
import { checkPlannedLoad, plannedLoad } from "./pass-log/planned-load.ts";
import { countRows } from "./pass-log/row-counts.ts";
import { RowStore } from "./pass-log/row-store.ts";
import { Times } from "./pass-log/times.ts";
import { remarkOnUnheardLabels } from "./pass-log/unheard-labels.ts";
import { vocabularyOf } from "./pass-log/vocabulary.ts";
import { walkSessions } from "./pass-log/walk-sessions.ts";
import { remarkOnWalkedValues } from "./pass-log/walked-values.ts";
import { ProblemList } from "./problem-list.ts";
import { encodingNotUtf8, facilityYamlMissing, fileUnreadable } from "./problems/folder.ts";
import type { FullText } from "./problems/problem.ts";
import type { YamlReport } from "./problems/reports.ts";
import { readerLogsUnused } from "./problems/yaml.ts";
import type { ReaderLogFile } from "./reader-log/reader-log.ts";
import { facilityFile, readFacilityYaml } from "./yaml/facility.ts";

/**
 * Reads everything that a facility's folder holds.
 *
 * @returns the input, or null where any problem is an error; and all problems, in the order of file, line and column
 */
export async function readFacilityFolder(
  folder: string,
): Promise<{ input: FacilityInput | null; problems: Problem[] }> {
  const id = basename(resolve(folder));
  const problems = new ProblemList(id);
  const input = await readAll(folder, id, problems);
  const listed = await placed(problems, folder);
  if (input === null || problems.hasErrors) return { input: null, problems: listed };
  return { input: { ...input, problems: listed }, problems: listed };
}

async function readAll(folder: string, id: string, problems: ProblemList): Promise<FacilityInput | null> {
  const inputs: InputFile[] = [];
  const source = await facilitySource(folder, inputs, problems);
  const described = source === null ? null : readFacilityYaml(id, source, problems);
  if (described === null) return null;
  const { facility } = described;
  const vocabulary = vocabularyOf(facility);
  const context: LogContext = {
    facility,
    vocabulary,
    rows: new RowStore(vocabulary.columns),
    passes: new PassBook(facility.readPoints.length),
    times: new Times(facility.timeZone),
    manifests: new Map(),
    files: [],
    readerLogsNamed: described.namesReaderLogs,
  };
  const { manifests, logs } = await listedInputs(folder, problems);
  for (const { path, name } of manifests) {
    inputs.push(await readManifest(path, join(folder, path), name, context, problems));
  }
  for (const { path } of logs) inputs.push(await readPassLog(path, join(folder, path), context, problems));
  const readers = await readerEvidence(folder, context, described.report, problems);
  checkLog(context, problems);
  remarkOnWalkedValues(context, described.report);
  checkPlannedLoad(context, described.report);
  if (problems.hasErrors) return null;
  countRows(context, inputs);
  if (readers !== null) inputs.push(...readers.logs.files.map(readerInput));
  return {
    facility,
    log: builtLog(context, readers),
    inputs,
    plannedLoad: plannedLoad(context),
    problems: [],
  };
}

/** Reads the readers' own logs, only where the facility names some. */
async function readerEvidence(
  folder: string,
  context: LogContext,
  report: YamlReport,
  problems: ProblemList,
): Promise<ReaderEvidence | null> {
  const { facility } = context;
  if (facility.readerLogs.length === 0) return null;
  const windows = windowsOf(context);
  checkOverlaps(windows, context);
  const { passes } = context.passes;
  if (passes.length > 0 && passes.every(({ form }) => form !== "timed")) {
    report.value(["reader_logs"], readerLogsUnused);
  }
  if (problems.hasErrors) return null;
  const { readReaderLogs } = await import("./reader-log/read.ts");
  const sessions = walkSessions(windows, context);
  const logs = await readReaderLogs({
    folder,
    specs: facility.readerLogs,
    windows,
    sessions,
    facilityZone: facility.timeZone,
    problems,
  });
  remarkOnClocks(facility.readerLogs, windows, logs, report);
  // A log that could not be read holds no reads of anybody, and that it could not be read has been said.
  const heardAt = new Set(logs.spans.map(({ readPoint }) => readPoint));
  const covered = problems.hasErrors ? windows.filter(({ readPoint }) => heardAt.has(readPoint)) : windows;
  checkCovered(covered, logs.spans, context);
  remarkOnUnheardLabels(logs.heard, context);
  return { logs, windows, sessions, tagOfCode: fillHeard(logs.heard, context) };
}

function readerInput(file: ReaderLogFile): InputFile {
  const { path, sha256, bytes, rows, used, repeated, elsewhere, refused } = file;
  return { path, sha256, bytes, rows, used, void: 0, reader: { repeated, elsewhere, refused } };
}

async function facilitySource(
  folder: string,
  inputs: InputFile[],
  problems: ProblemList,
): Promise<string | null> {
  const refused = (problem: FullText) => {
    problems.report({ file: facilityFile }, problem);
    return null;
  };
  const bytes = await readFile(join(folder, facilityFile)).catch((error: NodeJS.ErrnoException) => error);
  if (bytes instanceof Error) {
    return refused(
      bytes.code === "ENOENT"
        ? facilityYamlMissing.inFolder()
        : fileUnreadable.with({ reason: bytes.code ?? "" }),
    );
  }
  const sha256 = createHash("sha256").update(bytes).digest("hex");
  inputs.push({ path: facilityFile, sha256, bytes: bytes.length, rows: null, used: null, void: null });
  if (!isUtf8(bytes) || bytes.includes(0)) {
    return refused(encodingNotUtf8.with());
  }
  return bytes.toString("utf8").replace(/^\ufeff/, "");
}

/** Looks up the lines of what was found in CSV files. */
async function placed(problems: ProblemList, folder: string): Promise<Problem[]> {
  const finders = new Map<string, PlaceFinder>();
  for (const [file, places] of problems.openPlaces())
    finders.set(file, await csvPlaces(join(folder, file), places));
  return problems.sorted((file, place) => finders.get(file)?.(place) ?? null);
}
