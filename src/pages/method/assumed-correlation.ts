import { intervals } from "../../intervals/index.ts";
import { measures } from "../../measures/index.ts";
import { intervalPhrase } from "../../measures/scales.ts";
import { statedNumber } from "../../model/number-words.ts";
import type { Finding } from "../../model/result/finding.ts";
import type { PageContext } from "../parts/page.ts";
import { printedFigures } from "../words/findings.ts";
import { stricterNote, stricterSentence } from "../words/promises.ts";
import { stateWord } from "../words/verdicts.ts";

export interface AssumedCorrelation {
  /** The correlations tried, as column headings; the facility's own is marked. */
  columns: { label: string; own: boolean }[];
  rows: {
    readPoint: { label: string; href: string };
    criterion: string;
    group: string;
    cells: { interval: string; state: Finding["state"] | null; stateWord: string; changed: boolean }[];
    /** By the stricter interval; null where the facility's own is as strict. */
    stricter: { state: Finding["state"]; stateWord: string; changed: boolean } | null;
  }[];
  /** How much depends on the assumption. */
  sentence: string;
  /** The name of the stricter interval, and what it shows; empty where the facility's own is as strict. */
  stricterName: string;
  stricter: string;
}

/** What each finding would be under other assumed correlations. */
export function assumedCorrelation({ result, names, paths, link }: PageContext): AssumedCorrelation {
  const findings = result.findings.filter(
    (finding) => finding.sensitivity.length > 0 || stricterNote(finding) !== "",
  );
  const tried = [
    ...new Set([
      ...(findings.length === 0 ? [] : [result.basis.missCorrelation]),
      ...findings.flatMap(({ sensitivity }) => sensitivity.map((entry) => entry.missCorrelation)),
    ]),
  ].sort((a, b) => a - b);
  const rows = findings.map((finding) => ({
    readPoint: link(names.readPoint(finding.readPoint), paths.readPoint(finding.readPoint)),
    criterion: names.criterion(finding.criterion),
    group: names.group(finding.group),
    cells: tried.map((correlation) => cellOf(finding, correlation, result.basis.missCorrelation)),
    stricter:
      finding.stricter === null
        ? null
        : {
            state: finding.stricter.state,
            stateWord: stateWord(finding.stricter.state),
            changed: finding.stricter.state !== finding.state,
          },
  }));
  const hanging = rows.filter(({ cells }) => cells.some(({ changed }) => changed)).length;
  return {
    columns: tried.map((correlation) => ({
      label: statedNumber(correlation),
      own: correlation === result.basis.missCorrelation,
    })),
    rows,
    sentence: hangingSentence(rows.length, hanging),
    stricterName:
      result.otherwise.interval === null ? "" : intervals.get(result.otherwise.interval.id).words.short,
    stricter: stricterSentence(result, names) ?? "",
  };
}

function cellOf(
  finding: Finding,
  correlation: number,
  own: number,
): AssumedCorrelation["rows"][number]["cells"][number] {
  const entry =
    correlation === own
      ? { ...finding.estimate, state: finding.state }
      : finding.sensitivity.find(({ missCorrelation }) => missCorrelation === correlation);
  if (entry === undefined) return { interval: "not computed", state: null, stateWord: "", changed: false };
  const { lower, upper } = entry;
  const figures = printedFigures(finding, { ...finding.estimate, lower, upper });
  return {
    interval: intervalPhrase(figures, measures.get(finding.measure).scale),
    state: entry.state,
    stateWord: stateWord(entry.state),
    changed: entry.state !== finding.state,
  };
}

function hangingSentence(total: number, hanging: number): string {
  if (total === 0) {
    return "No finding of this facility uses the assumption.";
  }
  if (hanging === 0) {
    return "No finding of this facility would have another state under any of these correlations.";
  }
  return hanging === 1
    ? "One finding of this facility would have another state under one of these correlations; it is marked."
    : `${hanging} findings of this facility would have another state under one of these correlations; they are marked.`;
}
