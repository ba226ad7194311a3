#!/usr/bin/env node
import { parseArgs } from "node:util";
import { helpText } from "./commands/help.ts";
import { type Exit, ExitStatus, type Terminal, WrongUsage } from "./commands/terminal.ts";
import { suggest } from "./intake/suggestion.ts";
import { toolVersion } from "./site/package-folders.ts";

const terminal: Terminal = {
  out: (text) => void process.stdout.write(text),
  err: (text) => void process.stderr.write(text),
  watched: process.stderr.isTTY === true,
};

const options = {
  data: { type: "string", default: "data" },
  out: { type: "string", default: "site" },
  only: { type: "string", multiple: true, default: [] as string[] },
  json: { type: "boolean", default: false },
  port: { type: "string", default: "8321" },
  help: { type: "boolean", default: false },
  version: { type: "boolean", default: false },
} as const;

type OptionName = keyof typeof options;

/** Which options each command takes; a command that is given another says so. */
const commands: Record<string, OptionName[]> = {
  check: ["data", "only", "json"],
  judge: ["data", "only", "json"],
  compare: ["data", "only", "json"],
  plan: ["data", "only", "json"],
  build: ["data", "out", "only"],
  serve: ["data", "out", "only", "port"],
  new: [],
  describe: [],
};

/** A command is loaded once it is asked for: nobody waits for the engine, or the statistics, to be told of a slip in the words. */
async function run(words: string[]): Promise<Exit> {
  const { values, positionals } = readWords(words);
  if (values.version) {
    terminal.out(`${toolVersion}\n`);
    return ExitStatus.fine;
  }
  const [command, ...rest] = positionals;
  if (values.help || command === "help") {
    terminal.out(helpText);
    return ExitStatus.fine;
  }
  if (command === undefined) throw new WrongUsage("No command was given.");
  if (!(command in commands)) {
    const near = suggest(command, Object.keys(commands));
    throw new WrongUsage(`"${command}" is not a command.${near === null ? "" : ` Did you mean ${near}?`}`);
  }
  refuseForeignOptions(command, words);
  if (command === "new") {
    if (rest.length !== 1) throw new WrongUsage("new wants one folder: proofwalk new data/my-facility");
    const { startFacility } = await import("./commands/new.ts");
    return startFacility(rest[0]!, terminal);
  }
  if (command === "describe") {
    if (rest.length !== 1)
      throw new WrongUsage("describe wants one file: proofwalk describe reads/dock-1.csv");
    const { describe } = await import("./commands/describe.ts");
    return describe(rest[0]!, terminal);
  }
  if (rest.length > 0) throw new WrongUsage(`"${rest[0]}" is one word too many after ${command}.`);
  const source = { data: values.data, only: values.only };
  switch (command) {
    case "check": {
      const { check } = await import("./commands/check.ts");
      return check(source, values.json, terminal);
    }
    case "judge": {
      const { judge } = await import("./commands/judge.ts");
      return judge(source, values.json, terminal);
    }
    case "compare": {
      const { compare } = await import("./commands/compare.ts");
      return compare(source, values.json, terminal);
    }
    case "plan": {
      const { plan } = await import("./commands/plan.ts");
      return plan(source, values.json, terminal);
    }
    case "build": {
      const { build } = await import("./commands/build.ts");
      return build(source, values.out, terminal);
    }
    default: {
      const port = portNumber(values.port);
      const { serve } = await import("./commands/serve.ts");
      return serve(source, values.out, port, terminal, untilInterrupted());
    }
  }
}

function readWords(words: string[]) {
  try {
    return parseArgs({ args: words, options, allowPositionals: true });
  } catch (fault) {
    throw new WrongUsage(fault instanceof Error ? fault.message : String(fault));
  }
}

function refuseForeignOptions(command: string, words: string[]): void {
  const { tokens } = parseArgs({ args: words, options, allowPositionals: true, tokens: true });
  for (const token of tokens) {
    if (token.kind !== "option" || commands[command]!.includes(token.name as OptionName)) continue;
    throw new WrongUsage(`${command} takes no --${token.name}.`);
  }
}

function portNumber(text: string): number {
  const port = Number(text);
  if (/^\d+$/.test(text) && port <= 65535) return port;
  throw new WrongUsage(`--port wants a number from 0 to 65535, not "${text}".`);
}

function untilInterrupted(): Promise<void> {
  return new Promise((resolve) => {
    process.once("SIGINT", resolve);
    process.once("SIGTERM", resolve);
  });
}

for (const signal of ["SIGINT", "SIGTERM"] as const) {
  // Leaving through exit lets a half-written site be cleared away; serve takes the first signal for itself.
  process.on(signal, () => {
    if (process.listenerCount(signal) === 1) process.exit(130);
  });
}

// A reader that has seen enough (a pager, head) closes the pipe: that is no fault.
process.stdout.on("error", (fault: NodeJS.ErrnoException) => {
  if (fault.code === "EPIPE") process.exit();
  throw fault;
});

run(process.argv.slice(2)).then(
  (status) => {
    process.exitCode = status;
  },
  (fault: unknown) => {
    if (fault instanceof WrongUsage) {
      terminal.err(`${fault.message}\nproofwalk --help shows what there is.\n`);
      process.exitCode = ExitStatus.refused;
      return;
    }
    terminal.err(`This is a fault of proofwalk, not of your files. Please report it with what you did.\n`);
    terminal.err(`${fault instanceof Error ? fault.stack : String(fault)}\n`);
    process.exitCode = ExitStatus.fault;
  },
);
