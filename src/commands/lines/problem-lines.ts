import { join } from "node:path";
import { counted, nonEmpty } from "../../model/number-words.ts";
import { type Cause, causesOf, type Problem } from "../../model/problem.ts";
import { causePlaces, placeIn, problemSentence } from "../../pages/words/problems.ts";
import { plain } from "./text.ts";

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
  return `${nonEmpty(parts).join(" and ")}${where}`;
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
