import { closeSync, existsSync, openSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { basename, dirname, join, resolve } from "node:path";
import { makeFolders, OutputRefused, refusalOf, removeEmptyFolders } from "../site/output-place.ts";
import { schemasFolder, templatesFolder } from "../site/package-folders.ts";
import { type Command, ExitStatus, WrongUsage } from "./command.ts";
import { plain } from "./lines.ts";

const advice = "new needs one folder: proofwalk new data/my-facility";

/** Starts a facility folder: a commented facility.yaml, the schema that editors check it with, an empty pass log. */
export const startFacility: Command = {
  name: "new",
  summary: "starts a facility folder",
  options: [],
  operand: { placeholder: "DIR", advice },
  examples: [{ words: "new data/my-facility", purpose: "start a facility folder to fill in" }],
  async run({ operand: folder }, terminal) {
    if (folder.trim() === "") throw new WrongUsage(advice);
    try {
      writeStarter(folder);
    } catch (fault) {
      const refusal = refusalOf(fault, folder);
      if (!(refusal instanceof OutputRefused)) throw refusal;
      terminal.err(plain(`${refusal.message}\n`));
      return ExitStatus.refused;
    }
    terminal.out(
      `${folder}/facility.yaml and ${folder}/passes/passes.csv are ready to fill in. ` +
        `Next: proofwalk check --data ${dirname(folder)} --only ${basename(resolve(folder))}\n`,
    );
    return ExitStatus.fine;
  },
};

/** All files or none, and none over one that is there. */
function writeStarter(folder: string): void {
  if (existsSync(folder) && namesIn(folder).length > 0) {
    throw new OutputRefused(
      `"${folder}" exists and is not an empty folder. Name a folder that does not exist yet.`,
    );
  }
  const starter = join(templatesFolder, "new-facility");
  const files = [
    { from: join(starter, "facility.yaml"), to: join(folder, "facility.yaml") },
    { from: join(schemasFolder, "facility.schema.json"), to: join(folder, "facility.schema.json") },
    { from: join(starter, "passes.csv"), to: join(folder, "passes", "passes.csv") },
  ];
  const folders = makeFolders(join(folder, "passes"));
  const own: string[] = [];
  try {
    for (const { from, to } of files) {
      const bytes = readFileSync(from);
      const file = openSync(to, "wx");
      own.push(to);
      writeFileSync(file, bytes);
      closeSync(file);
    }
  } catch (fault) {
    for (const file of own) rmSync(file, { force: true });
    removeEmptyFolders(folders);
    throw fault;
  }
}

/** The names in a folder; a file in its place counts as filled. */
function namesIn(folder: string): string[] {
  try {
    return readdirSync(folder);
  } catch {
    return ["a file"];
  }
}
