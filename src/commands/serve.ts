import type { Server } from "node:http";
import { relative } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import type { FSWatcher } from "chokidar";
import type { SiteServer } from "../site/serve/site-server.ts";
import { buildSite } from "./build.ts";
import { type Command, ExitStatus, type Words, WrongUsage } from "./command.ts";
import { faultText } from "./lines/stack-trace.ts";
import type { Terminal } from "./lines/terminal.ts";
import { plain } from "./lines/text.ts";

/** A saved file often arrives in several events: wait this long for the rest. */
const settleMs = 60;

/**
 * Builds, serves on this machine only, and rebuilds when a file below the data folder changes. An input with an error
 * leaves the site that stood before. Ends when the person at the terminal asks for it.
 */
export const serve: Command = {
  name: "serve",
  summary: "builds, serves, rebuilds on every change",
  options: ["data", "out", "only", "inputs", "port"],
  operand: null,
  examples: [
    { words: "serve", purpose: "the site on this machine, rebuilt on every change" },
    { words: "serve --port 0", purpose: "on any free port" },
  ],
  exits: { 0: "ended by Ctrl+C" },
  async run(words, terminal) {
    const port = portNumber(words.port);
    const first = await buildSite(words, terminal);
    if (first !== ExitStatus.fine) return first;
    const { SiteServer } = await import("../site/serve/site-server.ts");
    const { watch } = await import("chokidar");
    const site = new SiteServer(words.out);
    const { server } = site;
    const address = await listening(server, port);
    const watcher = watch(words.source.data, { ignoreInitial: true });
    watcher.on("error", (fault) =>
      terminal.err(`Changes below ${words.source.data} can no longer be watched (${fault}).\n`),
    );
    // What changes before this is not seen, so nobody is asked to go ahead before.
    await new Promise<void>((ready) => watcher.on("ready", ready));
    terminal.out(`Serving http://127.0.0.1:${address}/index.html (this machine only). Ctrl+C ends it.\n`);
    await rebuildOnChange(watcher, terminal, rebuilder(words, terminal, site));
    await watcher.close();
    server.closeAllConnections();
    await new Promise<void>((closed) => server.close(() => closed()));
    return ExitStatus.fine;
  },
};

function portNumber(text: string): number {
  const port = Number(text);
  if (/^\d+$/.test(text) && port <= 65535) return port;
  throw new WrongUsage(`--port needs a number from 0 to 65535, not "${text}".`);
}

/** The port that the server listens on, which is the one asked for unless that was 0. */
async function listening(server: Server, port: number): Promise<number> {
  await new Promise<void>((ready, refuse) => {
    server.once("error", (fault: NodeJS.ErrnoException) =>
      refuse(
        new WrongUsage(
          `Port ${port} cannot be used (${fault.code}): give --port another number, or 0 for any.`,
        ),
      ),
    );
    server.listen(port, "127.0.0.1", ready);
  });
  const address = server.address();
  return typeof address === "object" && address !== null ? address.port : port;
}

/** One build at a time; what changes meanwhile makes one more. Ends when the person at the terminal asks for it. */
async function rebuildOnChange(
  watcher: FSWatcher,
  terminal: Terminal,
  rebuild: (changed: string[]) => Promise<void>,
): Promise<void> {
  const changed = new Set<string>();
  let wake = () => {};
  watcher.on("all", (_event, path) => {
    changed.add(path);
    wake();
  });
  for (;;) {
    const change = new Promise<void>((resolve) => {
      wake = resolve;
      if (changed.size > 0) resolve();
    });
    // Nobody listens during a rebuild: Ctrl+C then ends the process at once, even while it judges.
    const listening = new AbortController();
    const settled = change.then(() => pause(settleMs, "change"));
    const next = await Promise.race([settled, terminal.interrupted(listening.signal)]);
    listening.abort();
    if (next !== "change") return;
    const paths = [...changed];
    changed.clear();
    await rebuild(paths);
  }
}

/** A fault is told, here and on the open pages, and the site that stood before is served on. */
function rebuilder(words: Words, terminal: Terminal, site: SiteServer): (changed: string[]) => Promise<void> {
  let builtAt = timeOfDay();
  return async (changed) => {
    const names = changed.map((path) => relative(words.source.data, path).replaceAll("\\", "/"));
    const began = performance.now();
    terminal.out(`Changed: ${plain(names.join(", "))}\n`);
    let said = "";
    const overheard: Terminal = {
      ...terminal,
      err: (text) => {
        said += text;
        terminal.err(text);
      },
    };
    try {
      const status = await buildSite(words, overheard);
      if (status === ExitStatus.fine) {
        builtAt = timeOfDay();
        site.built(null);
        terminal.out(`Rebuilt in ${((performance.now() - began) / 1000).toFixed(1)} s.\n`);
      } else site.built({ builtAt, text: said });
    } catch (fault) {
      terminal.err(faultText(fault));
      terminal.err("The site that stood before is served on.\n");
      site.built({ builtAt, text: faultText(fault) });
    }
  };
}

/** By the clock of the person who looks at it. */
function timeOfDay(): string {
  return new Date().toTimeString().slice(0, 8);
}
