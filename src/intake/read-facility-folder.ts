import type { Facility } from "../model/facility.ts";
import type { FacilityInput } from "../model/pass-log.ts";
import type { Problem } from "../model/problem.ts";
import type { InputFile } from "../model/record/input-file.ts";
import { placedProblems } from "./csv/placed-problems.ts";
import { type OpenedFacility, unreadFacility } from "./facility/facility.ts";
import { listedInputs } from "./listed-inputs.ts";
import { compareHandLogs } from "./pass-log/hand-logs.ts";
import { inputsOf, normaliseLog, plannedLoad } from "./pass-log/normalise.ts";
import { readLogs } from "./pass-log/read.ts";
import { rules } from "./pass-log/rules.ts";
import { readTimedPasses } from "./pass-log/timed-passes.ts";
import { readPictures } from "./pictures/attachments.ts";
import { readPowerLogs } from "./power/power-log.ts";
import type { YamlReport } from "./problems/reports.ts";
import { sheetsUnused } from "./problems/workbook.ts";
import type { ReaderSightings, Travels } from "./reader-log/database/travels.ts";
import type { ReaderLogFile } from "./reader-log/reader-log.ts";
import { checkCorrections, earlierRevisions } from "./record/earlier-revisions.ts";
import { workbookName } from "./tables/open-sheet.ts";

/**
 * Reads everything else that a facility's folder holds.
 *
 * @param travels tells when tags were on journeys over the facility; null where none were
 * @returns the input, or null where any problem is an error; all problems, in the order of file, line and column; and what the readers
 *   heard of the tags on journeys
 */
export async function readFacility(
  opened: OpenedFacility,
  travels: () => Travels | null = () => null,
): Promise<{ input: FacilityInput | null; problems: Problem[]; heard: ReaderSightings | null }> {
  const { folder, problems } = opened;
  const read = await readAll(opened, travels);
  const listed = await placedProblems(problems, folder);
  if (read === null || problems.hasErrors) return { input: null, problems: listed, heard: null };
  return { input: { ...read.input, problems: listed }, problems: listed, heard: read.heard };
}

async function readAll(
  { id, folder, problems, yaml, described }: OpenedFacility,
  travelsOf: () => Travels | null,
): Promise<{ input: FacilityInput; heard: ReaderSightings | null } | null> {
  if (yaml === null) return null;
  const isFacilityKnown = described !== null;
  // Without a facility the logs are still looked at by themselves, so that all faults are told at once.
  const { facility, report, namesReaderLogs } = described ?? unreadFacility(id, yaml.text);
  const files = await listedInputs(folder, problems);
  checkSheets(facility, files, report);

  const { manifests, logs: passLogs } = files;
  const logs = await readLogs(
    { folder, manifests, logs: passLogs, facility, hasReaderLogs: namesReaderLogs, isFacilityKnown },
    problems,
  );
  const travels = facility.readerLogs.length === 0 ? null : travelsOf();
  const evidence = await readTimedPasses({ folder, travels }, logs, { report, problems });
  const power = await readPowerLogs(
    { folder, files: files.power, facility, isFacilityKnown },
    { problems, yaml: report },
  );
  if (!problems.hasErrors) compareHandLogs(logs, report);
  for (const rule of rules)
    if (isFacilityKnown || !rule.asksFacility) rule.check(logs, { yaml: report, problems });
  const { earlier, inputs: earlierResults } = await earlierRevisions(folder, facility, report);
  const { attachments, floorPlan, inputs: pictures } = await readPictures(folder, facility, report);
  if (problems.hasErrors) return null;

  const readerLogs = evidence?.logs.files.map(readerInput) ?? [];
  const inputs = [
    yaml.input,
    ...inputsOf(logs),
    ...power.inputs,
    ...readerLogs,
    ...earlierResults,
    ...pictures,
  ];
  checkCorrections({ facility, inputs, earlier }, report);
  const input = {
    facility: { ...facility, attachments, floorPlan },
    log: { ...normaliseLog(logs, evidence), power: power.power },
    inputs,
    journeys: evidence === null ? [] : (travels?.journeys ?? []),
    earlier,
    plannedLoad: plannedLoad(logs),
    problems: [],
  };
  return { input, heard: evidence?.logs.travelled ?? null };
}

/** Objects to sheets of files that are no workbooks of the folder. */
function checkSheets(
  { sheets }: Facility,
  { manifests, logs, power }: Awaited<ReturnType<typeof listedInputs>>,
  report: YamlReport,
): void {
  for (const [path, names] of Object.entries(sheets)) {
    const isManifest = manifests.some((file) => file.path === path);
    const isKnown = isManifest || [...logs, ...power].some((file) => file.path === path);
    if (!isKnown || !workbookName.test(path) || (isManifest && names.length > 1))
      report.key(["sheets", path], sheetsUnused);
  }
}

function readerInput(file: ReaderLogFile): InputFile {
  const { path, sha256, bytes, rows, used, repeated, elsewhere, otherEvents, refused } = file;
  const others = otherEvents === null ? {} : { otherEvents };
  return { path, sha256, bytes, rows, used, void: 0, reader: { repeated, elsewhere, ...others, refused } };
}
