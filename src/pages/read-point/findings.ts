import { measures } from "../../measures/index.ts";
import { measureCard } from "../../measures/journey/cards.ts";
import type { Figures } from "../../measures/scales.ts";
import { counted, nonEmpty, sentenceStart } from "../../model/number-words.ts";
import type { Finding } from "../../model/result/finding.ts";
import type { Result } from "../../model/result/result.ts";
import { worstFirst } from "../parts/finding-figures.ts";
import { criterionOf } from "../parts/names.ts";
import type { FacilityContext } from "../parts/page.ts";
import { findingAnchors } from "../parts/paths.ts";
import { type StateMark, shownConcession, stateMark } from "../parts/state-mark.ts";
import {
  concessionSentence,
  findingSentence,
  limitOf,
  needsSentence,
  printedFigures,
  remarkSentence,
  settleSentence,
  shortCount,
  tagCount,
  withVoidsSentence,
} from "../words/findings.ts";
import { stricterNote, unseenSentence } from "../words/promises.ts";

/** A finding with all its figures and notes. */
export interface FindingEntry {
  anchor: string;
  mark: StateMark;
  criterion: string;
  group: string;
  passes: string;
  count: string;
  /** How many different tags were counted; empty where that is not known. */
  tags: string;
  figures: Figures;
  hasFigure: boolean;
  /** Whether its unit is several words, which may wrap onto a line of their own. */
  longUnit: boolean;
  limit: string;
  /** The finding in one sentence, where the figures alone do not explain it; else empty. */
  sentence: string;
  /** What would settle it, the rate with void passes, remarks, the concession: a sentence each. */
  notes: { label: string; text: string }[];
}

/** The findings of one read point, worst first. */
export function findingEntries({ result, names }: FacilityContext, findings: Finding[]): FindingEntry[] {
  const anchorOf = findingAnchors(findings);
  return worstFirst(findings).map((finding) => {
    const passes = measures.get(finding.measure).besidePasses?.passes ?? { one: "pass", many: "passes" };
    return {
      anchor: anchorOf(finding),
      mark: stateMark(finding.state, shownConcession(finding)),
      criterion: names.criterion(finding.criterion),
      group: names.group(finding.group),
      passes: counted(finding.passes, passes.one, passes.many),
      count: shortCount(finding),
      tags: tagCount(finding),
      figures: printedFigures(finding, finding.estimate),
      hasFigure: finding.estimate.n > 0,
      longUnit: measures.get(finding.measure).scale.hasWordUnit,
      limit: limitOf(finding),
      sentence: needsSentence(finding)
        ? findingSentence(finding, criterionOf(result, finding.criterion))
        : "",
      notes: notesOf(finding, result),
    };
  });
}

/** What a row of the picture says of its finding; the table has the rest. */
export function pictureNotes(finding: Finding): string[] {
  const concession = shownConcession(finding);
  return nonEmpty([
    settleSentence(finding),
    withVoidsSentence(finding),
    concession === null ? "" : concessionSentence(concession),
  ]);
}

function notesOf(finding: Finding, result: Result): FindingEntry["notes"] {
  const settle = settleSentence(finding);
  const voids = withVoidsSentence(finding);
  const concession = shownConcession(finding);
  const stricter = stricterNote(finding);
  const unseen = unseenSentence(finding);
  return [
    ...(settle === "" ? [] : [{ label: "To settle it", text: settle }]),
    ...(voids === "" ? [] : [{ label: "Void passes", text: voids }]),
    ...(stricter === "" ? [] : [{ label: "Stricter interval", text: `${sentenceStart(stricter)}.` }]),
    ...(unseen === "" ? [] : [{ label: "Not shown", text: unseen }]),
    ...finding.remarks.map((remark) => ({
      label: "Remark",
      text: remarkSentence(remark, result.rounds, measureCard(finding.measure).walked),
    })),
    ...(concession === null ? [] : [{ label: "Concession", text: concessionSentence(concession) }]),
  ];
}
