import type { Problem } from "../../model/problem.ts";

/** Where a problem is: `passes/as-left.csv:12:5`, as far as it can be pinned down. */
export function problemPlace(problem: Problem): string {
  const place = [problem.file, problem.line, problem.column].filter((part) => part !== null).join(":");
  return place === "" ? "the facility" : place;
}

/** A problem as a sentence: what was found, what was expected, what to do. */
export function problemSentence(problem: Problem): string {
  const stop = (text: string) => (/[.!?]$/.test(text) ? text : `${text}.`);
  return `Found ${problem.found}; expected ${stop(problem.expected)} ${stop(problem.advice)}`;
}
