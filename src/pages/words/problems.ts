import { counted } from "../../model/number-words.ts";
import type { Cause, Problem } from "../../model/problem.ts";

/** Where a problem is: `passes/as-left.csv:12:5`, as far as it can be pinned down. */
export function problemPlace(problem: Problem): string {
  const place = placeIn(problem.file ?? "", problem);
  return place === "" ? "the facility" : place;
}

/** A place as an editor opens it, `a.csv:12:5`; in a workbook as a spreadsheet shows it, `a.xlsx, sheet Dock 1, cell E12`. */
export function placeIn(path: string, { sheet, line, column }: Problem): string {
  if (sheet === undefined)
    return [path, line, column].filter((part) => part !== null && part !== "").join(":");
  const cell = line === null ? [] : [`cell ${columnLetters(column ?? 1)}${line}`];
  return [path, `sheet ${sheet}`, ...cell].join(", ");
}

/** 1 is A, 26 is Z, 27 is AA. */
function columnLetters(column: number): string {
  const rest = (column - 1) % 26;
  const before = (column - 1 - rest) / 26;
  return `${before > 0 ? columnLetters(before) : ""}${String.fromCharCode(65 + rest)}`;
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
