import type { Result } from "../model/result.ts";
import { InputRefused, judgeAll, type Source } from "./facility-source.ts";
import { problemLines, refusalAdvice } from "./problem-lines.ts";
import { progressOn } from "./progress.ts";
import type { Terminal } from "./terminal.ts";

/** The facilities, judged; null where an input has an error, once every problem is told and what came of it. */
export async function judgedResults(
  source: Source,
  outcome: Parameters<typeof refusalAdvice>[1],
  terminal: Terminal,
): Promise<Result[] | null> {
  const progress = progressOn(terminal);
  const results: Result[] = [];
  try {
    for await (const result of judgeAll(source, progress)) results.push(result);
  } catch (refusal) {
    progress.done();
    if (!(refusal instanceof InputRefused)) throw refusal;
    terminal.err(problemLines(refusal.problems, source.data));
    terminal.err(refusalAdvice(refusal.problems, outcome));
    return null;
  }
  progress.done();
  return results;
}
