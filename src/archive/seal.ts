import { existsSync, mkdirSync, renameSync, writeFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { type Report, reportName } from "../model/facility.ts";
import { markText } from "../pages/parts/archive.ts";
import { slug } from "../pages/parts/paths.ts";
import { copyInputs } from "../site/copy-inputs.ts";
import { abandonedBeside, BuildFolder } from "../site/output/build-folder.ts";
import {
  makeFolders,
  OutputRefused,
  realPath,
  refusalOf,
  removeEmptyFolders,
} from "../site/output/output-place.ts";
import { exitOnSignals } from "../site/output/swap-in.ts";
import { evidenceMark, resultText } from "../site/write-site.ts";
import { payloadOxum } from "./bag/check-bag.ts";
import { type BagFiles, folderFiles, hashesOf } from "./bag/files.ts";
import { manifestText } from "./bag/manifest.ts";
import { sharedPath, soundName, whyNotCarried } from "./bag/paths.ts";
import { tagEntriesText } from "./bag/tag-files.ts";
import { dataPackageText } from "./data-package.ts";
import { type Evidence, isJourney } from "./evidence.ts";
import { howToVerifyText } from "./how-to-verify.ts";
import {
  agent,
  algorithm,
  inputsFolder,
  manifestFile,
  resultFile,
  tagFiles,
  tagManifestFile,
} from "./seal-layout.ts";
import { writeStoredZip } from "./zip/stored-zip.ts";

export interface SealRequest {
  evidence: Evidence;
  /** The folder that seals stand in, as the user named it. */
  out: string;
  hasInputs: boolean;
  /** Whether the same is to be written as a zip beside the folder. */
  isZipped: boolean;
  onStep: (text: string) => void;
}

export interface Sealed {
  folder: string;
  zip: string | null;
  /** SHA-256 of result.json. */
  mark: string;
  files: number;
}

/** Killed seals leave folders of this name with an end of their own, whichever seal they were for. */
const workName = ".seal";

/**
 * Seals what was judged: a bag in a folder of its own, written beside its place and put there by one rename, so that what
 * stands there is whole. Nothing that stands is replaced.
 */
export async function seal(request: SealRequest): Promise<Sealed> {
  const { evidence, out, isZipped } = request;
  const report = soundReport(evidence);
  const name = sealName(evidence, report);
  const place = realPath(resolve(out));
  const target = join(place, name);
  const zip = isZipped ? `${target}.zip` : null;
  refuseStanding(target, join(out, name));
  refuseNames(request);
  for (const work of abandonedBeside(join(place, workName))) work.remove();
  const work = BuildFolder.beside(join(place, workName));
  let made: string[] = [];
  const clearAway = () => {
    work.remove();
    removeEmptyFolders(made);
  };
  const interruption = exitOnSignals();
  process.once("exit", clearAway);
  interruption.hold();
  try {
    made = makeFolders(place);
    work.make();
    const bag = join(work.fresh, name);
    const mark = await fillBag(bag, request, report);
    const sealed = folderFiles(bag);
    if (zip !== null) {
      request.onStep("Writing the zip");
      const fresh = `${bag}.zip`;
      await writeStoredZip(sealed, name, fresh);
      refuseStanding(target, join(out, name));
      renameSync(fresh, zip);
    }
    refuseStanding(target, join(out, name), zip !== null);
    renameSync(bag, target);
    made = [];
    return {
      folder: join(out, name),
      zip: zip === null ? null : join(out, `${name}.zip`),
      mark,
      files: sealed.sizes.size,
    };
  } catch (fault) {
    throw refusalOf(fault, out, place);
  } finally {
    clearAway();
    interruption.release();
    process.off("exit", clearAway);
  }
}

function soundReport({ report, statedIn }: Evidence): Report {
  if (report !== null) return report;
  throw new OutputRefused(
    `${statedIn} has no report, and a seal is of one. Add it: report: { number: ..., revision: ..., issued: YYYY-MM-DD }`,
  );
}

/** The folder of a seal. Two reports that differ only in marks that no file name carries have the same, and the second is refused. */
function sealName({ id, statedIn }: Evidence, { number, revision }: Report): string {
  const parts = { number: soundName(number), revision: soundName(revision) };
  for (const [key, text] of Object.entries(parts))
    if (text === "")
      throw new OutputRefused(
        `The report's ${key} "${key === "number" ? number : revision}" has no letter or digit that the name of a folder can carry on every machine. Give it one of A to Z or 0 to 9 in ${statedIn}.`,
      );
  return `${slug(id)}-${parts.number}-${parts.revision}`;
}

function refuseStanding(target: string, named: string, isZipOurs = false): void {
  const standing = [target, ...(isZipOurs ? [] : [`${target}.zip`])].find((path) => existsSync(path));
  if (standing === undefined) return;
  throw new OutputRefused(
    `"${named}${standing === target ? "" : ".zip"}" stands already, and a seal is never replaced. Give the report a new revision, or move the other one away.`,
  );
}

/** What a bag cannot carry to every machine is refused before anything is written. */
function refuseNames({ evidence, hasInputs }: SealRequest): void {
  if (!hasInputs) return;
  const { id, inputs } = evidence;
  const paths = inputs.flatMap(({ files }) => files.map(({ path }) => path));
  for (const path of paths) {
    const why = whyNotCarried(path);
    if (why !== null)
      throw new OutputRefused(
        `A seal cannot carry the name of ${JSON.stringify(path)} of ${id} to every machine: ${why}. Rename the file.`,
      );
  }
  const shared = sharedPath(paths);
  if (shared !== null)
    throw new OutputRefused(
      `${JSON.stringify(shared[0])} and ${JSON.stringify(shared[1])} of ${id} are one file on a disk that does not tell capitals, or forms of accented letters, apart. Rename one of them.`,
    );
}

/** Writes the whole bag, its declaration and the list of its lists last, and returns the evidence mark. */
async function fillBag(bag: string, request: SealRequest, report: Report): Promise<string> {
  const { evidence, hasInputs, onStep } = request;
  mkdirSync(join(bag, "data"), { recursive: true });
  const write = (path: string, text: string) => writeFileSync(join(bag, path), text);
  const text = resultText(evidence.result);
  const mark = evidenceMark(text);
  write(resultFile, text);
  onStep(hasInputs ? "Copying the inputs and writing the pages" : "Writing the pages");
  // The pages are made while the disk is waited for. Both are done, or have failed, before anything is cleared away.
  const [copied, written] = await Promise.allSettled([
    hasInputs ? copyEvidence(evidence, bag) : new Map<string, string>(),
    evidence.writeSite(join(bag, "data", "site"), { inputs: hasInputs ? "beside" : "none" }),
  ]);
  if (copied.status === "rejected") throw copied.reason;
  if (written.status === "rejected") throw written.reason;
  writeTables(join(bag, "data", "tables"), evidence);
  onStep("Making the checksums");
  const files = folderFiles(bag);
  for (const path of files.sizes.keys()) {
    const why = whyNotCarried(path);
    if (why !== null) throw new Error(`The seal has a file that no seal carries, ${path}: ${why}.`);
  }
  write("bag-info.txt", bagInfoText({ evidence, report, mark, oxum: payloadOxum(files) }));
  write("HOW-TO-VERIFY.txt", howToVerifyText({ mark, hasInputs, isJourney: isJourney(evidence.result) }));
  write(manifestFile, await manifestOf(files, [...files.sizes.keys()], copied.value));
  write("bagit.txt", "BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n");
  write(tagManifestFile, await manifestOf(folderFiles(bag), tagFiles));
  return mark;
}

/** Copies the inputs into the bag; returns the SHA-512 of each, by its path there. */
async function copyEvidence({ id, inputs }: Evidence, bag: string): Promise<Map<string, string>> {
  const sums = new Map<string, string>();
  for (const { from, files } of inputs)
    for (const [path, sum] of await copyInputs(id, files, { from, to: join(bag, inputsFolder) }))
      sums.set(`${inputsFolder}${path}`, sum);
  return sums;
}

/** @param known checksums that were made while files were copied: they are of the bytes that were judged */
async function manifestOf(
  files: BagFiles,
  paths: string[],
  known: ReadonlyMap<string, string> = new Map(),
): Promise<string> {
  const checksums = new Map<string, string>();
  for (const path of paths)
    checksums.set(path, known.get(path) ?? (await hashesOf(files, path, [algorithm])).get(algorithm)!);
  return manifestText(checksums);
}

function writeTables(folder: string, evidence: Evidence): void {
  mkdirSync(folder);
  // Without the mark that tells spreadsheets the encoding: the data package states it.
  const tables = evidence.tables().map((table) => ({
    name: table.name,
    holds: table.holds,
    text: table.text().replace(/^\ufeff/, ""),
    fields: table.fields(),
  }));
  for (const { name, text } of tables) writeFileSync(join(folder, `${name}.csv`), text);
  const { id, name } = evidence;
  const title = `The rows behind the figures of ${name}`;
  writeFileSync(join(folder, "datapackage.json"), dataPackageText({ name: slug(id), title, tables }));
}

/** The labels are those of RFC 8493, section 2.2.2, and one of our own for the mark. */
function bagInfoText(about: { evidence: Evidence; report: Report; mark: string; oxum: string }): string {
  const { evidence, report, mark, oxum } = about;
  const { id, subject, preparedBy, toolVersion } = evidence;
  const client = evidence.client === null ? "" : ` for ${evidence.client}`;
  const entries: [string, string | null][] = [
    ["Source-Organization", preparedBy?.organisation ?? null],
    ["Contact-Name", preparedBy?.name ?? null],
    ["External-Description", `Evidence of ${subject}${client}: report ${reportName(report)}`],
    ["Bagging-Date", report.issued],
    ["External-Identifier", reportName(report)],
    ["Bag-Group-Identifier", report.number],
    ["Internal-Sender-Identifier", id],
    ["Payload-Oxum", oxum],
    ["Bag-Software-Agent", `${agent} ${toolVersion}`],
    ["Evidence-Mark", `${markText(mark)} (SHA-256 of ${resultFile}: ${mark})`],
  ];
  return tagEntriesText(
    entries.flatMap(([label, value]) => (value === null || value.trim() === "" ? [] : [{ label, value }])),
  );
}
