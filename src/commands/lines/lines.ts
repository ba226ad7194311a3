import { join } from "node:path";
import { counted } from "../../model/number-words.ts";
import { type Cause, causesOf, type Problem } from "../../model/problem.ts";
import { causePlaces, placeIn, problemSentence } from "../../pages/words/problems.ts";
import type { Source, Terminal } from "./terminal.ts";

/** Columns of text in the terminal. */
export const widestLine = 110;

/** Breaks a text into lines at ordinary spaces, the first one shorter; figures and their units stay together. */
export function wrap(text: string, width = widestLine, taken = 0): string[] {
  const lines: string[] = [];
  let line = "";
  for (const word of plain(text)
    .split(" ")
    .filter((part) => part !== "")) {
    const room = lines.length === 0 ? width - taken : width;
    if (line !== "" && line.length + 1 + word.length > room) {
      lines.push(line);
      line = word;
    } else line = line === "" ? word : `${line} ${word}`;
  }
  return line === "" ? lines : [...lines, line];
}

/** Names longer than this stand on a line of their own, so that what is said of them keeps its column. */
const widestName = 28;

/** How wide the column of names is. */
export function nameColumn(names: string[]): number {
  return Math.min(widestName, Math.max(0, ...names.map((name) => plain(name).length)));
}

/** One entry of a list: its word, whom it is about, what is said of it, and under that what else belongs to it. */
export function entryLines(
  entry: { head: string; name: string; text: string; below: string[] },
  nameWidth: number,
  width = widestLine,
): string[] {
  const { head } = entry;
  const room = width - head.length;
  const name = plain(entry.name);
  const below = entry.below.flatMap((text) => wrap(text, room));
  const [first, ...rest] =
    name.length > nameWidth
      ? [...wrap(name, room), ...wrap(entry.text, room)]
      : wrap(entry.text, room, nameWidth + 2).map((line, i) =>
          i === 0 ? `${name.padEnd(nameWidth)}  ${line}` : line,
        );
  return [`${head}${first}`, ...[...rest, ...below].map((line) => " ".repeat(head.length) + line)];
}

/** Cells under each other, all of them to the left but for the column `right`; a column of blanks takes no room. */
export function aligned(rows: readonly string[][], { right = -1 }: { right?: number } = {}): string[] {
  const widths = rows[0]?.map((_, i) => Math.max(...rows.map((row) => row[i]!.length))) ?? [];
  return rows.map((row) => {
    const cells = row.flatMap((cell, i) => {
      if (widths[i] === 0) return [];
      return [i === right ? cell.padStart(widths[i]!) : cell.padEnd(widths[i]!)];
    });
    return `  ${cells.join("  ")}`.trimEnd();
  });
}

/** Names come from the inputs: control characters in them must not steer the terminal. */
export function plain(text: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is taken out.
  return text.replace(/[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069]/g, " ");
}

/** Problems as a person reads them, a block for each cause: the place as an editor opens it, what to do, other places. */
export function problemLines(problems: Problem[], data: string): string {
  return causesOf(problems)
    .map((cause) => causeLines(cause, data))
    .join("");
}

function causeLines(cause: Cause, data: string): string {
  const first = cause.problems[0]!;
  const { places, more } = causePlaces(cause);
  const times = cause.count === 1 ? "" : `, ${counted(cause.count, "time", "times")}`;
  const others = places.slice(1).map(({ problem, found }) => `${placeOf(problem, data)}  ${found}`.trimEnd());
  const lines = [problemSentence(first), ...others, ...(more === "" ? [] : [`and ${more}`])];
  return [`${placeOf(first, data)}  ${first.severity}${times}`, ...lines.map((line) => `  ${line}`)]
    .map((line) => `${plain(line)}\n`)
    .join("");
}

function placeOf(problem: Problem, data: string): string {
  const path = join(data, problem.facility ?? "", problem.file ?? "").replaceAll("\\", "/");
  return placeIn(path, problem);
}

/** `2 errors and 1 warning, in 53 places`: a cause counts once. */
export function problemCount(problems: Problem[]): string {
  const causes = causesOf(problems);
  const of = (severity: Problem["severity"]) =>
    causes.filter((cause) => cause.problems[0]!.severity === severity).length;
  const errors = of("error");
  const warnings = of("warning");
  const parts = [
    errors > 0 ? counted(errors, "error", "errors") : "",
    warnings > 0 ? counted(warnings, "warning", "warnings") : "",
  ];
  const places = causes.reduce((sum, { count }) => sum + count, 0);
  const where = places > causes.length ? `, in ${counted(places, "place", "places")}` : "";
  return `${parts.filter((part) => part !== "").join(" and ")}${where}`;
}

/** What to say after a refusal: what came of it, and which facilities to mend or to leave out. */
export function refusalAdvice(
  problems: Problem[],
  outcome: "No verdict" | "No comparison" | "No plan" | "Nothing was written",
): string {
  const refused = new Set(
    problems.filter((problem) => problem.severity === "error").map((problem) => problem.facility),
  );
  refused.delete(null);
  const names = [...refused].join(", ");
  const mend = `${outcome}: ${problemCount(problems)}`;
  return refused.size === 0 ? `${mend}.\n` : `${mend}. Fix ${names}, or name the others with --only.\n`;
}

const patienceMs = 1000;

/** A line that says how far a long command has come: shown to somebody watching, and only past a second. */
export interface Progress {
  step(text: string): void;
  done(): void;
}

/** @param now milliseconds, from any start */
export function progressOn(terminal: Terminal, now: () => number = () => performance.now()): Progress {
  const began = now();
  let shown = false;
  return {
    step(text) {
      if (!terminal.watched || now() - began < patienceMs) return;
      shown = true;
      terminal.progress(text);
    },
    done() {
      if (shown) terminal.progress(null);
    },
  };
}

/** JSON for other programs. What a terminal would obey is written as an escape, which is the same text. */
export function jsonText(value: unknown): string {
  const escaped = (mark: string) => `\\u${mark.charCodeAt(0).toString(16).padStart(4, "0")}`;
  const text = JSON.stringify(value, null, 2).replace(/[\u007f-\u009f\u202a-\u202e\u2066-\u2069]/g, escaped);
  return `${text}\n`;
}

/** A command line to go on with, which can be copied: about the same data and facilities. */
export function nextCommand(words: string, { data, only }: Source): string {
  const source = [...(data === "data" ? [] : ["--data", data]), ...only.flatMap((id) => ["--only", id])];
  return ["Next: proofwalk", words, ...source.map(shellWord)].join(" ");
}

/** A word as a shell takes it for one. */
export function shellWord(word: string): string {
  if (/^[\w@%+=:,./-]+$/.test(word)) return word;
  return /["$`\\!]/.test(word) ? `'${word.replaceAll("'", "'\\''")}'` : `"${word}"`;
}
