import type { Round } from "../model/facility.ts";
import type { Result } from "../model/result.ts";
import { namedChanges, type ReadPointChange, rankedChanges } from "../pages/changes/ranked-changes.ts";
import { type RoundPair, roundPairs } from "../pages/changes/round-pairs.ts";
import { changesSentence } from "../pages/words/changes-sentence.ts";
import {
  changeWords,
  comparisonReasonSentence,
  comparisonSentence,
  exploratorySentence,
} from "../pages/words/comparison-sentence.ts";
import { dateOrWords } from "../pages/words/dates.ts";
import { entryLines, nameColumn, plain, wrap } from "./lines.ts";

const wordWidth = Math.max(...Object.values(changeWords).map((word) => word.length));
const widestLine = 110;

/** One facility's rounds compared: for each pair what was changed and what came of it, then each read point, worst first. */
export function compareLines(result: Result): string {
  const lines = [`${result.facility.name}: before and after`];
  if (result.comparisons.length === 0) {
    lines.push(
      result.rounds.length < 2
        ? "  There is one round only: nothing to compare."
        : "  There is no read point to compare.",
    );
  }
  for (const pair of roundPairs(result)) {
    const changes = rankedChanges(pair, result);
    lines.push(...wrap(pairTitle(result.rounds, pair), widestLine));
    lines.push(...wrap(changesSentence(namedChanges(changes)), widestLine));
    for (const change of changes) lines.push(...readPointLines(change, result));
  }
  return lines.map((line) => `${plain(line)}\n`).join("");
}

/** `As found, 18 May 2026, to As left, 21 May 2026. Changed: Antenna 3 lowered by 0.4 m.` */
function pairTitle(rounds: Round[], { before, after }: RoundPair): string {
  const placeOf = (id: string) => rounds.findIndex((round) => round.id === id);
  const name = (id: string) => {
    const round = rounds[placeOf(id)];
    const date = dateOrWords(round?.date ?? null, "");
    return `${round?.title ?? id}${date === "" ? "" : ` (${date})`}`;
  };
  const changes = rounds
    .slice(placeOf(before) + 1, placeOf(after) + 1)
    .map((round) => round.changes?.trim().replace(/\.$/, "") ?? "")
    .filter((text) => text !== "");
  const changed = changes.length === 0 ? "" : ` Changed: ${changes.join("; ")}.`;
  return `${name(before)} to ${name(after)}.${changed}`;
}

function readPointLines({ readPoint, whole, byCondition }: ReadPointChange, result: Result): string[] {
  const head = `  ${changeWords[whole.change].padEnd(wordWidth)}  `;
  const text = comparisonSentence(whole, result.basis.smallestChangeThatMatters);
  const reasons = whole.reasons.map((reason) =>
    comparisonReasonSentence(reason, result.rounds, result.conditions),
  );
  const below = [exploratorySentence(byCondition, result.conditions), ...reasons].filter(
    (line) => line !== "",
  );
  const nameWidth = nameColumn(result.readPoints.map(({ name }) => name));
  return entryLines({ head, name: readPoint.name, text, below }, nameWidth, widestLine);
}
