import {
  counted,
  countText,
  countWord,
  joined,
  sentenceStart,
  statedNumber,
} from "../../model/number-words.ts";
import type { FileChanges, RecordResult } from "../../model/record/record.ts";
import type { Result } from "../../model/result/result.ts";
import { markText } from "../parts/archive.ts";
import { dateText } from "../words/dates.ts";

/** Earlier revisions, corrections and clocks as the inputs page shows them. */
export interface RecordView {
  revisions: {
    revision: string;
    issued: string;
    by: string;
    changes: string;
    mark: string;
    /** What became of the files that it judged. */
    files: string;
  }[];
  corrections: { file: string; what: string; why: string; by: string; on: string }[];
  clocks: { logs: string; offset: string; comparisons: string[] }[];
}

/** Null where facility.yaml states none of it. */
export function recordView({ record, report }: Result): RecordView | null {
  if (record === undefined) return null;
  return {
    revisions: record.revisions.map((one) => ({
      revision: one.revision,
      issued: dateText(one.issued),
      by: one.by ?? "not stated",
      changes: one.changes ?? "not stated",
      mark: markOf(one, report),
      files: one.revision === report?.revision ? "" : filesSentence(one.files),
    })),
    corrections: record.corrections.map((one) => ({ ...one, on: dateText(one.on) })),
    clocks: record.clocks.map(({ files, offsetS, comparisons }) => ({
      logs: files.join(", "),
      offset: secondsText(offsetS),
      comparisons:
        comparisons.length === 0
          ? ["Nobody is named who compared the clock."]
          : comparisons.map(comparisonText),
    })),
  };
}

type Revision = RecordResult["revisions"][number];

function markOf({ revision, mark }: Revision, report: Result["report"]): string {
  if (revision === report?.revision) return "that of this report";
  return mark === null ? "not stated" : markText(mark);
}

/** How many paths a sentence names before it counts the rest. */
const mostNamed = 3;

function filesSentence(files: FileChanges | null): string {
  if (files === null) return "Its result.json is not kept here, so its files were not compared.";
  const { same, changed, gone, added } = files;
  const total = same + changed.length + gone.length;
  const parts = [
    [
      "was changed, with a correction",
      "were changed, with corrections",
      changed.filter((one) => one.isCorrected),
    ],
    [
      "was changed without a correction",
      "were changed without a correction",
      changed.filter((one) => !one.isCorrected),
    ],
    [
      "was taken out, with a correction",
      "were taken out, with corrections",
      gone.filter((one) => one.isCorrected),
    ],
    [
      "was taken out without a correction",
      "were taken out without a correction",
      gone.filter((one) => !one.isCorrected),
    ],
  ] as const;
  const said = parts.flatMap(([one, many, list]) =>
    list.length === 0 ? [] : [`${named(list.map(({ path }) => path))} ${list.length === 1 ? one : many}`],
  );
  const first =
    total === 1
      ? `The one file that it judged ${same === 1 ? "is" : "is not"} the same to the byte`
      : same === total
        ? `All ${counted(total, "file", "files")} that it judged are the same to the byte`
        : `Of ${counted(total, "file", "files")} that it judged ${same === 0 ? "none is" : same === 1 ? "one is" : `${countWord(same)} are`} the same to the byte`;
  const differing = said.length === 0 ? "" : `: ${said.join("; ")}`;
  return `${first}${differing}. ${added.length === 0 ? "None was added." : `${sentenceStart(countWord(added.length))} ${added.length === 1 ? "was" : "were"} added.`}`;
}

function named(paths: string[]): string {
  const more = paths.length - mostNamed;
  return joined(more <= 0 ? paths : [...paths.slice(0, mostNamed), `${countText(more)} more`]);
}

/** `−32 s`; a clock that is not moved says so. */
function secondsText(seconds: number): string {
  return seconds === 0 ? "none" : `${statedNumber(seconds)}\u00a0s`;
}

function comparisonText({
  by,
  on,
  how,
  offsetS,
}: RecordResult["clocks"][number]["comparisons"][number]): string {
  const found = offsetS === null ? "" : ` Found: ${secondsText(offsetS)}.`;
  return `${by}, ${dateText(on)}: ${how.replace(/\.$/, "")}.${found}`;
}

/** How many names a line of the sheet holds; all of them are on the inputs page. */
const mostOnSheet = 3;

/** The same in one line each, for the schedule of the sheet: what, why and how are on the inputs page. */
export function recordLines({ record, report }: Result): { label: string; text: string }[] {
  if (record === undefined) return [];
  const earlier = record.revisions.filter(({ revision }) => revision !== report?.revision);
  const lines = [
    { label: "Earlier revisions", entries: earlier.map(revisionEntry) },
    {
      label: "Corrected",
      entries: record.corrections.map(({ file, by, on, what }) => `${file}, ${by}, ${dateText(on)}: ${what}`),
    },
    {
      label: "Clocks",
      entries: record.clocks.map(
        ({ files, offsetS, comparisons }) =>
          `${files.join(", ")}: ${secondsText(offsetS)} added, ${comparedBy(comparisons)}`,
      ),
    },
  ];
  return lines.flatMap(({ label, entries }) => {
    if (entries.length === 0) return [];
    const more = entries.length - mostOnSheet;
    const rest = more <= 0 ? [] : [`${countText(more)} more on the inputs page`];
    const shown = [...entries.slice(0, mostOnSheet), ...rest].map((entry) => entry.replace(/\.$/, ""));
    return [{ label, text: `${shown.join("; ")}.` }];
  });
}

function revisionEntry({ revision, issued, mark, files }: Revision): string {
  const marked = mark === null ? "mark not stated" : `mark ${markText(mark)}`;
  const differing = files === null ? [] : [...files.changed, ...files.gone];
  const uncorrected = differing.filter(({ isCorrected }) => !isCorrected).length;
  const since =
    files === null
      ? "files not compared"
      : differing.length === 0
        ? "its files unchanged"
        : `${countWord(differing.length)} of its files changed since, ${uncorrected === 0 ? "with corrections" : `${countWord(uncorrected)} without a correction`}`;
  return `${revision}, ${dateText(issued)}, ${marked}, ${since}`;
}

function comparedBy(comparisons: RecordResult["clocks"][number]["comparisons"]): string {
  if (comparisons.length === 0) return "compared by nobody named";
  const people = [...new Set(comparisons.map(({ by }) => by))];
  const days = [...new Set(comparisons.map(({ on }) => dateText(on)))];
  return `compared by ${joined(people)} on ${joined(days)}`;
}
