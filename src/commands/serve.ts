import { createServer } from "node:http";
import { relative } from "node:path";
import { watch } from "chokidar";
import sirv from "sirv";
import { build } from "./build.ts";
import type { Source } from "./facility-source.ts";
import { type Exit, ExitStatus, type Terminal, WrongUsage } from "./terminal.ts";

/** A saved file often arrives in several events: wait this long for the rest. */
const settleMs = 60;

/**
 * Builds, serves on this machine only, and rebuilds when a file below the data folder changes. An input with an error
 * leaves the site that stood before. Ends when `stopped` resolves.
 */
export async function serve(
  source: Source,
  out: string,
  port: number,
  terminal: Terminal,
  stopped: Promise<void>,
): Promise<Exit> {
  const first = await build(source, out, terminal);
  if (first !== ExitStatus.fine) return first;
  const server = createServer(sirv(out, { dev: true }));
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
  const actual = typeof address === "object" && address !== null ? address.port : port;
  terminal.out(`Serving http://127.0.0.1:${actual}/index.html (this machine only). Ctrl+C ends it.\n`);
  const watcher = watch(source.data, { ignoreInitial: true });
  rebuildOnChange(watcher, source, out, terminal);
  await stopped;
  await watcher.close();
  server.closeAllConnections();
  await new Promise<void>((closed) => server.close(() => closed()));
  return ExitStatus.fine;
}

/** One build at a time; what changes meanwhile makes one more. */
function rebuildOnChange(
  watcher: ReturnType<typeof watch>,
  source: Source,
  out: string,
  terminal: Terminal,
): void {
  const changed = new Set<string>();
  let building = false;
  const rebuild = async () => {
    if (building || changed.size === 0) return;
    building = true;
    const names = [...changed].map((path) => relative(source.data, path).replaceAll("\\", "/")).join(", ");
    changed.clear();
    const began = performance.now();
    terminal.out(`Changed: ${names}\n`);
    try {
      const status = await build(source, out, terminal);
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
