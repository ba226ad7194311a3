import { countedInWords, countWord, joined, sentenceStart } from "../../model/number-words.ts";
import type { Finding, ReadPointResult } from "../../model/result.ts";
import { statesWorstFirst } from "../../model/state.ts";
import { stateWord } from "./states.ts";

/** `Dock door 2 does not meet its criteria.` */
export function readPointSentence(readPoint: Pick<ReadPointResult, "name" | "state">): string {
  switch (readPoint.state) {
    case "met":
      return `${readPoint.name} meets its criteria.`;
    case "not-met":
      return `${readPoint.name} does not meet its criteria.`;
    case "undecided":
      return `${readPoint.name} is undecided.`;
    case "untested":
      return `${readPoint.name} is untested.`;
  }
}

/** `Of four findings, one is not met, one is undecided and two are met.` */
export function findingsSentence(findings: Pick<Finding, "state">[]): string {
  const total = findings.length;
  if (total === 0) return "Nothing was judged here.";
  const count = (state: Finding["state"]) => findings.filter((finding) => finding.state === state).length;
  const present = statesWorstFirst.filter((state) => count(state) > 0);
  const first = present[0];
  if (first !== undefined && present.length === 1) {
    if (total === 1) return `Its one finding is ${stateWord(first)}.`;
    if (total === 2) return `Both findings are ${stateWord(first)}.`;
    return `All ${countWord(total)} findings are ${stateWord(first)}.`;
  }
  const parts = present.map(
    (state) => `${countWord(count(state))} ${count(state) === 1 ? "is" : "are"} ${stateWord(state)}`,
  );
  return sentenceStart(`of ${countedInWords(total, "finding", "findings")}, ${joined(parts)}.`);
}
