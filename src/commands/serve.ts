import type { Server } from "node:http";
import { relative } from "node:path";
import type { FSWatcher } from "chokidar";
import { buildSite } from "./build.ts";
import { type Command, ExitStatus, type Terminal, type Words, WrongUsage } from "./command.ts";

/** A saved file often arrives in several events: wait this long for the rest. */
const settleMs = 60;

/**
 * Builds, serves on this machine only, and rebuilds when a file below the data folder changes. An input with an error
 * leaves the site that stood before. Ends when the person at the terminal asks for it.
 */
export const serve: Command = {
  name: "serve",
  summary: "builds, serves, rebuilds on every change",
  options: ["data", "out", "only", "port"],
  operand: null,
  examples: [],
  async run(words, terminal) {
    const port = portNumber(words.port);
    const interrupted = terminal.interrupted();
    const first = await buildSite(words, terminal);
    if (first !== ExitStatus.fine) return first;
    const { createServer } = await import("node:http");
    const { default: sirv } = await import("sirv");
    const { watch } = await import("chokidar");
    const server = createServer(sirv(words.out, { dev: true }));
    const address = await listening(server, port);
    terminal.out(`Serving http://127.0.0.1:${address}/index.html (this machine only). Ctrl+C ends it.\n`);
    const watcher = watch(words.source.data, { ignoreInitial: true });
    rebuildOnChange(watcher, words, terminal);
    await interrupted;
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

/** One build at a time; what changes meanwhile makes one more. */
function rebuildOnChange(watcher: FSWatcher, words: Words, terminal: Terminal): void {
  const changed = new Set<string>();
  let building = false;
  const rebuild = async () => {
    if (building || changed.size === 0) return;
    building = true;
    const names = [...changed]
      .map((path) => relative(words.source.data, path).replaceAll("\\", "/"))
      .join(", ");
    changed.clear();
    const began = performance.now();
    terminal.out(`Changed: ${names}\n`);
    try {
      const status = await buildSite(words, terminal);
      if (status === ExitStatus.fine)
        terminal.out(`Rebuilt in ${((performance.now() - began) / 1000).toFixed(1)} s.\n`);
    } finally {
      building = false;
      void rebuild();
    }
  };
  watcher.on("all", (_event, path) => {
    changed.add(path);
    setTimeout(() => void rebuild(), settleMs);
  });
}
