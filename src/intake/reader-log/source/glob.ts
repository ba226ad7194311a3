import { readdir, realpath } from "node:fs/promises";
import { join, posix, sep } from "node:path";
import { byCodePoint, byNaturalOrder } from "../../../model/order.ts";
import { codeOf, placeInFolder } from "../../places/place-in-folder.ts";
import type { FullText } from "../../problems/card/problem.ts";
import { folderUnreadable } from "../../problems/folder.ts";
import { readerLogFilesTooMany } from "../../problems/reader-log.ts";

/** Files that one pattern may name, and folders and files that are looked at for it. */
export const mostFiles = 10_000;

/** What a pattern names. */
interface Matches {
  /** Relative to the folder, in natural order. */
  paths: string[];
  /** What it names and is not to be read, with the reason. */
  refused: { path: string; problem: FullText }[];
}

/** The files that a pattern names: `*` stands for any run of characters inside one name. */
export async function filesLike(folder: string, pattern: string): Promise<Matches> {
  const parts = posix.normalize(pattern).split("/");
  const matches: Matches = { paths: [], refused: [] };
  if (parts.includes("..") || posix.isAbsolute(pattern)) return matches;
  let bases = [""];
  for (const [depth, part] of parts.entries()) {
    const isLast = depth === parts.length - 1;
    const found: string[] = [];
    let looked = 0;
    for (const base of bases) {
      const names = await namesLike(join(folder, base), part);
      if ("code" in names) {
        matches.refused.push({ path: base === "" ? "." : base, problem: names });
        continue;
      }
      looked += names.length;
      if (looked > mostFiles) {
        const problem = readerLogFilesTooMany.with({ pattern, most: mostFiles });
        return { paths: [], refused: [{ path: pattern, problem }] };
      }
      for (const name of names) {
        const path = base === "" ? name : `${base}/${name}`;
        if (!isLast && (await isAbove(folder, path, base))) continue;
        const { kind, problem } = await placeInFolder(folder, path);
        // What leads nowhere is a folder to nobody.
        if (problem !== null && (isLast || problem.code !== "link-broken"))
          matches.refused.push({ path, problem });
        if (kind === (isLast ? "file" : "folder")) found.push(path);
      }
    }
    bases = found;
  }
  matches.paths = bases.sort((a, b) => byNaturalOrder(a, b) || byCodePoint(a, b));
  return matches;
}

/** Whether a folder is a link to one that it lies in: nothing is below it that is not found without it. */
async function isAbove(folder: string, path: string, base: string): Promise<boolean> {
  const placeOf = (each: string) => realpath(join(folder, each)).catch(() => null);
  const [whole, above, real] = [await placeOf(""), await placeOf(base), await placeOf(path)];
  if (whole === null || above === null || real === null) return false;
  return isWithin(above, real) && isWithin(real, whole);
}

function isWithin(place: string, folder: string): boolean {
  return place === folder || place.startsWith(folder + sep);
}

async function namesLike(folder: string, part: string): Promise<string[] | FullText> {
  if (!part.includes("*")) return [part];
  try {
    const names = await readdir(folder);
    return names.filter((name) => !name.startsWith(".") && isLike(name, part));
  } catch (error) {
    const reason = codeOf(error);
    return reason === "ENOENT" || reason === "ENOTDIR" ? [] : folderUnreadable.with({ reason });
  }
}

/** Whether a name fits a pattern. Each piece is taken where it first stands, so that the time grows with the length alone. */
export function isLike(name: string, pattern: string): boolean {
  const pieces = pattern.split("*");
  const [first, last] = [pieces.shift()!, pieces.pop()];
  if (last === undefined) return name === pattern;
  if (!name.startsWith(first)) return false;
  let at = first.length;
  for (const piece of pieces) {
    const found = name.indexOf(piece, at);
    if (found < 0) return false;
    at = found + piece.length;
  }
  return name.length - last.length >= at && name.endsWith(last);
}
