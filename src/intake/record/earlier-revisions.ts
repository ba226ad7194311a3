import { createHash } from "node:crypto";
import { readFile, stat } from "node:fs/promises";
import { join } from "node:path";
import type { Facility } from "../../model/facility.ts";
import type { InputFile } from "../../model/record/input-file.ts";
import {
  type EarlierRevision,
  fileChanges,
  type HashedFile,
  markPattern,
  notEvidence,
} from "../../model/record/record.ts";
import { isOutside } from "../facility/record.ts";
import { codeOf, placeInFolder } from "../places/place-in-folder.ts";
import { fileUnreadable } from "../problems/folder.ts";
import {
  correctionFileUnknown,
  correctionWithoutChange,
  fileChangedSince,
  revisionMarkDiffers,
  revisionResultUnfit,
} from "../problems/record.ts";
import type { YamlReport } from "../problems/reports.ts";

/** Larger than any result of this tool within its limits; JSON is held in memory whole. */
const mostBytes = 200e6;

/** The results that are kept of earlier revisions: they are inputs, and say what was judged then. */
export async function earlierRevisions(
  folder: string,
  { revisions }: Facility,
  report: YamlReport,
): Promise<{ inputs: InputFile[]; earlier: EarlierRevision[] }> {
  const inputs: InputFile[] = [];
  const earlier: EarlierRevision[] = [];
  for (const [i, stated] of revisions.entries()) {
    if (stated.result === null || isOutside(stated.result)) continue;
    const path = ["revisions", i, "result"];
    const bytes = await bytesOf(folder, stated.result, (problem) => report.value(path, problem));
    if (bytes === null) continue;
    const sha256 = createHash("sha256").update(bytes).digest("hex");
    inputs.push({ path: stated.result, sha256, bytes: bytes.length, rows: null, used: null, void: null });
    const { mark } = stated;
    if (mark !== null && markPattern.test(mark) && !sha256.startsWith(mark)) {
      report.value(path, revisionMarkDiffers.with({ path: stated.result, sha256, mark }));
      continue;
    }
    const judged = judgedThen(bytes);
    if (judged === null) report.value(path, revisionResultUnfit.unread());
    else if (judged.revision !== stated.revision)
      report.value(
        path,
        revisionResultUnfit.otherRevision({ file: judged.revision, stated: stated.revision }),
      );
    else earlier.push({ revision: stated.revision, issued: stated.issued, inputs: judged.inputs });
  }
  return { inputs, earlier };
}

async function bytesOf(
  folder: string,
  path: string,
  refuse: (problem: Parameters<YamlReport["value"]>[1]) => void,
): Promise<Buffer | null> {
  const place = await placeInFolder(folder, path);
  if (place.kind !== "file") {
    refuse(place.problem ?? revisionResultUnfit.missing());
    return null;
  }
  try {
    if ((await stat(join(folder, path))).size > mostBytes) {
      refuse(revisionResultUnfit.tooLarge({ most: "200 MB" }));
      return null;
    }
    return await readFile(join(folder, path));
  } catch (error) {
    refuse(fileUnreadable.with({ reason: codeOf(error) }));
    return null;
  }
}

/** The revision and the input files that a result.json names; null where it is none. */
function judgedThen(bytes: Buffer): { revision: string; inputs: HashedFile[] } | null {
  let found: unknown;
  try {
    found = JSON.parse(bytes.toString("utf8"));
  } catch {
    return null;
  }
  const revision = textAt(at(found, "report"), "revision");
  const listed = at(found, "inputs");
  if (revision === null || !Array.isArray(listed)) return null;
  const inputs = listed.map((one) => ({ path: textAt(one, "path"), sha256: textAt(one, "sha256") }));
  const whole = inputs.filter((one): one is HashedFile => one.path !== null && one.sha256 !== null);
  return whole.length === inputs.length ? { revision, inputs: whole } : null;
}

function at(value: unknown, key: string): unknown {
  return typeof value === "object" && value !== null && Object.hasOwn(value, key)
    ? (value as Record<string, unknown>)[key]
    : undefined;
}

function textAt(value: unknown, key: string): string | null {
  const found = at(value, key);
  return typeof found === "string" ? found : null;
}

/** Files that changed since a revision without a word, and corrections that fit no file. */
export function checkCorrections(
  { facility, inputs, earlier }: { facility: Facility; inputs: InputFile[]; earlier: EarlierRevision[] },
  report: YamlReport,
): void {
  const { revisions, corrections } = facility;
  const passedOver = notEvidence(revisions);
  const told = new Set<string>();
  // The latest revision is the one to go back to.
  for (const revision of [...earlier].reverse()) {
    const { changed, gone } = fileChanges(revision, { inputs, corrections, passedOver });
    const tell = (path: string, problem: ReturnType<typeof fileChangedSince.gone>, file: string) => {
      if (told.has(path)) return;
      told.add(path);
      report.problems.report({ file }, problem);
    };
    for (const { path } of changed.filter(({ isCorrected }) => !isCorrected))
      tell(path, fileChangedSince.changed(revision), path);
    for (const { path } of gone.filter(({ isCorrected }) => !isCorrected))
      tell(path, fileChangedSince.gone({ path, ...revision }), report.file);
  }
  const known = new Set([...inputs, ...earlier.flatMap((one) => one.inputs)].map(({ path }) => path));
  for (const [i, { file, on }] of corrections.entries()) {
    if (!known.has(file)) {
      const names = inputs.map(({ path }) => path);
      report.value(["corrections", i, "file"], correctionFileUnknown.with({ file, known: names }));
      continue;
    }
    const before = earlier.findLast(({ issued }) => issued < on);
    const then = before?.inputs.find(({ path }) => path === file);
    if (
      before !== undefined &&
      then !== undefined &&
      inputs.some((one) => one.path === file && one.sha256 === then.sha256)
    )
      report.value(["corrections", i, "file"], correctionWithoutChange.with(before));
  }
}
