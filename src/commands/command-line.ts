import { parseArgs } from "node:util";
import { suggest } from "../intake/problems/card/wording.ts";
import { joined } from "../model/number-words.ts";
import { inputChoices } from "../pages/parts/archive.ts";
import { toolVersion } from "../site/package/package-folders.ts";
import { build } from "./build.ts";
import { check } from "./check.ts";
import {
  type Command,
  type Exit,
  ExitStatus,
  type OptionName,
  options,
  type Words,
  WrongUsage,
} from "./command.ts";
import { compare } from "./compare.ts";
import { describe } from "./describe.ts";
import { exportSightings } from "./export.ts";
import { judge } from "./judge.ts";
import type { Terminal } from "./lines/terminal.ts";
import { plain } from "./lines/text.ts";
import { startFacility } from "./new.ts";
import { plan } from "./plan.ts";
import { seal } from "./seal.ts";
import { serve } from "./serve.ts";
import { sign } from "./sign.ts";
import { verify } from "./verify.ts";

const commands: Command[] = [
  startFacility,
  check,
  judge,
  compare,
  plan,
  build,
  serve,
  seal,
  sign,
  verify,
  exportSightings,
  describe,
];

/** Does what the words on a command line ask for. Words that make no sense throw WrongUsage. */
export async function runCommandLine(words: string[], given: Terminal): Promise<Exit> {
  const terminal = plainTerminal(given);
  const { values, positionals } = readWords(words);
  if (values.has("version")) {
    terminal.out(`${toolVersion}\n`);
    return ExitStatus.fine;
  }
  const isHelp = positionals[0] === "help";
  const [name, ...rest] = isHelp ? positionals.slice(1) : positionals;
  if (isHelp || values.has("help")) {
    terminal.out(name === undefined ? helpText() : commandHelp(commandOf(name)));
    return ExitStatus.fine;
  }
  const command = commandOf(name);
  for (const option of values.keys()) {
    if (!command.options.includes(option as OptionName))
      throw new WrongUsage(`${command.name} takes no --${option}.${optionsOf(command)}`);
  }
  // What follows the folder of --from is further files: the shell has spelt out `logs/*`.
  const from = values.get("from");
  const files = from === undefined ? [] : [...from, ...rest.splice(1)];
  return command.run(
    {
      source: { data: values.get("data")?.at(-1) ?? "data", only: values.get("only") ?? [] },
      out: values.get("out")?.at(-1) ?? command.out ?? "site",
      inputs: choiceOf(values.get("inputs")?.at(-1)),
      json: values.has("json"),
      junit: values.get("junit")?.at(-1) ?? null,
      port: values.get("port")?.at(-1) ?? "8321",
      zip: values.has("zip"),
      key: values.get("key")?.at(-1) ?? "",
      as: values.get("as")?.at(-1) ?? "",
      allowedSigners: values.get("allowed-signers")?.at(-1) ?? "",
      bagOnly: values.has("bag-only"),
      operand: operandOf(command, rest),
      from: files,
    },
    terminal,
  );
}

/** Names and paths come from the inputs: no control character in them reaches the terminal. */
function plainTerminal(terminal: Terminal): Terminal {
  return {
    ...terminal,
    out: (text) => terminal.out(plain(text)),
    err: (text) => terminal.err(plain(text)),
    progress: (text) => terminal.progress(text === null ? null : plain(text)),
  };
}

function choiceOf(text: string | undefined): Words["inputs"] {
  if (text === undefined) return null;
  const choice = inputChoices.find((each) => each === text);
  if (choice !== undefined) return choice;
  const near = suggest(text, [...inputChoices]);
  throw new WrongUsage(
    `--inputs needs all, small or none, not "${text}".${near === null ? "" : ` Did you mean ${near}?`}`,
  );
}

function optionsOf({ name, options: own }: Command): string {
  return own.length === 0
    ? ` ${name} has no options.`
    : ` Its options are ${joined(own.map((option) => `--${option}`))}.`;
}

/** Options that every command understands. */
const everywhere = { help: { type: "boolean" }, version: { type: "boolean" } } as const;

/** The options with their values, and the other words. What makes no sense is refused in words of our own. */
function readWords(words: string[]): { values: Map<string, string[]>; positionals: string[] } {
  const known: Record<string, { type: "string" | "boolean"; placeholder?: string }> = {
    ...options,
    ...everywhere,
  };
  const { tokens } = parseArgs({
    args: words,
    options: known,
    allowPositionals: true,
    strict: false,
    tokens: true,
  });
  const values = new Map<string, string[]>();
  const positionals: string[] = [];
  for (const token of tokens) {
    if (token.kind === "positional") positionals.push(token.value);
    if (token.kind !== "option") continue;
    const name = token.rawName === "-h" ? "help" : token.name;
    const option =
      Object.hasOwn(known, name) && (token.rawName.startsWith("--") || name === "help") ? known[name]! : null;
    if (option === null) {
      const near = suggest(name, Object.keys(known));
      throw new WrongUsage(
        `There is no option ${token.rawName}.${near === null ? "" : ` Did you mean --${near}?`}`,
      );
    }
    if (option.type === "boolean" && token.value !== undefined)
      throw new WrongUsage(`--${name} takes no value: leave "=${token.value}" out.`);
    // A word that looks like an option was hardly meant as a value; = says that it was.
    const isGiven = token.value !== undefined && (token.inlineValue === true || !token.value.startsWith("-"));
    if (option.type === "string" && !isGiven)
      throw new WrongUsage(`--${name} needs a value: --${name} ${option.placeholder}.`);
    values.set(name, [...(values.get(name) ?? []), token.value ?? ""]);
  }
  return { values, positionals };
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
  const { kinds } = operand;
  if (kinds !== undefined && !kinds.includes(words.shift() ?? "")) throw new WrongUsage(operand.advice);
  if (words.length !== 1) throw new WrongUsage(operand.advice);
  return words[0]!;
}

/** What --help prints: examples first. */
function helpText(): string {
  const examples = commands.flatMap((command) => command.examples.slice(0, 1));
  return `proofwalk turns test-pass logs of RFID read points into verdicts and a sign-off site.

Examples
${exampleLines(examples)}
Commands
${columns(commands.map((command) => [command.name, command.summary]))}
proofwalk COMMAND --help shows more examples of a command, and its options. --version prints the version.

Exit status
  0 all met (check, build: done; compare: nothing got worse)
  1 something is not met (compare: something got worse)     3 something is undecided or untested
  2 input refused or wrong usage, nothing written           4 a seal does not hold (sign, verify)
  70 a fault of proofwalk
`;
}

/** What COMMAND --help prints: examples first. */
function commandHelp(command: Command): string {
  const { name, summary, examples, options: own, exits } = command;
  const blocks = [
    `proofwalk ${name}: ${summary}\n`,
    `Examples\n${exampleLines(examples)}`,
    `Usage\n  proofwalk ${[name, usageOf(command)].join(" ").trimEnd()}\n`,
    ...(own.length === 0
      ? []
      : [`Options\n${columns(own.map((option) => [optionText(option), options[option].summary]))}`]),
    `Exit status\n${columns(Object.entries({ ...exits, ...exitsOfAll }).map(([status, meaning]) => [status, meaning]))}`,
  ];
  return blocks.join("\n");
}

const exitsOfAll = { 2: "input refused or wrong usage; nothing was written", 70: "a fault of proofwalk" };

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

/** What stands beside its purpose; a longer example has it on the next line, so that none breaks in a usual terminal. */
const mostBeside = 46;

function exampleLines(examples: Command["examples"]): string {
  const lines = examples.map(({ words, purpose }) => ({ line: `proofwalk ${words}`, purpose }));
  const width = Math.max(...lines.map(({ line }) => (line.length > mostBeside ? 0 : line.length)));
  return lines
    .map(({ line, purpose }) =>
      line.length > mostBeside
        ? `  ${line}\n  ${" ".repeat(width)}  ${purpose}\n`
        : `  ${line.padEnd(width)}  ${purpose}\n`,
    )
    .join("");
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
