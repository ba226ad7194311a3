import { randomBytes } from "node:crypto";
import {
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  rmdirSync,
  rmSync,
  statSync,
  writeFileSync,
} from "node:fs";
import { hostname } from "node:os";
import { basename, dirname, join } from "node:path";

/** The process that made a build folder. A number alone is given again to other processes. */
interface Owner {
  tool: "proofwalk";
  host: string;
  pid: number;
  /** When the process began, as the system counts it; null where it does not say. */
  began: string | null;
}

const ownerName = "owner.json";

const oneDayMs = 24 * 3600 * 1000;

/**
 * The folder beside a site in which a build works: the owner's mark, the new site and, during the swap, the earlier one. It
 * lies beside so that both are moved by renames.
 */
export class BuildFolder {
  readonly path: string;
  constructor(path: string) {
    this.path = path;
  }

  /** A folder of this process beside the place of a site; not made yet. */
  static beside(target: string): BuildFolder {
    return new BuildFolder(`${target}.proofwalk-${process.pid}-${randomBytes(3).toString("hex")}`);
  }

  /** The new site while it is written. */
  get fresh(): string {
    return join(this.path, "new");
  }

  /** The earlier site, set aside. It may have been changed by somebody: it is moved back, or checked and then spent. */
  get earlier(): string {
    return join(this.path, "old");
  }

  /** An earlier site that was checked once more and may be deleted. */
  get spent(): string {
    return join(this.path, "spent");
  }

  make(): void {
    mkdirSync(this.path);
    const owner: Owner = { tool: "proofwalk", host: hostname(), pid: process.pid, began: beganAt("self") };
    writeFileSync(join(this.path, ownerName), JSON.stringify(owner));
    mkdirSync(this.fresh);
  }

  /** Deletes what this tool wrote, the mark last, so that a kill on the way leaves a folder that is still known. */
  remove(): void {
    if (!existsSync(this.path)) return;
    rmSync(this.fresh, { recursive: true, force: true });
    this.removeSpent();
    if (existsSync(this.earlier)) return;
    rmSync(join(this.path, ownerName), { force: true });
    rmdirSync(this.path);
  }

  removeSpent(): void {
    rmSync(this.spent, { recursive: true, force: true });
  }
}

/** The build folders that killed builds left beside the place of a site, by name. */
export function abandonedBeside(target: string): BuildFolder[] {
  const start = `${basename(target)}.proofwalk-`;
  let names: string[];
  try {
    names = readdirSync(dirname(target));
  } catch {
    return [];
  }
  return names
    .filter((name) => name.startsWith(start) && /^\d+-[0-9a-f]{6}$/.test(name.slice(start.length)))
    .sort()
    .map((name) => new BuildFolder(join(dirname(target), name)))
    .filter(isAbandoned);
}

function isAbandoned({ path }: BuildFolder): boolean {
  let text: string;
  try {
    const names = readdirSync(path);
    const known = names.every((name) => [ownerName, "new", "old", "spent"].includes(name));
    if (!known || (names.length > 0 && !names.includes(ownerName))) return false;
    text = names.length === 0 ? "" : readFileSync(join(path, ownerName), "utf8");
  } catch {
    return false;
  }
  // Killed before the mark was written: the name has the process, and there is nothing inside yet.
  const pid = Number(/-(\d+)-[0-9a-f]{6}$/.exec(path)![1]);
  if (text === "") return !isRunning(pid);
  const owner = parsed(text);
  if (owner === null || owner.tool !== "proofwalk") return false;
  // Whether a process of another machine, or of another container, still runs cannot be asked here.
  if (owner.host !== hostname()) return Date.now() - statSync(join(path, ownerName)).mtimeMs > oneDayMs;
  return !isRunning(owner.pid) || (owner.began !== null && owner.began !== beganAt(owner.pid));
}

function parsed(text: string): Owner | null {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}

function isRunning(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (fault) {
    return (fault as NodeJS.ErrnoException).code !== "ESRCH";
  }
}

/** The clock ticks from the system's start to the process's, on Linux. */
function beganAt(pid: number | "self"): string | null {
  try {
    const stat = readFileSync(`/proc/${pid}/stat`, "utf8");
    // The program's name, in brackets, may hold blanks; the start is the twentieth figure after it.
    return stat.slice(stat.lastIndexOf(")") + 2).split(" ")[19] ?? null;
  } catch {
    return null;
  }
}
