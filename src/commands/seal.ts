import type { Sealed } from "../archive/seal.ts";
import { counted } from "../model/number-words.ts";
import { markText } from "../pages/parts/archive.ts";
import { OutputRefused } from "../site/output/output-place.ts";
import { refuseInDataFolder } from "./build.ts";
import { type Command, type Exit, ExitStatus, type Words, WrongUsage } from "./command.ts";
import { nextCommand, shellWord } from "./lines/next-command.ts";
import { problemCount } from "./lines/problem-lines.ts";
import { progressOn, type Terminal } from "./lines/terminal.ts";
import { plain } from "./lines/text.ts";

/** Seals the evidence of one facility or one journey, all of it or nothing. */
export const seal: Command = {
  name: "seal",
  summary: "seals the evidence of a facility or a journey in a folder that anybody can check",
  options: ["data", "out", "inputs", "zip"],
  operand: {
    placeholder: "ID",
    advice:
      "seal needs the facility to seal, by the name of its folder, or a journey, by that of its YAML file: proofwalk seal north-hall",
  },
  out: "archive",
  examples: [
    {
      words: "seal north-hall",
      purpose: "archive/north-hall-NUMBER-REVISION, by the report in facility.yaml",
    },
    { words: "seal north-hall --out stick/archive --zip", purpose: "elsewhere, and as one file too" },
  ],
  exits: { 0: "sealed, whatever the verdict" },
  run: sealEvidence,
};

async function sealEvidence(words: Words, terminal: Terminal): Promise<Exit> {
  const { source, out, operand, zip } = words;
  if (words.inputs === "small")
    throw new WrongUsage('A seal holds all input files or none: --inputs all or --inputs none, not "small".');
  const { judgedResults } = await import("./data/judge-all.ts");
  const results = await judgedResults({ ...source, only: [operand] }, "Nothing was written", terminal);
  if (results === null) return ExitStatus.refused;
  const progress = progressOn(terminal);
  const { seal: sealResult } = await import("../archive/seal.ts");
  const { facilityEvidence, journeyEvidence } = await import("../archive/evidence.ts");
  try {
    refuseInDataFolder(out, source.data);
    const [facility] = results.facilities;
    const evidence =
      facility === undefined
        ? journeyEvidence(results.journeys.find(({ id }) => id === operand)!, source.data)
        : facilityEvidence(facility, source.data);
    const hasInputs = words.inputs === null ? !evidence.holdsNames : words.inputs === "all";
    const sealed = await sealResult({
      evidence,
      out,
      hasInputs,
      isZipped: zip,
      onStep: progress.step,
    });
    progress.done();
    terminal.out(sealedLines(sealed));
    if (!hasInputs && words.inputs === null)
      terminal.err(
        `The input files of ${operand} hold the names that pseudonyms stand for, so they are not in the seal. --inputs all puts them in.\n`,
      );
    const { problems } = evidence.result;
    if (problems.length > 0)
      terminal.err(`${problemCount(problems)} on the logs: the sealed inputs page lists them.\n`);
    return ExitStatus.fine;
  } catch (refusal) {
    progress.done();
    if (!(refusal instanceof OutputRefused)) throw refusal;
    terminal.err(`${plain(refusal.message)}\nNothing was sealed.\n`);
    return ExitStatus.refused;
  }
}

function sealedLines({ folder, zip, mark, files }: Sealed): string {
  const also = zip === null ? "" : `, and as ${zip}`;
  const bag = shellWord(folder);
  return `${folder}: ${counted(files, "file", "files")} sealed${also}.
Evidence mark ${markText(mark)}
SHA-256 of result.json ${mark}
${nextCommand(`sign ${bag} --key FILE --as NAME`, { data: "data", only: [] })}
`;
}
