import { existsSync } from "node:fs";
import { cp, mkdir, readdir, readFile, writeFile } from "node:fs/promises";
import { basename, dirname, join, resolve } from "node:path";
import { schemasFolder, templatesFolder } from "../site/package-folders.ts";
import { type Command, ExitStatus } from "./command.ts";

/** Starts a facility folder: a commented facility.yaml, the schema that editors check it with, an empty pass log. */
export const startFacility: Command = {
  name: "new",
  summary: "starts a facility folder",
  options: [],
  operand: { placeholder: "DIR", advice: "new needs one folder: proofwalk new data/my-facility" },
  examples: [{ words: "new data/my-facility", purpose: "start a facility folder to fill in" }],
  async run({ operand: folder }, terminal) {
    if (existsSync(folder) && (await namesIn(folder)).length > 0) {
      terminal.err(`"${folder}" exists and is not an empty folder. Name a folder that does not exist yet.\n`);
      return ExitStatus.refused;
    }
    const starter = join(templatesFolder, "new-facility");
    await mkdir(join(folder, "passes"), { recursive: true });
    await writeFile(join(folder, "facility.yaml"), await readFile(join(starter, "facility.yaml"), "utf8"));
    await cp(join(schemasFolder, "facility.schema.json"), join(folder, "facility.schema.json"));
    await cp(join(starter, "passes.csv"), join(folder, "passes", "passes.csv"));
    terminal.out(
      `${folder}/facility.yaml and ${folder}/passes/passes.csv are ready to fill in. ` +
        `Next: proofwalk check --data ${dirname(folder)} --only ${basename(resolve(folder))}\n`,
    );
    return ExitStatus.fine;
  },
};

/** The names in a folder; a file in its place counts as filled. */
async function namesIn(folder: string): Promise<string[]> {
  return readdir(folder).catch(() => ["a file"]);
}
