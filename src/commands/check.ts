import { join } from "node:path";
import { counted } from "../model/number-words.ts";
import type { FacilityInput } from "../model/pass-log.ts";
import type { Problem } from "../model/problem.ts";
import { type Command, ExitStatus } from "./command.ts";
import { nextCommand } from "./lines/next-command.ts";
import { problemCount, problemLines } from "./lines/problem-lines.ts";
import { type Progress, progressOn } from "./lines/terminal.ts";
import { jsonText } from "./lines/text.ts";

/** Reads the inputs and lists every problem; judges nothing. */
export const check: Command = {
  name: "check",
  summary: "reads the inputs and lists every problem",
  options: ["data", "only", "json"],
  operand: null,
  examples: [
    { words: "check", purpose: "list every problem in data/, with file, line and column" },
    { words: "check --data clients --only north-hall", purpose: "one facility of another folder" },
    { words: "check --json", purpose: "every problem one by one, for other programs" },
  ],
  exits: { 0: "no error; warnings do not count" },
  async run({ source, json }, terminal) {
    const { readAll } = await import("./data/read-all.ts");
    const progress = progressOn(terminal);
    const problems: Problem[] = [];
    const tally = { facilities: 0, journeys: 0, files: 0, rows: 0 };
    for await (const read of readAll(source, progress)) {
      problems.push(...read.problems);
      if (read.input === null) continue;
      if (read.kind === "journey") tally.journeys += 1;
      else {
        tally.facilities += 1;
        problems.push(...(await damagedIn(read.input, source.data, progress)));
      }
      tally.files += read.input.inputs.length;
      tally.rows += read.input.inputs.reduce((sum, file) => sum + (file.rows ?? 0), 0);
    }
    progress.done();
    if (json) terminal.out(jsonText({ schemaVersion: 1, problems }));
    else
      terminal.out(
        `${problemLines(problems, source.data)}${summaryLine(problems, tally, nextCommand("judge", source))}\n`,
      );
    return problems.some((problem) => problem.severity === "error") ? ExitStatus.refused : ExitStatus.fine;
  },
};

/** The decoders are loaded only where there are pictures. */
async function damagedIn(
  { facility: { id }, inputs }: FacilityInput,
  data: string,
  progress: Progress,
): Promise<Problem[]> {
  if (!inputs.some(({ picture }) => picture !== undefined)) return [];
  const { damagedPictures } = await import("../site/pictures/damaged.ts");
  return damagedPictures(inputs, {
    facility: id,
    folder: join(data, id),
    onFile: (path) => progress.step(`Looking at ${path}`),
  });
}

function summaryLine(
  problems: Problem[],
  tally: { facilities: number; journeys: number; files: number; rows: number },
  next: string,
): string {
  if (problems.some((problem) => problem.severity === "error")) {
    return `${problemCount(problems)}. No verdict until the errors are fixed.`;
  }
  const facilities = counted(tally.facilities, "facility", "facilities");
  const journeys = tally.journeys === 0 ? "" : `, ${counted(tally.journeys, "journey", "journeys")}`;
  const read = `${facilities}${journeys}, ${counted(tally.files, "file", "files")}, ${counted(tally.rows, "row", "rows")} read`;
  return problems.length === 0
    ? `${read}: no problems. ${next}`
    : `${read}: ${problemCount(problems)}, no errors. ${next}`;
}
