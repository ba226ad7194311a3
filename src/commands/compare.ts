import type { Result } from "../analysis/result.ts";
import { standsAfterAll } from "../pages/words/comparison-sentence.ts";
import { compareLines } from "./compare-lines.ts";
import { InputRefused, judgeAll, type Source } from "./facility-source.ts";
import { problemLines, refusalAdvice } from "./problem-lines.ts";
import { progressOn } from "./progress.ts";
import { type Exit, ExitStatus, type Terminal } from "./terminal.ts";

/**
 * Prints what changed from round to round, facility by facility; nothing where an input has an error. A condition that
 * got worse counts as worse only where that stands after every look is allowed for: with dozens of looks, some always
 * seem to.
 */
export async function compare(source: Source, json: boolean, terminal: Terminal): Promise<Exit> {
  const progress = progressOn(terminal);
  const results: Result[] = [];
  try {
    for await (const result of judgeAll(source, progress)) results.push(result);
  } catch (refusal) {
    if (!(refusal instanceof InputRefused)) throw refusal;
    terminal.err(problemLines(refusal.problems, source.data));
    terminal.err(refusalAdvice(refusal.problems, "No comparison"));
    return ExitStatus.refused;
  } finally {
    progress.done();
  }
  if (json) {
    const facilities = results.map(({ facility: { id, name }, comparisons }) => ({
      facility: { id, name },
      comparisons,
    }));
    terminal.out(`${JSON.stringify({ schemaVersion: 1, facilities }, null, 2)}\n`);
  } else terminal.out(results.map(compareLines).join("\n"));
  const worse = results.some(({ comparisons }) =>
    comparisons.some((one) => one.change === "worse" && standsAfterAll(one)),
  );
  return worse ? ExitStatus.notMet : ExitStatus.fine;
}
