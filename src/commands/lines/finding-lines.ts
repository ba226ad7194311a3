import { nonEmpty } from "../../model/number-words.ts";
import type { Finding } from "../../model/result/finding.ts";
import { findingParts } from "../../pages/words/findings.ts";
import { stateWord } from "../../pages/words/verdicts.ts";
import { aligned, widestLine, wrap } from "./text.ts";

const stateWidth = "undecided".length;
const figureCell = 3;

/** A finding as cells: its state, where it belongs, what was counted, the figure, its interval, the limit. */
export function findingCells(finding: Finding, where: string): string[] {
  const { count, figure, interval, limit } = findingParts(finding);
  const bounds = interval === "" ? "" : `(${interval})`;
  return [stateWord(finding.state).padEnd(stateWidth), where, count, figure, bounds, limit];
}

/** Findings under each other, each with what else is said of it set in below. */
export function findingLines(findings: readonly { cells: string[]; below: string[] }[]): string[] {
  const rows = aligned(
    findings.map(({ cells }) => cells),
    { right: figureCell },
  );
  const indent = " ".repeat(stateWidth + 4);
  return findings.flatMap(({ below }, i) => [
    rows[i]!,
    ...nonEmpty(below)
      .flatMap((text) => wrap(text, widestLine - indent.length))
      .map((line) => indent + line),
  ]);
}
