import { join } from "node:path";
import { counted } from "../model/number-words.ts";
import type { Problem } from "../model/problem.ts";
import { problemSentence } from "../pages/words/problem-sentence.ts";

/** Problems as a person reads them: the place as an editor opens it, then what to do. */
export function problemLines(problems: Problem[], data: string): string {
  return problems
    .map((problem) => `${placeOf(problem, data)}  ${problem.severity}\n  ${problemSentence(problem)}\n`)
    .join("");
}

function placeOf(problem: Problem, data: string): string {
  const path = join(data, problem.facility ?? "", problem.file ?? "").replaceAll("\\", "/");
  return [path, problem.line, problem.column].filter((part) => part !== null).join(":");
}

/** `2 errors and 1 warning`. */
export function problemCount(problems: Problem[]): string {
  const of = (severity: Problem["severity"]) =>
    problems.filter((problem) => problem.severity === severity).length;
  const errors = of("error");
  const warnings = of("warning");
  const parts = [
    errors > 0 ? counted(errors, "error", "errors") : "",
    warnings > 0 ? counted(warnings, "warning", "warnings") : "",
  ];
  return parts.filter((part) => part !== "").join(" and ");
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
  return refused.size === 0 ? `${mend}.\n` : `${mend}. Mend ${names}, or name the others with --only.\n`;
}
