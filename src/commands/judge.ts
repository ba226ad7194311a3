import type { State } from "../model/state.ts";
import { type Command, type Exit, ExitStatus } from "./command.ts";
import { jsonText, nextCommand, problemCount } from "./lines/lines.ts";

/** Prints what the evidence shows, facility by facility; nothing where an input has an error. */
export const judge: Command = {
  name: "judge",
  summary: "prints the findings of each facility",
  options: ["data", "only", "json"],
  operand: null,
  examples: [
    { words: "judge", purpose: "what the evidence shows, in the terminal" },
    { words: "judge --only north-hall", purpose: "one facility" },
    { words: "judge --json", purpose: "the whole result, unrounded, for other programs" },
  ],
  exits: { 0: "all met", 1: "something is not met", 3: "something is undecided or untested" },
  async run({ source, json }, terminal) {
    const { judgedResults } = await import("./facility-source.ts");
    const results = await judgedResults(source, "No verdict", terminal);
    if (results === null) return ExitStatus.refused;
    const { worstState } = await import("../model/state.ts");
    const { facilityLines } = await import("./lines/result-lines.ts");
    if (json) terminal.out(jsonText({ schemaVersion: 1, facilities: results }));
    else terminal.out(`${results.map(facilityLines).join("\n")}${nextCommand("build", source)}\n`);
    const warnings = results.flatMap((result) => result.problems);
    if (warnings.length > 0)
      terminal.err(`${problemCount(warnings)} on the logs: proofwalk check lists them.\n`);
    return exitOf(worstState(results.map((result) => result.state)));
  },
};

function exitOf(state: State): Exit {
  if (state === "not-met") return ExitStatus.notMet;
  return state === "met" ? ExitStatus.fine : ExitStatus.open;
}
