import type { Journey } from "../model/journey/journey.ts";
import type { JourneyResult } from "../model/journey/journey-result.ts";
import { counted } from "../model/number-words.ts";
import type { Problem } from "../model/problem.ts";
import type { Result } from "../model/result/result.ts";
import { type InputChoice, inputChoice, inputsLeftOut, type JourneyLeg } from "../pages/parts/archive.ts";
import { inDataFolder } from "../site/copy-inputs.ts";
import { liesIn, OutputRefused, realPath } from "../site/output/output-place.ts";
import type { SiteSummary } from "../site/write-site.ts";
import { type Command, type Exit, ExitStatus, type Words } from "./command.ts";
import { problemCount, problemLines, refusalAdvice } from "./lines/problem-lines.ts";
import { progressOn, type Terminal } from "./lines/terminal.ts";
import { plain } from "./lines/text.ts";

/** Writes the site, all of it or nothing. */
export const build: Command = {
  name: "build",
  summary: "writes the site, all of it or nothing",
  options: ["data", "out", "only", "inputs"],
  operand: null,
  examples: [
    { words: "build", purpose: "write the site; open site/index.html" },
    { words: "build --only my-facility --out stick/site", purpose: "the site of one facility, elsewhere" },
  ],
  exits: { 0: "the site was written, whatever the verdict" },
  run: buildSite,
};

export async function buildSite(
  { source, out, inputs }: Pick<Words, "source" | "out" | "inputs">,
  terminal: Terminal,
): Promise<Exit> {
  const { InputRefused, judgeAll } = await import("./data/judge-all.ts");
  const { writeSite } = await import("../site/write-site.ts");
  const progress = progressOn(terminal);
  const warnings: Problem[] = [];
  try {
    refuseInDataFolder(out, source.data);
    const legs: JourneyLeg[] = [];
    const journeys: JourneyResult[] = [];
    const leftOut: Problem[] = [];
    const results = judgeAll(source, progress, {
      onStart: (started) => legs.push(...started.flatMap(legsOf)),
      onJourney: (journey) => journeys.push(journey),
      onRemark: (problems) => leftOut.push(...problems),
    });
    const remarks: string[] = [];
    const summary = await writeSite(results, out, {
      inputsOf: inDataFolder(source.data),
      inputs,
      onFacility: (result) => {
        warnings.push(...result.problems);
        remarks.push(...inputsRemark(result, inputs));
        progress.step(`Writing ${result.facility.id}`);
      },
      journeys: {
        legs,
        results: () => journeys,
        inputsFrom: source.data,
        onJourney: (result) => {
          warnings.push(...result.problems);
          progress.step(`Writing ${result.id}`);
        },
      },
    });
    progress.done();
    if (leftOut.length > 0) terminal.err(problemLines(leftOut, source.data));
    terminal.out(summaryLine(summary, journeys.length, out));
    for (const remark of remarks) terminal.err(`${remark}\n`);
    if (warnings.length > 0)
      terminal.err(`${problemCount(warnings)} on the logs: the inputs pages list them.\n`);
    return ExitStatus.fine;
  } catch (refusal) {
    progress.done();
    if (refusal instanceof InputRefused) {
      terminal.err(problemLines(refusal.problems, source.data));
      terminal.err(refusalAdvice(refusal.problems, "Nothing was written"));
      return ExitStatus.refused;
    }
    if (refusal instanceof OutputRefused) {
      terminal.err(`${plain(refusal.message)}\nNothing was written.\n`);
      return ExitStatus.refused;
    }
    throw refusal;
  }
}

/** The legs of a journey, for the pages of their read points to lead to. */
function legsOf({ id: journey, title, legs }: Journey): JourneyLeg[] {
  return legs.map(({ id: leg, facility, readPoint }) => ({ journey, title, leg, facility, readPoint }));
}

/** What the site lacks of the evidence without anybody having asked for it. */
function inputsRemark(result: Result, asked: InputChoice | null): string[] {
  const missing = inputsLeftOut(result, inputChoice(result, asked));
  if (asked === "none" || missing.length === 0) return [];
  const { id } = result.facility;
  if (asked === null && result.pseudonyms !== undefined)
    return [
      `The input files of ${id} hold the names that its pseudonyms stand for, so they are not in the site. --inputs small puts them in.`,
    ];
  const files = counted(missing.length, "reader log", "reader logs");
  return [
    `${files} of ${id} ${missing.length === 1 ? "is" : "are"} not in the site, since all inputs come to more than 50 MB. --inputs all puts ${missing.length === 1 ? "it" : "them"} in.`,
  ];
}

/** Every folder of the data folder is a facility: a site or a seal among them would be read as one. */
export function refuseInDataFolder(out: string, data: string): void {
  if (!liesIn(realPath(out), realPath(data))) return;
  throw new OutputRefused(
    `"${out}" lies in the data folder "${data}", where every folder is a facility. Give --out a folder outside of it.`,
  );
}

function summaryLine(summary: SiteSummary, journeys: number, out: string): string {
  const written = [
    summary.facilities === 0 ? [] : counted(summary.facilities, "facility", "facilities"),
    journeys === 0 ? [] : counted(journeys, "journey", "journeys"),
    counted(summary.pages, "page", "pages"),
    counted(summary.files, "file", "files"),
  ].flat();
  return `${written.join(", ")} written. Open ${out}/index.html\n`;
}
