import { mkdirSync, mkdtempSync, rmSync } from "node:fs";
import { open } from "node:fs/promises";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { judgeFacility } from "../analysis/judge.ts";
import { openFacility } from "../intake/facility/facility.ts";
import { travelsOfCopies } from "../intake/journey/read-journey.ts";
import { journeysOverlap } from "../intake/problems/journey.ts";
import { readFacility } from "../intake/read-facility-folder.ts";
import type { JourneyResult } from "../model/journey/journey-result.ts";
import type { Problem } from "../model/problem.ts";
import type { Result } from "../model/result/result.ts";
import { toolVersion } from "../site/package/package-folders.ts";
import { type BagFiles, bytesOf } from "./bag/files.ts";
import { isJourney } from "./evidence.ts";
import { type Difference, differencesOf } from "./json-differences.ts";
import { inputsFolder, resultFile } from "./seal-layout.ts";

/** What came of judging sealed inputs once more. */
export interface JudgedAgain {
  outcome: "same" | "differs" | "refused" | "no-inputs";
  /** The version that made the sealed result. */
  sealedBy: string;
  /** This one. */
  judgedBy: string;
  differences: Difference[];
  /** Why this version judges nothing, where it refuses the inputs. */
  problems: Problem[];
}

/** Judges a journey of a data folder, with the facilities that it is over; null, with the reasons, where an input has an error. */
export type JourneyJudge = (
  data: string,
  id: string,
) => Promise<{ result: JourneyResult | null; problems: Problem[] }>;

/** What is to be judged again. */
interface Sealed {
  files: BagFiles;
  /** The seal's folder; null for a zip, whose inputs are unpacked beforehand. */
  folder: string | null;
  judgeJourney: JourneyJudge;
}

/** Judges the inputs of a seal again and compares the result with the sealed one. */
export async function judgedAgain({ files, folder, judgeJourney }: Sealed): Promise<JudgedAgain> {
  const sealed: Result | JourneyResult = JSON.parse((await bytesOf(files, resultFile)).toString());
  const about = { sealedBy: sealed.tool.version, judgedBy: toolVersion, differences: [], problems: [] };
  const inputs = [...files.sizes.keys()].filter((path) => path.startsWith(inputsFolder));
  if (inputs.length === 0) return { ...about, outcome: "no-inputs" };
  const unpacked = folder === null ? mkdtempSync(join(tmpdir(), "proofwalk-verify-")) : null;
  try {
    if (unpacked !== null) await unpack(files, inputs, unpacked);
    const data = join(unpacked ?? folder!, inputsFolder);
    const { result, problems } = isJourney(sealed)
      ? await judgeJourney(data, sealed.id)
      : await judgeSealed(data, sealed);
    if (result === null) return { ...about, outcome: "refused", problems };
    const judged: Result | JourneyResult = JSON.parse(JSON.stringify(result));
    const differences = differencesOf(comparable(sealed), comparable(judged));
    return { ...about, outcome: differences.length === 0 ? "same" : "differs", differences };
  } finally {
    if (unpacked !== null) rmSync(unpacked, { recursive: true, force: true });
  }
}

async function judgeSealed(
  inputs: string,
  { facility: { id }, journeys = [] }: Result,
): Promise<{ result: Result | null; problems: Problem[] }> {
  const { travels, problems: ofCopies } = await travelsOfCopies(inputs, id, journeys);
  if (ofCopies.some(({ severity }) => severity === "error")) return { result: null, problems: ofCopies };
  const { input, problems } = await readFacility(await openFacility(inputs, id), () => travels);
  return { result: input === null ? null : judgeFacility(input, toolVersion), problems };
}

/** Without the version, and without remarks on what no verdict used, files and other journeys: they are not in the seal. */
function comparable({ tool: _, ...result }: Result | JourneyResult): object {
  const used = new Set(result.inputs.map(({ path }) => path));
  const problems = result.problems.filter(
    ({ file, code }) => (file === null || used.has(file)) && code !== journeysOverlap.code,
  );
  return { ...result, problems };
}

async function unpack(files: BagFiles, paths: string[], to: string): Promise<void> {
  for (const path of paths) {
    const target = join(to, path);
    mkdirSync(dirname(target), { recursive: true });
    const file = await open(target, "wx");
    try {
      for await (const piece of files.pieces(path)) await file.writeFile(piece);
    } finally {
      await file.close();
    }
  }
}
