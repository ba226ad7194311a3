import { spawnSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { howToVerifyText } from "../../src/archive/how-to-verify.ts";

/** What the commands of HOW-TO-VERIFY.txt start. */
const programs = [
  "sh",
  "sha512sum",
  "sha256sum",
  "cmp",
  "cut",
  "find",
  "tr",
  "grep",
  "sort",
  "uniq",
  "ssh-keygen",
];

/** Those that this machine does not have. */
export function missingPrograms(): string[] {
  return programs.filter((name) => {
    const { error } = spawnSync(name, ["--version"], { stdio: "ignore", timeout: 10_000 });
    return (error as NodeJS.ErrnoException | undefined)?.code === "ENOENT";
  });
}

/** The lines that are indented by four blanks. */
function commandsOf(text: string): string[] {
  return [...text.matchAll(/^ {4}(\S.*)$/gm)].map(([, command]) => command!);
}

/**
 * What the commands print, or what a failed one ended with, in a seal's folder as they are written there (where the text itself
 * was removed, as they are written in any).
 */
export function saidByCommands(bag: string): { files: string; signatures: string } {
  const signatures = commandsOf(textIn(bag)).filter(isOfSignatures);
  const said = (commands: string[]) => commands.map((command) => run(command, bag)).join("");
  return { files: said(fileCommands(bag)), signatures: said(signatures) };
}

/** Whether the commands on files say anything; those behind the first that does are not run. */
export function isFoundByCommands(bag: string): boolean {
  return fileCommands(bag).some((command) => run(command, bag) !== "");
}

const isOfSignatures = (command: string) => command.includes("ssh-keygen");
const isOfMark = (command: string) => command.startsWith("sha256sum");

function fileCommands(bag: string): string[] {
  return commandsOf(textIn(bag)).filter((one) => !isOfSignatures(one) && !isOfMark(one));
}

function run(command: string, bag: string): string {
  const { stdout, stderr, status } = spawnSync("sh", ["-c", command], { cwd: bag, encoding: "latin1" });
  return `${stdout}${stderr}${status === 0 ? "" : `ended with ${status}\n`}`;
}

function textIn(bag: string): string {
  try {
    return readFileSync(join(bag, "HOW-TO-VERIFY.txt"), "utf8");
  } catch {
    return howToVerifyText({ mark: "", hasInputs: true, isJourney: false });
  }
}
