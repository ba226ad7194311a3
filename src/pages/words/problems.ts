import { counted } from "../../model/number-words.ts";
import type { Cause, Problem } from "../../model/problem.ts";

/** Where a problem is: `passes/as-left.csv:12:5`, as far as it can be pinned down. */
export function problemPlace(problem: Problem): string {
  const place = [problem.file, problem.line, problem.column].filter((part) => part !== null).join(":");
  return place === "" ? "the facility" : place;
}

/** A problem as a sentence: what was found, what was expected, what to do. An answer comes before what else would do. */
export function problemSentence({ found, expected, advice }: Problem): string {
  const stop = (text: string) => (/[.!?]$/.test(text) ? text : `${text}.`);
  return advice.startsWith("Did you mean")
    ? `Found ${stop(found)} ${stop(advice)} Expected ${stop(expected)}`
    : `Found ${found}; expected ${stop(expected)} ${stop(advice)}`;
}

const mostPlaces = 3;

interface CausePlaces {
  /** The first few, with what was found there where that differs from the first. */
  places: { problem: Problem; found: string }[];
  /** How many more there are, and in how many files; empty where all are shown. */
  more: string;
}

/** Where a cause shows. */
export function causePlaces({ problems, count }: Cause): CausePlaces {
  const shown = problems.slice(0, mostPlaces);
  const places = shown.map((problem, i) => ({
    problem,
    found: i > 0 && problem.found !== problems[0]!.found ? problem.found : "",
  }));
  const files = new Set(problems.map(({ file }) => file)).size;
  const hidden = count - shown.length;
  if (hidden === 0) return { places, more: "" };
  return {
    places,
    more: `${counted(hidden, "more", "more")}${files > 1 ? `, in ${files} files in all` : ""}`,
  };
}
