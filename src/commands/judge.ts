import { worstState } from "../analysis/state.ts";
import type { State } from "../model/result.ts";
import { facilityLines } from "./facility-lines.ts";
import type { Source } from "./facility-source.ts";
import { judgedResults } from "./judged-results.ts";
import { problemCount } from "./problem-lines.ts";
import { type Exit, ExitStatus, type Terminal } from "./terminal.ts";

/** Prints what the evidence shows, facility by facility; nothing where an input has an error. */
export async function judge(source: Source, json: boolean, terminal: Terminal): Promise<Exit> {
  const results = await judgedResults(source, "No verdict", terminal);
  if (results === null) return ExitStatus.refused;
  if (json) terminal.out(`${JSON.stringify({ schemaVersion: 1, facilities: results }, null, 2)}\n`);
  else terminal.out(results.map(facilityLines).join("\n"));
  const warnings = results.flatMap((result) => result.problems);
  if (!json) terminal.out("Next: proofwalk build\n");
  if (warnings.length > 0)
    terminal.err(`${problemCount(warnings)} on the logs: proofwalk check lists them.\n`);
  return exitOf(worstState(results.map((result) => result.state)));
}

function exitOf(state: State): Exit {
  if (state === "not-met") return ExitStatus.notMet;
  return state === "met" ? ExitStatus.fine : ExitStatus.open;
}
