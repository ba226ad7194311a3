import type { State } from "../model/state.ts";
import { type Command, type Exit, ExitStatus } from "./command.ts";
import { nextCommand } from "./lines/next-command.ts";
import { problemCount, problemLines } from "./lines/problem-lines.ts";
import { jsonText } from "./lines/text.ts";

/** Prints what the evidence shows, facility by facility; nothing where an input has an error. */
export const judge: Command = {
  name: "judge",
  summary: "prints the findings of each facility and journey",
  options: ["data", "only", "json", "junit"],
  operand: null,
  examples: [
    { words: "judge", purpose: "what the evidence shows, in the terminal" },
    { words: "judge --only north-hall", purpose: "one facility" },
    { words: "judge --json", purpose: "the whole result, unrounded, for other programs" },
    { words: "judge --junit findings.xml", purpose: "the findings as tests, for a build server" },
  ],
  exits: { 0: "all met", 1: "something is not met", 3: "something is undecided or untested" },
  async run({ source, json, junit }, terminal) {
    const { judgedResults } = await import("./data/judge-all.ts");
    const { refuseFile, writeWhole } = await import("./junit/write-whole.ts");
    const refused = (refusal: string) => {
      terminal.err(`${refusal}\nNothing was written.\n`);
      return ExitStatus.refused;
    };
    const unfit = junit === null ? null : refuseFile(junit, source.data);
    if (unfit !== null) return refused(unfit);
    const judged = await judgedResults(source, "No verdict", terminal);
    if (judged === null) return ExitStatus.refused;
    const { facilities, journeys, remarks } = judged;
    if (junit !== null) {
      const { junitText } = await import("./junit/junit-text.ts");
      const fault = writeWhole(junit, junitText(facilities, journeys));
      if (fault !== null) return refused(fault);
    }
    const { worstState } = await import("../model/state.ts");
    if (json) terminal.out(jsonText({ schemaVersion: 1, facilities, journeys }));
    else {
      const { facilityLines } = await import("./lines/result-lines.ts");
      const { journeyLines } = await import("./lines/journey-lines.ts");
      const blocks = [...facilities.map(facilityLines), ...journeys.map(journeyLines)];
      terminal.out(`${blocks.join("\n")}${nextCommand("build", source)}\n`);
    }
    const results = [...facilities, ...journeys];
    if (remarks.length > 0) terminal.err(problemLines(remarks, source.data));
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
