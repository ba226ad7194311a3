#!/usr/bin/env node
import { ExitStatus, type Terminal, WrongUsage } from "./commands/command.ts";
import { runCommandLine } from "./commands/command-line.ts";
import { sourceTrace } from "./commands/stack-trace.ts";

const terminal: Terminal = {
  out: (text) => void process.stdout.write(text),
  err: (text) => void process.stderr.write(text),
  watched: process.stderr.isTTY === true,
  interrupted: () =>
    new Promise((resolve) => {
      process.once("SIGINT", resolve);
      process.once("SIGTERM", resolve);
    }),
};

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

runCommandLine(process.argv.slice(2), terminal).then(
  (status) => {
    process.exitCode = status;
  },
  (fault: unknown) => {
    if (fault instanceof WrongUsage) {
      terminal.err(`${fault.message}\nproofwalk --help lists the commands.\n`);
      process.exitCode = ExitStatus.refused;
      return;
    }
    terminal.err("This is a fault of proofwalk, not of your files. Please report it with what you did.\n");
    terminal.err(`${sourceTrace(fault instanceof Error ? (fault.stack ?? fault.message) : String(fault))}\n`);
    process.exitCode = ExitStatus.fault;
  },
);
