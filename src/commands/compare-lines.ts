import type { Comparison } from "../analysis/comparison/comparison.ts";
import type { Result } from "../analysis/result.ts";
import type { Round } from "../intake/facility.ts";
import { comparisonsOf, type RoundPair, roundPairs } from "../pages/changes/round-pairs.ts";
import {
  changeOrder,
  changeWords,
  comparisonReasonSentence,
  comparisonSentence,
  exploratorySentence,
} from "../pages/words/comparison-sentence.ts";
import { dateOrWords } from "../pages/words/dates.ts";
import { plain, wrap } from "./lines.ts";

const wordWidth = Math.max(...Object.values(changeWords).map((word) => word.length));
/** Names longer than this push their own line's text along, not everybody's. */
const widestName = 28;
const widestLine = 110;

/** One facility's rounds side by side: for each pair what was changed, then each read point, what got worse first. */
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
    const own = comparisonsOf(pair, result);
    lines.push(...wrap(pairTitle(result.rounds, pair), widestLine));
    for (const change of changeOrder) {
      const whole = own.filter((one) => one.group === null && one.change === change);
      for (const one of whole) {
        const exploratory = own.filter((row) => row.exploratory && row.readPoint === one.readPoint);
        lines.push(...readPointLines(one, exploratory, result));
      }
    }
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

function readPointLines(one: Comparison, exploratory: Comparison[], result: Result): string[] {
  const names = result.readPoints.map((readPoint) => plain(readPoint.name).length);
  const nameWidth = Math.min(widestName, Math.max(0, ...names));
  const name = plain(
    result.readPoints.find((readPoint) => readPoint.id === one.readPoint)?.name ?? one.readPoint,
  ).padEnd(nameWidth);
  const head = `  ${changeWords[one.change].padEnd(wordWidth)}  `;
  const width = widestLine - head.length;
  const sentence = comparisonSentence(one, result.basis.smallestChangeThatMatters);
  const reasons = one.reasons.map((reason) =>
    comparisonReasonSentence(reason, result.rounds, result.conditions),
  );
  const [first, ...rest] = wrap(sentence, width, name.length + 2);
  const below = [exploratorySentence(exploratory, result.conditions), ...reasons]
    .filter((text) => text !== "")
    .flatMap((text) => wrap(text, width));
  return [`${head}${name}  ${first}`, ...[...rest, ...below].map((line) => " ".repeat(head.length) + line)];
}
