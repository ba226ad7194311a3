import { problem } from "./card/problem.ts";
import { didYouMean, listing, quoted } from "./card/wording.ts";

/* Revisions, corrections of files, and comparisons of clocks. */

// Revisions.

export const revisionMarkInvalid = problem({
  code: "revision-mark-invalid",
  severity: "error",
  means: "The mark of a revision is no evidence mark.",
  expected: "the 32 digits of an evidence mark, or the whole SHA-256 of a result.json (64 digits)",
  advice:
    "Copy it from the sheet of that revision, or from the foot of any of its pages; blanks do not matter.",
});

export const revisionMarkMissing = problem(
  {
    code: "revision-mark-missing",
    severity: "warning",
    means: "An earlier revision is listed without its evidence mark.",
    advice: "Add `mark:` from its sheet: until then nothing ties the entry to what was issued.",
  },
  {
    with: ({ revision }: { revision: string }) => ({
      found: `revision ${quoted(revision)} without mark`,
      expected: "the evidence mark on the sheet of that revision",
    }),
  },
);

export const revisionMarkOwn = problem({
  code: "revision-mark-own",
  severity: "error",
  means: "The entry of the report's own revision has a mark or a result.",
  expected: "no mark and no result for the revision that this report is",
  advice: "Remove it: the mark is known only once this revision is judged. A later revision will state it.",
});

export const revisionsOutOfOrder = problem(
  {
    code: "revisions-out-of-order",
    severity: "error",
    means: "The revisions and the report's own date of issue are not in order.",
    advice: "List the revisions from the earliest to the latest, with the dates on their sheets.",
  },
  {
    beforeEarlier: ({ latest }: { latest: string }) => ({
      expected: `${latest} or later: the date of the revision above it`,
    }),
    afterReport: ({ issued }: { issued: string }) => ({
      expected: `${issued} or earlier: the report's own date of issue`,
    }),
    ownDiffers: ({ issued }: { issued: string }) => ({
      expected: `${issued}, as under report: it is the same revision`,
      advice: "Correct one of the two dates.",
    }),
  },
);

export const revisionResultUnfit = problem(
  {
    code: "revision-result-unfit",
    severity: "error",
    means: "The file named as the result of an earlier revision is missing, or no result.json of it.",
    advice:
      "Put the result.json of that revision's site there, byte for byte, or remove `result:`; the logs are then not compared.",
  },
  {
    missing: () => ({ expected: "a file of the facility's folder" }),
    tooLarge: ({ most }: { most: string }) => ({ expected: `a file of at most ${most}` }),
    unread: () => ({ expected: "the result.json of a facility, as this tool writes it" }),
    otherRevision: ({ file, stated }: { file: string; stated: string }) => ({
      found: `a result.json of revision ${quoted(file)}`,
      expected: `the result.json of revision ${quoted(stated)}`,
    }),
  },
);

export const revisionMarkDiffers = problem(
  {
    code: "revision-mark-differs",
    severity: "error",
    means: "The result.json that is kept of an earlier revision has another mark than the entry states.",
    advice:
      "One of the two is wrong: compare both with the sheet that was signed. If the mark is right, the file was changed or is of another build.",
  },
  {
    with: ({ path, sha256, mark }: { path: string; sha256: string; mark: string }) => ({
      found: `SHA-256 of ${quoted(path)}: ${sha256.slice(0, mark.length)}`,
      expected: `the mark stated: ${mark}`,
    }),
  },
);

export const fileChangedSince = problem(
  {
    code: "file-changed-since-revision",
    severity: "warning",
    means: "A file that an earlier revision judged was changed or taken out, and no correction says why.",
    advice:
      "Say under `corrections` what was changed in it, why, by whom and when, or put back the file that was judged.",
  },
  {
    changed: ({ revision, issued }: { revision: string; issued: string }) => ({
      found: `other bytes than revision ${quoted(revision)} judged`,
      expected: `the same file, or a correction of ${issued} or later`,
    }),
    gone: ({ path, revision, issued }: { path: string; revision: string; issued: string }) => ({
      found: `no ${quoted(path)}, which revision ${quoted(revision)} judged`,
      expected: `the file, or a correction of ${issued} or later that says why it was taken out`,
    }),
  },
);

// Corrections.

export const correctionFileUnknown = problem(
  {
    code: "correction-file-unknown",
    severity: "warning",
    means:
      "A correction names a file that is no input, neither of this report nor of a revision that is kept.",
    advice: "Correct the path.",
  },
  {
    with: ({ file, known }: { file: string; known: string[] }) => ({
      expected: `an input file: ${listing(known)}`,
      advice: `${didYouMean(file, known)}Correct the path. If the file was taken out, keep the result.json of the revision that had it.`,
    }),
  },
);

export const correctionWithoutChange = problem(
  {
    code: "correction-without-change",
    severity: "warning",
    means: "A correction speaks of a change to a file that is the same to the byte as before.",
    advice:
      "Check the date and the path of the correction, and whether the corrected file is the one in the folder.",
  },
  {
    with: ({ revision, issued }: { revision: string; issued: string }) => ({
      expected: `other bytes than revision ${quoted(revision)} of ${issued} judged`,
    }),
  },
);

export const correctionAfterReport = problem(
  {
    code: "correction-after-report",
    severity: "warning",
    means: "A correction is dated after the report's date of issue.",
    advice: "A corrected file makes another report: give it a new revision and date of issue.",
  },
  {
    with: ({ issued }: { issued: string }) => ({
      expected: `${issued}, the report's date of issue, or earlier`,
    }),
  },
);

// Clocks.

export const clockComparisonDiffers = problem(
  {
    code: "clock-comparison-differs",
    severity: "warning",
    means: "A comparison of a reader's clock found another offset than the entry applies.",
    advice:
      "Correct clock_offset_s, or give the logs of that day an entry of their own: reads may be in the wrong pass otherwise.",
  },
  {
    with: ({ applied }: { applied: number }) => ({
      expected: `about ${applied} s, the clock_offset_s of the entry`,
    }),
  },
);
