import {
  closeSync,
  constants,
  copyFileSync,
  existsSync,
  openSync,
  readdirSync,
  rmSync,
  statSync,
  writeFileSync,
} from "node:fs";
import { basename, dirname, join, relative, resolve } from "node:path";
import { byCodePoint } from "../model/order.ts";
import { makeFolders, OutputRefused, refusalOf, removeEmptyFolders } from "../site/output/output-place.ts";
import { schemasFolder, templatesFolder } from "../site/package/package-folders.ts";
import { type Command, ExitStatus, WrongUsage } from "./command.ts";
import { nextCommand } from "./lines/next-command.ts";
import { plain, wrap } from "./lines/text.ts";

const advice =
  "new needs one folder: proofwalk new data/my-facility. Files to start from follow --from: proofwalk new data/my-facility --from logs/*";

/**
 * Starts a facility folder: a commented facility.yaml, the schema that editors check it with, and either an empty pass log with
 * examples beside it, or what somebody has already.
 */
export const startFacility: Command = {
  name: "new",
  summary: "starts a facility folder",
  options: ["from"],
  operand: { placeholder: "DIR", advice },
  examples: [
    { words: "new data/my-facility", purpose: "start a facility folder to fill in" },
    { words: "new data/my-facility --from logs/*", purpose: "start it from the logs you have" },
  ],
  exits: { 0: "the folder was started" },
  async run({ operand: folder, from }, terminal) {
    if (folder.trim() === "") throw new WrongUsage(advice);
    try {
      refuseFilled(folder);
      const { files, said } = from.length === 0 ? await examplesFor(folder) : await startedFrom(folder, from);
      writeStart(folder, files);
      const next = nextCommand("check", { data: dirname(folder), only: [basename(resolve(folder))] });
      terminal.out(
        said
          .flatMap((text) => indented(text))
          .concat(next)
          .map((line) => `${line}\n`)
          .join(""),
      );
      return ExitStatus.fine;
    } catch (fault) {
      const refusal = refusalOf(fault, folder);
      if (!(refusal instanceof OutputRefused)) throw refusal;
      terminal.err(plain(`${refusal.message}\n`));
      return ExitStatus.refused;
    }
  },
};

interface Started {
  files: StartFile[];
  /** Paragraphs for the terminal; one that begins with two blanks stands under the one before. */
  said: string[];
}

async function examplesFor(folder: string): Promise<Started> {
  const { emptyLog, exampleStart } = await import("../intake/start/example-start.ts");
  const { facilityText, intervalReason } = await import("../intake/start/facility-text.ts");
  return {
    files: [
      { to: "facility.yaml", text: facilityText(exampleStart(timeZone())) },
      { to: "passes/passes.csv", text: emptyLog },
      ...exampleFiles(),
    ],
    said: [
      `${folder}/facility.yaml and ${folder}/passes/passes.csv are ready to fill in. ` +
        `${folder}/examples has a log of every form, a manifest, a plan, a floor plan, a power log, a reader log and a journey; it is not read.`,
      `To follow items over several read points or facilities, start from ${folder}/examples/journeys: copy what is in it into ${join(dirname(folder), "journeys")} and put in your facility and its read points. ${folder}/examples/README.md says how.`,
      intervalReason(),
    ],
  };
}

async function startedFrom(folder: string, named: readonly string[]): Promise<Started> {
  const { startFrom } = await import("../intake/start/start-from.ts");
  const { intervalReason } = await import("../intake/start/facility-text.ts");
  const paths = filesOf(named);
  const zone = timeZone();
  const { yaml, copies, notTaken, found, remaining, emptyLog } = await startFrom(paths, zone);
  const refused = notTaken.map(({ path, why }) => `  ${path}: ${why}`);
  if (copies.length === 0)
    throw new OutputRefused(["Nothing was written: no file was recognised.", ...refused].join("\n"));
  const width = Math.max(...copies.map(({ to }) => to.length));
  return {
    files: [
      { to: "facility.yaml", text: yaml },
      ...copies.map(({ from, to }) => ({ from, to })),
      ...(emptyLog === null ? [] : [{ to: "passes/passes.csv", text: emptyLog }]),
    ],
    said: [
      `${folder}/facility.yaml is written. Copied, the originals untouched:`,
      ...copies.map(({ from, to, what }) => `  ${to.padEnd(width)}  ${what}, from ${from}`),
      ...(refused.length === 0 ? [] : ["Not taken:", ...refused]),
      ...found,
      `Times without an offset are taken to be of ${zone}, as this computer has it: time_zone in facility.yaml.`,
      ...remaining,
      "The criteria are proposals, and who signs is not known: facility.yaml marks what to change.",
      intervalReason(),
    ],
  };
}

/** The files that were named; a folder stands for the files in it. Refuses all where one is not there. */
function filesOf(named: readonly string[]): string[] {
  const missing = named.filter((name) => !existsSync(name));
  if (missing.length > 0) {
    const names = missing.map((name) => `"${name}"`).join(", ");
    throw new OutputRefused(`Nothing was written: there is no file ${names}. Correct the path after --from.`);
  }
  const paths = named.flatMap((name) =>
    statSync(name).isDirectory()
      ? readdirSync(name)
          .filter((entry) => !entry.startsWith("."))
          .sort(byCodePoint)
          .map((entry) => join(name, entry))
          .filter((path) => statSync(path, { throwIfNoEntry: false })?.isFile())
      : [name],
  );
  return [...new Set(paths)];
}

/** A paragraph in lines; what begins with blanks keeps them. */
function indented(text: string): string[] {
  const indent = /^ */.exec(text)![0];
  return indent === "" ? wrap(text) : [plain(text)];
}

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

function refuseFilled(folder: string): void {
  if (!existsSync(folder) || namesIn(folder).length === 0) return;
  throw new OutputRefused(
    statSync(folder).isDirectory()
      ? `"${folder}" exists and is not an empty folder. Name a folder that does not exist yet.`
      : `"${folder}" is a file. Name the new folder first: proofwalk new data/my-facility --from FILE`,
  );
}

/** Writes all files or none, and none over one that is there. */
function writeStart(folder: string, files: readonly StartFile[]): void {
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
