import { measures } from "../../measures/index.ts";
import { nonEmpty, sentenceStart } from "../../model/number-words.ts";
import type { Finding } from "../../model/result/finding.ts";
import type { Result } from "../../model/result/result.ts";
import { byState } from "../../model/state.ts";
import { namedChanges, type ReadPointChange, rankedChanges } from "../../pages/changes/read-point-changes.ts";
import { criterionOf, namesOf } from "../../pages/parts/names.ts";
import { type RoundPair, roundPairs } from "../../pages/parts/round-pairs.ts";
import {
  changesSentence,
  changeWords,
  comparisonReasonSentence,
  comparisonSentence,
  exploratorySentence,
} from "../../pages/words/comparisons.ts";
import {
  concessionSentence,
  findingSentence,
  remarkSentence,
  settleSentence,
} from "../../pages/words/findings.ts";
import {
  correlationSentence,
  hangsOnRule,
  stricterCount,
  stricterNote,
  unseenSummary,
} from "../../pages/words/promises.ts";
import { verdictSentence } from "../../pages/words/verdicts.ts";
import { findingCells, findingLines } from "./finding-lines.ts";
import { entryLines, nameColumn, plain, wrap } from "./text.ts";

const changeWidth = Math.max(...Object.values(changeWords).map((word) => word.length));

/** One facility as the terminal shows it: a table with a line for each finding, worst first, then the verdict. */
export function facilityLines(result: Result): string {
  const names = namesOf(result);
  const title = `${result.facility.name}, ${names.datedRound(result.signOffRound)}`;
  const findings = [...result.findings].sort((a, b) => byState(a.state, b.state));
  const lines = findingLines(
    findings.map((finding) => ({
      cells: [...findingCells(finding, cut(names.readPoint(finding.readPoint))), names.group(finding.group)],
      below: belowFinding(finding, result),
    })),
  );
  const bare = result.readPoints.flatMap((readPoint) =>
    readPoint.remarks.map((remark) => `  ${readPoint.name}: ${remarkSentence(remark, result.rounds)}`),
  );
  const promises = wrap(
    nonEmpty([
      ...(hangsOnRule(result) ? [stricterCount(result), correlationSentence(result)] : []),
      unseenSummary(result),
    ]).join(" "),
  );
  return [title, ...lines, ...bare, verdictSentence(result), ...promises]
    .map((line) => `${plain(line)}\n`)
    .join("");
}

const widestName = 40;

function cut(name: string): string {
  const letters = [...plain(name)];
  return letters.length > widestName ? `${letters.slice(0, widestName - 1).join("")}…` : letters.join("");
}

/**
 * Under a finding that is not met: what was asked, what would settle it, what was accepted. What was asked also stands
 * where another criterion has the same measure and group at the read point. Figures that need words have them, and so has
 * what a stricter interval would show.
 */
function belowFinding(finding: Finding, result: Result): string[] {
  const criterion = criterionOf(result, finding.criterion);
  const { words } = measures.get(finding.measure);
  const inWords =
    words.figure === undefined || finding.estimate.n === 0 ? "" : findingSentence(finding, criterion);
  const concession = finding.concession === null ? "" : concessionSentence(finding.concession);
  const names = namesOf(result);
  const asked = names.criterion(finding.criterion);
  const isAlone = result.findings.every(
    (other) =>
      other.criterion === finding.criterion ||
      other.measure !== finding.measure ||
      other.readPoint !== finding.readPoint ||
      names.group(other.group) !== names.group(finding.group),
  );
  const met = isAlone ? [] : [asked];
  const open = finding.state === "met" ? met : [asked, settleSentence(finding), concession];
  const stricter = stricterNote(finding);
  return [inWords, ...open, stricter === "" ? "" : `${sentenceStart(stricter)}.`];
}

/** One facility's rounds compared: for each pair what was changed and what came of it, then each read point, worst first. */
export function compareLines(result: Result): string {
  const lines = [`${result.facility.name}: before and after`];
  if (result.comparisons.length === 0) {
    lines.push(
      result.rounds.length < 2
        ? "  There is only one round, so there is nothing to compare."
        : "  There is no read point to compare.",
    );
  }
  for (const pair of roundPairs(result)) {
    const changes = rankedChanges(pair, result);
    lines.push(...wrap(pairTitle(result, pair)));
    lines.push(...wrap(changesSentence(namedChanges(changes))));
    for (const change of changes) lines.push(...readPointLines(change, result));
  }
  return lines.map((line) => `${plain(line)}\n`).join("");
}

/** `As found, 18 May 2026, to As left, 21 May 2026. Changed: Antenna 3 lowered by 0.4 m.` */
function pairTitle(result: Result, { before, after }: RoundPair): string {
  const { rounds } = result;
  const names = namesOf(result);
  const placeOf = (id: string) => rounds.findIndex((round) => round.id === id);
  const changes = rounds
    .slice(placeOf(before) + 1, placeOf(after) + 1)
    .map((round) => round.changes?.trim().replace(/\.$/, "") ?? "")
    .filter((text) => text !== "");
  const changed = changes.length === 0 ? "" : ` Changed: ${changes.join("; ")}.`;
  return `${names.roundAndDate(before)} to ${names.roundAndDate(after)}.${changed}`;
}

function readPointLines({ readPoint, whole, byCondition }: ReadPointChange, result: Result): string[] {
  const head = `  ${changeWords[whole.change].padEnd(changeWidth)}  `;
  const text = comparisonSentence(whole, result.basis.smallestChangeThatMatters);
  const reasons = whole.reasons.map((reason) =>
    comparisonReasonSentence(reason, result.rounds, result.conditions),
  );
  const below = [exploratorySentence(byCondition, result.conditions), ...reasons].filter(
    (line) => line !== "",
  );
  const nameWidth = nameColumn(result.readPoints.map(({ name }) => name));
  return entryLines({ head, name: readPoint.name, text, below }, nameWidth);
}
