import { existsSync, mkdirSync, realpathSync, rmdirSync } from "node:fs";
import { basename, dirname, join, relative, resolve, sep } from "node:path";

/** Why nothing is written to a place; it is an input of the user, so the command says it as one. */
export class OutputRefused extends Error {}

/** What a fault of the file system means to the person who named the place. */
const reasons: Record<string, string> = {
  ENOSPC: "the disk is full",
  EDQUOT: "the disk quota is used up",
  EIO: "the disk reports a fault",
  EROFS: "the disk is read-only",
  EACCES: "you may not write there",
  EPERM: "you may not write there",
  ENOTDIR: "a part of the path is a file and not a folder",
  EEXIST: "another file is in the way",
  EISDIR: "a folder is in the way of a file",
  ENOTEMPTY: "another program writes there too",
  ENAMETOOLONG: "a name in the path is too long",
  ENOENT: "no folder can be made there",
  EINVAL: "a name in the path is not allowed there",
  ELOOP: "the links in the path lead in a circle",
  EBUSY: "the folder is a mount point or in use and cannot be replaced; a folder inside it can",
  EXDEV: "the folder is a mount point and cannot be replaced; a folder inside it can",
};

/** Faults of a disk that is written: they carry no path where the file was open already. */
const diskFaults = ["ENOSPC", "EDQUOT", "EROFS"];

/**
 * The refusal that a fault amounts to, or the fault itself where it has nothing to do with the place.
 *
 * @param named the place as the user named it
 * @param folder where a fault of the file system is one of this place; null where nothing else was touched
 */
export function refusalOf(fault: unknown, named: string, folder: string | null = null): unknown {
  const cause = systemFault(fault);
  if (cause === null || reasons[cause.code] === undefined) return fault;
  const { code, path } = cause;
  const isHere = folder === null || diskFaults.includes(code) || (path !== undefined && liesIn(path, folder));
  if (!isHere) return fault;
  return new OutputRefused(
    `"${shortName(named)}" cannot be written: ${reasons[code]} (${code}). Name another place, or mend this one.`,
  );
}

/** The fault of the file system behind a fault; the engine wraps them, more than once. */
function systemFault(fault: unknown): { code: string; path: string | undefined } | null {
  let current = fault;
  for (let depth = 0; depth < 8 && current instanceof Error; depth += 1) {
    const { code, path, originalError, cause } = current as NodeJS.ErrnoException & {
      originalError?: unknown;
    };
    if (typeof code === "string" && /^E[A-Z0-9]+$/.test(code)) return { code, path };
    current = originalError ?? cause;
  }
  return null;
}

function shortName(name: string): string {
  return name.length > 120 ? `${name.slice(0, 117)}...` : name;
}

/** Whether a path is a folder or lies inside it; both absolute. */
export function liesIn(path: string, folder: string): boolean {
  const way = relative(folder, resolve(path));
  return way === "" || (way !== ".." && !way.startsWith(`..${sep}`) && resolve(folder, way) !== way);
}

/** A path with its links followed, as far as it exists. */
export function realPath(path: string): string {
  const absolute = resolve(path);
  if (existsSync(absolute)) return realpathSync(absolute);
  const above = dirname(absolute);
  return above === absolute ? absolute : join(realPath(above), basename(absolute));
}

/**
 * Makes a folder and those above it that are missing; returns the ones it made, the deepest first. One at a time: asked
 * for all at once, Node never comes back from a file system that takes no folders.
 */
export function makeFolders(folder: string): string[] {
  const missing: string[] = [];
  for (let path = resolve(folder); !existsSync(path) && dirname(path) !== path; path = dirname(path))
    missing.push(path);
  const made: string[] = [];
  try {
    for (const path of missing.reverse()) {
      if (makeFolder(path)) made.unshift(path);
    }
  } catch (fault) {
    removeEmptyFolders(made);
    throw fault;
  }
  return made;
}

/** False where another program was faster. */
function makeFolder(path: string): boolean {
  try {
    mkdirSync(path);
    return true;
  } catch (fault) {
    if ((fault as NodeJS.ErrnoException).code === "EEXIST" && existsSync(path)) return false;
    throw fault;
  }
}

/** Takes back folders, the deepest first; one that is in use by now stays. */
export function removeEmptyFolders(folders: string[]): void {
  for (const folder of folders) {
    try {
      rmdirSync(folder);
    } catch {
      return;
    }
  }
}
