#!/usr/bin/env node
import { setFlagsFromString } from "node:v8";
import { ExitStatus, WrongUsage } from "./commands/command.ts";
import { runCommandLine } from "./commands/command-line.ts";
import { faultText } from "./commands/lines/stack-trace.ts";
import type { Terminal } from "./commands/lines/terminal.ts";
import { plain } from "./commands/lines/text.ts";

// A command takes a second or two, of which the V8 of Node 20 spends nearly half on optimising functions that are hardly
// called again: it is told to wait fifteen times as long before it optimises one. What runs for minutes does not notice. Later
// releases count calls instead and wait longer by themselves; they do not know the option.
if (process.versions.node.startsWith("20.")) setFlagsFromString("--interrupt-budget=1000000");

const terminal: Terminal = {
  out: (text) => void process.stdout.write(text),
  err: (text) => void process.stderr.write(text),
  progress: (text) => void process.stderr.write(`\r\u001b[K${text ?? ""}`),
  watched: process.stderr.isTTY === true,
  // A signal ends the process at once wherever nobody listens: no code has to run for it.
  interrupted: (until) =>
    new Promise((resolve) => {
      for (const signal of ["SIGINT", "SIGTERM"] as const) {
        process.on(signal, resolve);
        until.addEventListener("abort", () => process.off(signal, resolve));
      }
    }),
};

// A reader that has seen enough (a pager, head) closes the pipe: that is no fault.
process.stdout.on("error", (fault: NodeJS.ErrnoException) => {
  if (fault.code === "EPIPE") process.exit();
  throw fault;
});

runCommandLine(process.argv.slice(2), terminal).then(
  (status) => {
    process.exitCode = status;
  },
  (fault: unknown) => {
    if (fault instanceof WrongUsage) {
      terminal.err(`${plain(fault.message)}\nproofwalk --help lists the commands.\n`);
      process.exitCode = ExitStatus.refused;
      return;
    }
    terminal.err(faultText(fault));
    process.exitCode = ExitStatus.fault;
  },
);
