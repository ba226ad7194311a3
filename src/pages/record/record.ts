import {
  counted,
  countText,
  countWord,
  joined,
  sentenceStart,
  statedNumber,
} from "../../model/number-words.ts";
import type { FileChanges, RecordResult } from "../../model/record/record.ts";
import type { Result } from "../../model/result.ts";
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
    same === total
      ? `${total === 1 ? "The one file" : `All ${counted(total, "file", "files")}`} that it judged ${total === 1 ? "is" : "are"} the same to the byte`
      : `Of ${counted(total, "file", "files")} that it judged ${same === 0 ? "none is" : same === 1 ? "one is" : `${countWord(same)} are`} the same to the byte: ${said.join("; ")}`;
  return `${first}. ${added.length === 0 ? "None was added." : `${sentenceStart(countWord(added.length))} ${added.length === 1 ? "was" : "were"} added.`}`;
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

/** How many lines of it the sheet holds; all of them are on the inputs page. */
const mostLines = 6;

/** The same in short lines, for the schedule of the sheet. */
export function recordLines(result: Result): { label: string; text: string }[] {
  const view = recordView(result);
  if (view === null) return [];
  const lines = [
    ...view.revisions.map((one) => ({
      label: `Revision ${one.revision}`,
      text: [
        `${one.issued}.`,
        one.changes === "not stated" ? "" : ended(one.changes),
        one.files === "" ? "" : `Mark ${one.mark}. ${one.files}`,
      ]
        .filter((part) => part !== "")
        .join(" "),
    })),
    ...view.corrections.map(({ file, what, why, by, on }) => ({
      label: file,
      text: `corrected by ${by}, ${on}. ${ended(what)} ${ended(why)}`,
    })),
    ...view.clocks.map(({ logs, offset, comparisons }) => ({
      label: `Clock of ${logs}`,
      text: `offset ${offset}. ${comparisons.join(" ")}`,
    })),
  ];
  const more = lines.length - mostLines;
  return more <= 0
    ? lines
    : [
        ...lines.slice(0, mostLines),
        { label: "Further", text: `${counted(more, "entry is", "entries are")} on the inputs page.` },
      ];
}

function ended(text: string): string {
  return /[.!?]$/.test(text.trim()) ? text.trim() : `${text.trim()}.`;
}
