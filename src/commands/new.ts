import {
  closeSync,
  constants,
  copyFileSync,
  existsSync,
  openSync,
  readdirSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import { basename, dirname, join, relative, resolve } from "node:path";
import { makeFolders, OutputRefused, refusalOf, removeEmptyFolders } from "../site/output-place.ts";
import { schemasFolder, templatesFolder } from "../site/package-folders.ts";
import { type Command, ExitStatus, WrongUsage } from "./command.ts";
import { nextCommand, plain, wrap } from "./lines.ts";

const advice = "new needs one folder: proofwalk new data/my-facility";

/** Starts a facility folder: a commented facility.yaml, the schema that editors check it with, an empty pass log, examples. */
export const startFacility: Command = {
  name: "new",
  summary: "starts a facility folder",
  options: [],
  operand: { placeholder: "DIR", advice },
  examples: [{ words: "new data/my-facility", purpose: "start a facility folder to fill in" }],
  exits: { 0: "the folder was started" },
  async run({ operand: folder }, terminal) {
    if (folder.trim() === "") throw new WrongUsage(advice);
    const { emptyLog, exampleStart } = await import("../intake/start/example-start.ts");
    const { facilityText, intervalReason } = await import("../intake/start/facility-text.ts");
    const zone = timeZone();
    const files: StartFile[] = [
      { to: "facility.yaml", text: facilityText(exampleStart(zone)) },
      { to: "passes/passes.csv", text: emptyLog },
      ...exampleFiles(),
    ];
    try {
      writeStart(folder, files);
    } catch (fault) {
      const refusal = refusalOf(fault, folder);
      if (!(refusal instanceof OutputRefused)) throw refusal;
      terminal.err(plain(`${refusal.message}\n`));
      return ExitStatus.refused;
    }
    const said = [
      `${folder}/facility.yaml and ${folder}/passes/passes.csv are ready to fill in. ` +
        `${folder}/examples has a log of every form, a manifest, a plan, a floor plan and a reader log; it is not read.`,
      intervalReason,
    ];
    const next = nextCommand("check", { data: dirname(folder), only: [basename(resolve(folder))] });
    terminal.out(
      said
        .flatMap((text) => wrap(text))
        .concat(next)
        .map((line) => `${line}\n`)
        .join(""),
    );
    return ExitStatus.fine;
  },
};

/** IANA name of the zone that this computer keeps. */
function timeZone(): string {
  return new Intl.DateTimeFormat("en-GB").resolvedOptions().timeZone;
}

/** A file of the new folder, with `/` in its path: a text, or a copy. */
type StartFile = { to: string } & ({ text: string } | { from: string });

function exampleFiles(): StartFile[] {
  const folder = join(templatesFolder, "new-facility", "examples");
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name))
    .map((from) => ({ from, to: `examples/${relative(folder, from).replaceAll("\\", "/")}` }));
}

/** Writes all files or none, and none over one that is there. */
function writeStart(folder: string, files: readonly StartFile[]): void {
  if (existsSync(folder) && namesIn(folder).length > 0) {
    throw new OutputRefused(
      `"${folder}" exists and is not an empty folder. Name a folder that does not exist yet.`,
    );
  }
  const schema = { from: join(schemasFolder, "facility.schema.json"), to: "facility.schema.json" };
  const folders: string[] = [];
  const own: string[] = [];
  try {
    for (const file of [schema, ...files]) {
      const path = join(folder, file.to);
      folders.unshift(...makeFolders(dirname(path)));
      if ("text" in file) {
        const open = openSync(path, "wx");
        own.push(path);
        writeFileSync(open, file.text);
        closeSync(open);
      } else {
        copyFileSync(file.from, path, constants.COPYFILE_EXCL);
        own.push(path);
      }
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
