import { join } from "node:path";
import { judgeFacility } from "../analysis/judge.ts";
import { listFacilities } from "../intake/data-folder.ts";
import { readFacilityFolder } from "../intake/read-facility-folder.ts";
import type { FacilityInput } from "../model/pass-log.ts";
import type { Problem } from "../model/problem.ts";
import type { Result } from "../model/result.ts";
import { toolVersion } from "../site/package-folders.ts";
import type { Source, Terminal } from "./command.ts";
import { type Progress, problemLines, progressOn, refusalAdvice } from "./lines/lines.ts";

/** At least one input has an error, so no verdict may be given; carries every problem found, warnings too. */
export class InputRefused extends Error {
  readonly problems: Problem[];
  constructor(problems: Problem[]) {
    super("The inputs have errors.");
    this.problems = problems;
  }
}

/** What was read of one facility; `input` is null where something is wrong with it, or with the data folder itself. */
export interface FacilityRead {
  input: FacilityInput | null;
  problems: Problem[];
}

/**
 * Reads the facilities, the sound and the unsound, so that every problem is found at once. They come in their order, and
 * the next one is read meanwhile: while one waits for the database the other goes on.
 */
export async function* readAll(source: Source, progress: Progress): AsyncGenerator<FacilityRead> {
  const { ids, problems } = await listFacilities(source.data, source.only);
  if (problems.length > 0) yield { input: null, problems };
  const start = (index: number): Promise<FacilityRead> | null => {
    const id = ids[index];
    if (id === undefined) return null;
    progress.step(`Reading ${id}, ${index + 1} of ${ids.length}`);
    const reading = readFacilityFolder(join(source.data, id));
    // A fault is thrown where its facility's turn comes; until then it is not unhandled.
    reading.catch(() => {});
    return reading;
  };
  let current = start(0);
  for (let index = 1; current !== null; index += 1) {
    const next = start(index);
    yield await current;
    current = next;
  }
}

/**
 * Judges the facilities one after the other. After the first that has an error nothing more is judged, but the rest are
 * still read, so that InputRefused, thrown at the end, holds every problem there is.
 */
export async function* judgeAll(source: Source, progress: Progress): AsyncGenerator<Result> {
  const problems: Problem[] = [];
  let refused = false;
  for await (const read of readAll(source, progress)) {
    problems.push(...read.problems);
    if (read.input === null) refused = true;
    else if (!refused) yield judgeFacility(read.input, toolVersion);
  }
  if (refused) throw new InputRefused(problems);
}

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
