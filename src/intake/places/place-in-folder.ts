import { lstat, realpath, stat } from "node:fs/promises";
import { join, sep } from "node:path";
import type { FullText } from "../problems/card/problem.ts";
import { fileUnreadable, linkBroken, linkOutside } from "../problems/folder.ts";

/** What stands at a path of a facility's folder, or why it is not to be read. */
export type PlaceInFolder =
  | { kind: "file" | "folder" | "none"; problem: null }
  | { kind: "refused"; problem: FullText };

/**
 * Follows a path to what it stands for. Only what is not there counts as nothing: a link that leads nowhere, a link that leaves
 * the folder, and what cannot be looked at are refused, since a verdict without them would be one on less than was meant.
 *
 * @param folder the facility's folder, which may itself be a link
 * @param path relative to it, with `/`
 */
export async function placeInFolder(folder: string, path: string): Promise<PlaceInFolder> {
  const onDisk = join(folder, path);
  try {
    const real = await realpath(onDisk);
    const base = await realpath(folder);
    if (!real.startsWith(base.endsWith(sep) ? base : base + sep))
      return { kind: "refused", problem: linkOutside.with({ target: real }) };
    const found = await stat(real);
    return { kind: found.isFile() ? "file" : found.isDirectory() ? "folder" : "none", problem: null };
  } catch (error) {
    const code = codeOf(error);
    if (code !== "ENOENT") return { kind: "refused", problem: fileUnreadable.with({ reason: code }) };
    const isLink = await lstat(onDisk).then(
      (found) => found.isSymbolicLink(),
      () => false,
    );
    return isLink ? { kind: "refused", problem: linkBroken } : { kind: "none", problem: null };
  }
}

/** The system's name of an error with files, such as EACCES. Any other error is a fault of the tool, and thrown. */
export function codeOf(error: unknown): string {
  const { code } = error as NodeJS.ErrnoException;
  if (code === undefined) throw error;
  return code;
}
