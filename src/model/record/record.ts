import { z } from "zod";

/*
 * What an auditor asks of a report: which revisions came before, what was corrected since, and who compared the clocks. As zod
 * schemas: the types are made of them, and so is the schema of result.json.
 */

const text = z.string().nullable();

/** SHA-256 in hexadecimal: its first 32 digits, or all 64. */
export const markPattern = /^(?:[0-9a-f]{32}|[0-9a-f]{64})$/;

/** A mark as people write it: capitals, and groups with blanks or hyphens. */
export function plainMark(mark: string): string {
  return mark.replace(/[\s-]/g, "").toLowerCase();
}

const statedRevision = z.object({
  revision: z.string(),
  issued: z.string().describe("YYYY-MM-DD."),
  changes: text.describe("What it changed, in words."),
  by: text.describe("Who issued it."),
  mark: text.describe(
    "The first 32 digits, or all 64, of the SHA-256 of its result.json; null for this report's own revision.",
  ),
  result: text.describe("Where its result.json is kept, relative to the facility's folder."),
});
/** A revision as facility.yaml states it. */
export type StatedRevision = z.infer<typeof statedRevision>;

const correctionSchema = z.object({
  file: z.string().describe("Relative to the facility's folder."),
  what: z.string(),
  why: z.string(),
  by: z.string(),
  on: z.string().describe("YYYY-MM-DD."),
});
export type Correction = z.infer<typeof correctionSchema>;

const changedFile = z.object({
  path: z.string(),
  isCorrected: z.boolean().describe("Whether a correction names the file, dated on or after the revision."),
});

const fileChangesSchema = z
  .object({
    same: z.number().int().describe("Files that are the same to the byte."),
    changed: z.array(changedFile),
    gone: z.array(changedFile).describe("Files that the revision judged and this report has not."),
    added: z.array(z.string()).describe("Files that the revision did not judge."),
  })
  .describe("The input files of an earlier revision against those of this report, facility.yaml aside.");
export type FileChanges = z.infer<typeof fileChangesSchema>;

const clockComparisonSchema = z.object({
  by: z.string(),
  on: z.string().describe("YYYY-MM-DD."),
  how: z.string(),
  offsetS: z
    .number()
    .nullable()
    .describe("Found: seconds to be added to the reader's clock; null where not stated."),
});
export type ClockComparison = z.infer<typeof clockComparisonSchema>;

export const recordSchema = z
  .object({
    revisions: z.array(
      statedRevision.extend({
        files: fileChangesSchema.nullable().describe("Null where its result.json is not kept."),
      }),
    ),
    corrections: z.array(correctionSchema),
    clocks: z
      .array(
        z.object({
          files: z.array(z.string()).describe("As facility.yaml names the logs."),
          offsetS: z.number().describe("Added to the reader's clock to give the pass sheet's."),
          comparisons: z.array(clockComparisonSchema),
        }),
      )
      .describe("Readers' logs whose clock was compared, or is moved."),
  })
  .describe("Earlier revisions, corrections of files, and comparisons of clocks.");
export type RecordResult = z.infer<typeof recordSchema>;

/** A file of a facility and the hash of its bytes. */
export interface HashedFile {
  path: string;
  sha256: string;
}

/** What the result.json of an earlier revision says that it judged. */
export interface EarlierRevision {
  revision: string;
  issued: string;
  inputs: HashedFile[];
}

/**
 * What became of the files that an earlier revision judged. A correction speaks for a change only if it is not older than the
 * revision: an older one is already in what the revision judged.
 *
 * @param passedOver paths that are no evidence: what describes the facility, and the archived results themselves
 */
export function fileChanges(
  { issued, inputs: earlier }: EarlierRevision,
  { inputs, corrections, passedOver }: RecordFiles,
): FileChanges {
  const now = new Map(inputs.map(({ path, sha256 }) => [path, sha256]));
  const before = earlier.filter(({ path }) => !passedOver.has(path));
  const known = new Set(before.map(({ path }) => path));
  const marked = ({ path }: HashedFile) => ({
    path,
    isCorrected: corrections.some(({ file, on }) => file === path && on >= issued),
  });
  return {
    same: before.filter(({ path, sha256 }) => now.get(path) === sha256).length,
    changed: before.filter(({ path, sha256 }) => now.has(path) && now.get(path) !== sha256).map(marked),
    gone: before.filter(({ path }) => !now.has(path)).map(marked),
    added: inputs.filter(({ path }) => !known.has(path) && !passedOver.has(path)).map(({ path }) => path),
  };
}

/** The files of this report, and what was corrected in them. */
export interface RecordFiles {
  inputs: readonly HashedFile[];
  corrections: readonly Correction[];
  passedOver: ReadonlySet<string>;
}

/** facility.yaml states the revisions, so it differs from one to the next; the archived results are no evidence of the walk. */
export function notEvidence(revisions: readonly Pick<StatedRevision, "result">[]): Set<string> {
  return new Set(["facility.yaml", ...revisions.flatMap(({ result }) => (result === null ? [] : [result]))]);
}
