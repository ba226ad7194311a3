import { copyFileSync, existsSync, linkSync, mkdirSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";

/**
 * Puts what the tool depends on, and nothing that only its making takes, where an installation finds it: then none of it is
 * fetched or unpacked, and no network is asked.
 */
export function putDependencies(room: string): void {
  const { packages } = JSON.parse(readFileSync("package-lock.json", "utf8")) as {
    packages: Record<string, { dev?: boolean; devOptional?: boolean }>;
  };
  for (const [path, { dev, devOptional }] of Object.entries(packages)) {
    // A package for another machine is listed, and not there.
    if (path !== "" && !dev && !devOptional && existsSync(path)) putFolder(path, join(room, path));
  }
}

function putFolder(from: string, to: string): void {
  mkdirSync(to, { recursive: true });
  for (const entry of readdirSync(from, { withFileTypes: true })) {
    const [source, target] = [join(from, entry.name), join(to, entry.name)];
    // A package's own packages have lines of their own in the list.
    if (entry.isDirectory() && entry.name !== "node_modules") putFolder(source, target);
    else if (entry.isFile()) putFile(source, target);
  }
}

/** A second name costs nothing; across disks there is none. */
function putFile(from: string, to: string): void {
  try {
    linkSync(from, to);
  } catch {
    copyFileSync(from, to);
  }
}
