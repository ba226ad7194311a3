import { countedInWords, countWord, joined, sentenceStart } from "../../model/number-words.ts";
import type { Finding } from "../../model/result/finding.ts";
import type { ReadPointResult } from "../../model/result/read-point.ts";
import type { Result } from "../../model/result/result.ts";
import { type State, statesWorstFirst } from "../../model/state.ts";

/** The state as it is written: `not met`. */
export function stateWord(state: State): string {
  return state === "not-met" ? "not met" : state;
}

/**
 * The facility's verdict in one sentence, with the count of every state.
 *
 * `Of six read points three meet their criteria, one does not, one is undecided and one untested.`
 */
export function verdictSentence(result: Pick<Result, "readPoints" | "criteria">): string {
  const total = result.readPoints.length;
  if (total === 0) return "No read point is declared, so nothing was judged.";
  if (result.criteria.length === 0) return "No criterion is stated, so nothing was judged.";
  const count = (state: State) => result.readPoints.filter((point) => point.state === state).length;
  if (total === 1) return onlyOne(result.readPoints[0]?.state ?? "untested");
  if (count("met") === total) return `${every(total)} meet their criteria.`;
  if (count("not-met") === total)
    return `${total === 2 ? "Neither read point" : `None of the ${countWord(total)} read points`} meets its criteria.`;
  if (count("untested") === total) return `${every(total)} are untested.`;
  if (count("undecided") === total) return `${every(total)} are undecided.`;
  return `Of ${countWord(total)} read points ${joined(countedStates(count))}.`;
}

/** `three meet their criteria`, `one does not`, `one is undecided`, `one untested`: a verb is not said twice. */
function countedStates(count: (state: State) => number): string[] {
  const [met, notMet] = [count("met"), count("not-met")];
  const many = (number: number, one: string, several: string) =>
    number === 0 ? [] : [`${countWord(number)} ${number === 1 ? one : several}`];
  const whole = met === 0;
  const [undecided, untested] = [count("undecided"), count("untested")];
  const sameVerb = undecided > 0 && (undecided === 1) === (untested === 1);
  return [
    ...many(met, "meets its criteria", "meet their criteria"),
    ...many(
      notMet,
      whole ? "does not meet its criteria" : "does not",
      whole ? "do not meet their criteria" : "do not",
    ),
    ...many(undecided, "is undecided", "are undecided"),
    ...(sameVerb ? many(untested, "untested", "untested") : many(untested, "is untested", "are untested")),
  ];
}

/** `Both read points`, `All six read points`. */
function every(total: number): string {
  return total === 2 ? "Both read points" : `All ${countWord(total)} read points`;
}

function onlyOne(state: State): string {
  switch (state) {
    case "met":
      return "The read point meets its criteria.";
    case "not-met":
      return "The read point does not meet its criteria.";
    case "undecided":
      return "The read point is undecided.";
    case "untested":
      return "The read point is untested.";
  }
}

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
