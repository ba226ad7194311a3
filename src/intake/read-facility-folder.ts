import { isUtf8 } from "node:buffer";
import { createHash } from "node:crypto";
import { readFile } from "node:fs/promises";
import { basename, join, resolve } from "node:path";
import type { Facility } from "../model/facility.ts";
import type { FacilityInput } from "../model/pass-log.ts";
import type { Problem } from "../model/problem.ts";
import type { InputFile } from "../model/result.ts";
import { placedProblems } from "./csv/placed-problems.ts";
import { listedInputs } from "./listed-inputs.ts";
import { builtInputs, builtLog, plannedLoad } from "./pass-log/build.ts";
import { compareHandLogs } from "./pass-log/hand-logs.ts";
import { readLogs } from "./pass-log/read.ts";
import { workbookName } from "./pass-log/rows/open-sheet.ts";
import { rules } from "./pass-log/rules.ts";
import { readTimedPasses } from "./pass-log/timed-passes.ts";
import { readPictures } from "./pictures/attachments.ts";
import { placeInFolder } from "./places/place-in-folder.ts";
import { readPowerLogs } from "./power/power-log.ts";
import type { FullText } from "./problems/card/problem.ts";
import { encodingNotUtf8, facilityYamlMissing, fileUnreadable } from "./problems/folder.ts";
import { ProblemList } from "./problems/problem-list.ts";
import type { YamlReport } from "./problems/reports.ts";
import { sheetsUnused } from "./problems/workbook.ts";
import type { ReaderSightings, Travels } from "./reader-log/database/travels.ts";
import type { ReaderLogFile } from "./reader-log/reader-log.ts";
import { checkCorrections, earlierRevisions } from "./record/earlier-revisions.ts";
import { facilityFile, readFacilityYaml, unreadFacility } from "./yaml/facility.ts";

/**
 * Reads everything that a facility's folder holds.
 *
 * @param id what the folder is called, unless it was put elsewhere under another name
 * @param travels tells when tags were on journeys over the facility; null where none were
 * @returns the input, or null where any problem is an error; all problems, in the order of file, line and column; and what the readers
 *   heard of the tags on journeys
 */
export async function readFacilityFolder(
  folder: string,
  {
    id = basename(resolve(folder)),
    travels = () => null,
  }: { id?: string; travels?: () => Travels | null } = {},
): Promise<{ input: FacilityInput | null; problems: Problem[]; heard: ReaderSightings | null }> {
  const problems = new ProblemList(id);
  const read = await readAll({ folder, id, travels }, problems);
  const listed = await placedProblems(problems, folder);
  if (read === null || problems.hasErrors) return { input: null, problems: listed, heard: null };
  return { input: { ...read.input, problems: listed }, problems: listed, heard: read.heard };
}

async function readAll(
  { folder, id, travels }: { folder: string; id: string; travels: () => Travels | null },
  problems: ProblemList,
): Promise<{ input: FacilityInput; heard: ReaderSightings | null } | null> {
  const inputs: InputFile[] = [];
  const source = await facilitySource(folder, inputs, problems);
  if (source === null) return null;
  const known = readFacilityYaml(id, source, problems);
  const isFacilityKnown = known !== null;
  const described = known ?? unreadFacility(id, source);
  const { facility } = described;
  const { manifests, logs, power: powerLogs } = await listedInputs(folder, problems);
  checkSheets(facility, { manifests, logs: [...logs, ...powerLogs] }, described.report);
  const hasReaderLogs = described.namesReaderLogs;
  const listed = { folder, manifests, logs, facility, hasReaderLogs, isFacilityKnown };
  const read = await readLogs(listed, problems);
  const evidence = await readTimedPasses({ folder, travels }, read, { report: described.report, problems });
  const { power, inputs: powerInputs } = await readPowerLogs(
    { folder, files: powerLogs, facility, isFacilityKnown },
    { problems, yaml: described.report },
  );
  if (!problems.hasErrors) compareHandLogs(read, described.report);
  for (const rule of rules)
    if (isFacilityKnown || !rule.asksFacility) rule.check(read, { yaml: described.report, problems });
  const kept = await earlierRevisions(folder, facility, described.report);
  const pictures = await readPictures(folder, facility, described.report);
  if (problems.hasErrors) return null;
  inputs.push(...builtInputs(read), ...powerInputs);
  if (evidence !== null) inputs.push(...evidence.logs.files.map(readerInput));
  inputs.push(...kept.inputs, ...pictures.inputs);
  const { earlier } = kept;
  checkCorrections({ facility, inputs, earlier }, described.report);
  const { attachments, floorPlan } = pictures;
  const input = {
    facility: { ...facility, attachments, floorPlan },
    log: { ...builtLog(read, evidence), power },
    inputs,
    earlier,
    plannedLoad: plannedLoad(read),
    problems: [],
  };
  return { input, heard: evidence?.logs.travelled ?? null };
}

/** Objects to sheets of files that are no workbooks of the folder. */
function checkSheets(
  { sheets }: Facility,
  { manifests, logs }: { manifests: { path: string }[]; logs: { path: string }[] },
  report: YamlReport,
): void {
  for (const [path, names] of Object.entries(sheets)) {
    const isManifest = manifests.some((file) => file.path === path);
    const isKnown = isManifest || logs.some((file) => file.path === path);
    if (!isKnown || !workbookName.test(path) || (isManifest && names.length > 1))
      report.key(["sheets", path], sheetsUnused);
  }
}

function readerInput(file: ReaderLogFile): InputFile {
  const { path, sha256, bytes, rows, used, repeated, elsewhere, otherEvents, refused } = file;
  const others = otherEvents === null ? {} : { otherEvents };
  return { path, sha256, bytes, rows, used, void: 0, reader: { repeated, elsewhere, ...others, refused } };
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
  const place = await placeInFolder(folder, facilityFile);
  if (place.problem !== null) return refused(place.problem);
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
