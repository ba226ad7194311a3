import { join } from "node:path";
import type { Problem } from "../intake/problem.ts";
import { readFacilityFolder } from "../intake/read-facility-folder.ts";
import { counted } from "../pages/words/numbers.ts";
import { facilityIds, InputRefused, type Source } from "./facility-source.ts";
import { problemCount, problemLines } from "./problem-lines.ts";
import { progressOn } from "./progress.ts";
import { type Exit, ExitStatus, type Terminal } from "./terminal.ts";

/** Reads the inputs and lists every problem; judges nothing. */
export async function check(source: Source, json: boolean, terminal: Terminal): Promise<Exit> {
  const progress = progressOn(terminal);
  const problems: Problem[] = [];
  const tally = { facilities: 0, files: 0, rows: 0 };
  try {
    for (const id of await facilityIds(source)) {
      progress.step(`Reading ${id}`);
      const read = await readFacilityFolder(join(source.data, id));
      problems.push(...read.problems);
      tally.facilities += 1;
      for (const file of read.input?.inputs ?? []) {
        tally.files += 1;
        tally.rows += file.rows ?? 0;
      }
    }
  } catch (refusal) {
    if (!(refusal instanceof InputRefused)) throw refusal;
    problems.push(...refusal.problems);
  } finally {
    progress.done();
  }
  if (json) terminal.out(`${JSON.stringify({ schemaVersion: 1, problems }, null, 2)}\n`);
  else terminal.out(`${problemLines(problems, source.data)}${summary(problems, tally)}\n`);
  return problems.some((problem) => problem.severity === "error") ? ExitStatus.refused : ExitStatus.fine;
}

function summary(problems: Problem[], tally: { facilities: number; files: number; rows: number }): string {
  if (problems.some((problem) => problem.severity === "error")) {
    return `${problemCount(problems)}. No verdict until the errors are mended.`;
  }
  const facilities = counted(tally.facilities, "facility", "facilities");
  const read = `${facilities}, ${counted(tally.files, "file", "files")}, ${counted(tally.rows, "row", "rows")} read`;
  return problems.length === 0
    ? `${read}: nothing to remark on. Next: proofwalk judge`
    : `${read}: ${problemCount(problems)}, none of which forbids a verdict. Next: proofwalk judge`;
}
