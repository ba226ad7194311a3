import { sentenceStart } from "../model/number-words.ts";
import type { Finding, Result } from "../model/result.ts";
import { byState } from "../model/state.ts";
import { namedChanges, type ReadPointChange, rankedChanges } from "../pages/changes/read-point-changes.ts";
import { criterionOf, namesOf } from "../pages/parts/names.ts";
import { type RoundPair, roundPairs } from "../pages/parts/round-pairs.ts";
import {
  changesSentence,
  changeWords,
  comparisonReasonSentence,
  comparisonSentence,
  exploratorySentence,
} from "../pages/words/comparisons.ts";
import {
  concessionSentence,
  findingSentence,
  remarkSentence,
  settleSentence,
} from "../pages/words/findings.ts";
import {
  correlationSentence,
  hangsOnRule,
  stricterCount,
  stricterNote,
  unseenSummary,
} from "../pages/words/promises.ts";
import { stateWord, verdictSentence } from "../pages/words/verdicts.ts";
import { entryLines, nameColumn, plain, wrap } from "./lines.ts";

const stateWidth = "undecided".length;
const changeWidth = Math.max(...Object.values(changeWords).map((word) => word.length));

/** One facility as the terminal shows it: each finding with its evidence, worst first, then the verdict. */
export function facilityLines(result: Result): string {
  const title = `${result.facility.name}, ${namesOf(result).datedRound(result.signOffRound)}`;
  const nameWidth = nameColumn(result.readPoints.map(({ name }) => name));
  const findings = [...result.findings].sort((a, b) => byState(a.state, b.state));
  const lines = findings.map((finding) => findingLines(finding, result, nameWidth));
  const bare = result.readPoints.flatMap((readPoint) =>
    readPoint.remarks.map((remark) => `  ${readPoint.name}: ${remarkSentence(remark, result.rounds)}`),
  );
  const promises = wrap(
    [
      ...(hangsOnRule(result) ? [stricterCount(result), correlationSentence(result)] : []),
      unseenSummary(result),
    ]
      .filter((sentence) => sentence !== "")
      .join(" "),
  );
  return [title, ...lines, ...bare, verdictSentence(result), ...promises]
    .map((line) => `${plain(line)}\n`)
    .join("");
}

/** The evidence, what would settle it, and under it what was asked. */
function findingLines(finding: Finding, result: Result, nameWidth: number): string {
  const names = namesOf(result);
  const settle = settleSentence(finding);
  const concession =
    finding.concession === null || finding.state === "met" ? "" : concessionSentence(finding.concession);
  const name = names.readPoint(finding.readPoint);
  const head = `  ${stateWord(finding.state).padEnd(stateWidth)}  `;
  const asked = [names.criterion(finding.criterion), names.group(finding.group)]
    .filter((part) => part !== "")
    .join(". ");
  const stricter = sentenceStart(stricterNote(finding));
  const text = [
    findingSentence(finding, criterionOf(result, finding.criterion)),
    settle,
    stricter === "" ? "" : `${stricter}.`,
  ].join(" ");
  return entryLines({ head, name, text, below: [asked, concession] }, nameWidth).join("\n");
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
