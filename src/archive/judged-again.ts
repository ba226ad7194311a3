import { mkdirSync, mkdtempSync, rmSync } from "node:fs";
import { open } from "node:fs/promises";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { judgeFacility } from "../analysis/judge.ts";
import { readFacilityFolder } from "../intake/read-facility-folder.ts";
import type { Problem } from "../model/problem.ts";
import type { Result } from "../model/result.ts";
import { toolVersion } from "../site/package-folders.ts";
import { type BagFiles, bytesOf } from "./bag/files.ts";
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

/**
 * Judges the inputs of a seal again and compares the result with the sealed one.
 *
 * @param folder the seal's folder; null for a zip, whose inputs are unpacked beforehand
 */
export async function judgedAgain(files: BagFiles, folder: string | null): Promise<JudgedAgain> {
  const sealed: Result = JSON.parse((await bytesOf(files, resultFile)).toString());
  const about = { sealedBy: sealed.tool.version, judgedBy: toolVersion, differences: [], problems: [] };
  const inputs = [...files.sizes.keys()].filter((path) => path.startsWith(inputsFolder));
  if (inputs.length === 0) return { ...about, outcome: "no-inputs" };
  const unpacked = folder === null ? mkdtempSync(join(tmpdir(), "proofwalk-verify-")) : null;
  try {
    if (unpacked !== null) await unpack(files, inputs, unpacked);
    const { input, problems } = await readFacilityFolder(join(unpacked ?? folder!, inputsFolder), {
      id: sealed.facility.id,
    });
    if (input === null) return { ...about, outcome: "refused", problems };
    const judged: Result = JSON.parse(JSON.stringify(judgeFacility(input, toolVersion)));
    const differences = differencesOf(comparable(sealed), comparable(judged));
    return { ...about, outcome: differences.length === 0 ? "same" : "differs", differences };
  } finally {
    if (unpacked !== null) rmSync(unpacked, { recursive: true, force: true });
  }
}

/** Without the version, and without remarks on files that no verdict used: they are not in the seal. */
function comparable({ tool: _, ...result }: Result): object {
  const used = new Set(result.inputs.map(({ path }) => path));
  const problems = result.problems.filter(({ file }) => file === null || used.has(file));
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
