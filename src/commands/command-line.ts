import { parseArgs } from "node:util";
import { suggest } from "../intake/problems/wording.ts";
import { toolVersion } from "../site/package-folders.ts";
import { build } from "./build.ts";
import { check } from "./check.ts";
import {
  type Command,
  type Exit,
  ExitStatus,
  type OptionName,
  options,
  type Terminal,
  WrongUsage,
} from "./command.ts";
import { compare } from "./compare.ts";
import { describe } from "./describe.ts";
import { judge } from "./judge.ts";
import { startFacility } from "./new.ts";
import { plan } from "./plan.ts";
import { serve } from "./serve.ts";

const commands: Command[] = [startFacility, check, judge, compare, plan, build, serve, describe];

/** Does what the words on a command line ask for. Words that make no sense throw WrongUsage. */
export async function runCommandLine(words: string[], terminal: Terminal): Promise<Exit> {
  const { values, positionals, tokens } = readWords(words);
  if (values.version) {
    terminal.out(`${toolVersion}\n`);
    return ExitStatus.fine;
  }
  const [name, ...rest] = positionals;
  if (values.help || name === "help") {
    terminal.out(helpText());
    return ExitStatus.fine;
  }
  const command = commandOf(name);
  for (const token of tokens) {
    if (token.kind === "option" && !command.options.includes(token.name as OptionName))
      throw new WrongUsage(`${command.name} takes no --${token.name}.`);
  }
  // What follows the folder of --from is further files: the shell has spelt out `logs/*`.
  const files = values.from === undefined ? [] : [...values.from, ...rest.splice(1)];
  return command.run(
    {
      source: { data: values.data ?? "data", only: values.only ?? [] },
      out: values.out ?? "site",
      json: values.json ?? false,
      port: values.port ?? "8321",
      operand: operandOf(command, rest),
      from: files,
    },
    terminal,
  );
}

function readWords(words: string[]) {
  try {
    return parseArgs({
      args: words,
      options: { ...options, help: { type: "boolean" }, version: { type: "boolean" } },
      allowPositionals: true,
      tokens: true,
    });
  } catch (fault) {
    throw new WrongUsage(fault instanceof Error ? fault.message : String(fault));
  }
}

function commandOf(name: string | undefined): Command {
  if (name === undefined) throw new WrongUsage("No command was given.");
  const command = commands.find((one) => one.name === name);
  if (command !== undefined) return command;
  const near = suggest(
    name,
    commands.map((one) => one.name),
  );
  throw new WrongUsage(`"${name}" is not a command.${near === null ? "" : ` Did you mean ${near}?`}`);
}

function operandOf({ name, operand }: Command, words: string[]): string {
  if (operand === null) {
    if (words.length > 0) throw new WrongUsage(`"${words[0]}" is one word too many after ${name}.`);
    return "";
  }
  if (words.length !== 1) throw new WrongUsage(operand.advice);
  return words[0]!;
}

/** What --help prints: examples first. */
function helpText(): string {
  const examples = commands.flatMap((command) => command.examples);
  return `proofwalk turns test-pass logs of RFID read points into verdicts and a sign-off site.

Examples
${columns(examples.map(({ words, purpose }) => [`proofwalk ${words}`, purpose]))}
Commands
${columns(commands.map((command) => [command.name, command.summary, usageOf(command)]))}
Options
${columns([
  ...Object.keys(options).map((name) => [
    optionText(name as OptionName),
    options[name as OptionName].summary,
  ]),
  ["--version", "print the version"],
])}
Exit status
  0 all met (check, build: done; compare: nothing got worse)
  1 something is not met (compare: something got worse)     3 something is undecided or untested
  2 input refused or wrong usage, nothing written           70 a fault of proofwalk
`;
}

function usageOf({ operand, options }: Command): string {
  return [
    ...(operand === null ? [] : [operand.placeholder]),
    ...options.map((name) => `[${optionText(name)}]`),
  ].join(" ");
}

function optionText(name: OptionName): string {
  const option = options[name];
  return "placeholder" in option ? `--${name} ${option.placeholder}` : `--${name}`;
}

/** Rows with their cells under each other. */
function columns(rows: string[][]): string {
  const widths = rows[0]!.map((_, i) => Math.max(...rows.map((row) => row[i]!.length)));
  return rows
    .map(
      (row) =>
        `  ${row
          .map((cell, i) => cell.padEnd(widths[i]!))
          .join("  ")
          .trimEnd()}\n`,
    )
    .join("");
}
