import { join } from "node:path";
import { judgeFacility } from "../analysis/judge.ts";
import type { Result } from "../analysis/result.ts";
import { listFacilities } from "../intake/data-folder.ts";
import type { Problem } from "../intake/problem.ts";
import { readFacilityFolder } from "../intake/read-facility-folder.ts";
import { toolVersion } from "../site/package-folders.ts";
import type { Progress } from "./progress.ts";

/** Which facilities a command is about. */
export interface Source {
  data: string;
  /** Ids; empty means all. */
  only: string[];
}

/** At least one input has an error, so no verdict may be given; carries every problem found, warnings too. */
export class InputRefused extends Error {
  readonly problems: Problem[];
  constructor(problems: Problem[]) {
    super("The inputs have errors.");
    this.problems = problems;
  }
}

/** The ids of the facilities asked for; throws InputRefused where the data folder is not as it should be. */
export async function facilityIds(source: Source): Promise<string[]> {
  const { ids, problems } = await listFacilities(source.data, source.only);
  if (problems.some((problem) => problem.severity === "error")) throw new InputRefused(problems);
  return ids;
}

/**
 * Judges the facilities one after the other. After the first that has an error nothing more is judged, but the rest are
 * still read, so that InputRefused, thrown at the end, holds every problem there is.
 */
export async function* judgeAll(source: Source, progress: Progress): AsyncGenerator<Result> {
  const ids = await facilityIds(source);
  const problems: Problem[] = [];
  let refused = false;
  for (const [index, id] of ids.entries()) {
    progress.step(`Reading ${id}, ${index + 1} of ${ids.length}`);
    const read = await readFacilityFolder(join(source.data, id));
    problems.push(...read.problems);
    if (read.input === null) refused = true;
    if (read.input !== null && !refused) yield judgeFacility(read.input, toolVersion);
  }
  if (refused) throw new InputRefused(problems);
}
