import { readdirSync, readFileSync, statSync } from "node:fs";
import { basename, join } from "node:path";
import { madeWithName } from "../package/made-with.ts";
import { toolVersion } from "../package/package-folders.ts";
import { contentsName, hashOfFile, readContents } from "./contents-list.ts";
import { OutputRefused } from "./output-place.ts";

/** Says what made a site. Without it, and without all its files unchanged, no build replaces a folder. */
export const siteFileName = "site.json";

const tool = "proofwalk";

export const siteFileText = `${JSON.stringify({ tool, version: toolVersion, schemaVersion: 1 }, null, 2)}\n`;

/** What file managers leave in any folder that they show. */
const leftByFileManagers = new Set([".ds_store", "thumbs.db", "desktop.ini"]);

/** Refuses a folder that would lose anything if a build replaced it. */
export function refuseForeignFolder(folder: string, named: string): void {
  if (!statSync(folder).isDirectory())
    throw new OutputRefused(
      `"${named}" is a file and not a folder. Give --out a folder that is new, empty or an unchanged earlier site.`,
    );
  const hashes = readContents(folder) ?? new Map<string, string>();
  const { files, foreign } = entriesOf(folder, hashes);
  if (files.length + foreign.length === 0) return;
  if (foreign.length > 0) {
    throw new OutputRefused(
      `"${named}" holds what proofwalk did not write (${someOf(foreign)}), and a build replaces the whole folder. ` +
        `Move that away, or give --out a folder that is new, empty or an unchanged earlier site.`,
    );
  }
  const changed = files.filter((file) => hashOfFile(join(folder, file)) !== hashes.get(file));
  if (changed.length > 0) {
    throw new OutputRefused(
      `"${named}" holds files that were changed since proofwalk wrote them (${someOf(changed)}), and a build replaces ` +
        `the whole folder. Move it away, or give --out another folder.`,
    );
  }
  if (!files.includes(siteFileName) || !isOwn(join(folder, siteFileName))) {
    throw new OutputRefused(
      `"${named}" has no ${siteFileName} of proofwalk: it is the site of an older version, or none. ` +
        "Move it away, or give --out another folder.",
    );
  }
}

function isOwn(siteFile: string): boolean {
  try {
    return JSON.parse(readFileSync(siteFile, "utf8")).tool === tool;
  } catch {
    return false;
  }
}

/** The files of a list that are there, and what else is; a folder that holds nothing listed is named and not walked. */
function entriesOf(folder: string, hashes: Map<string, string>): { files: string[]; foreign: string[] } {
  const listedFolders = new Set([...hashes.keys()].flatMap(foldersAbove));
  const files: string[] = [];
  const foreign: string[] = [];
  const walk = (below: string) => {
    for (const entry of readdirSync(join(folder, below), { withFileTypes: true })) {
      const path = `${below}${entry.name}`;
      if (entry.isDirectory() && listedFolders.has(path)) walk(`${path}/`);
      else if (entry.isFile() && hashes.has(path)) files.push(path);
      else if (entry.isFile() && isTolerated(path, hashes)) continue;
      else foreign.push(path);
    }
  };
  walk("");
  return { files, foreign };
}

/** The list itself and what a build writes without listing it, which are nothing without files on it, and what file managers leave. */
function isTolerated(path: string, hashes: Map<string, string>): boolean {
  return (
    ([contentsName, madeWithName].includes(path) && hashes.size > 0) ||
    leftByFileManagers.has(basename(path).toLowerCase())
  );
}

function foldersAbove(path: string): string[] {
  const parts = path.split("/").slice(0, -1);
  return parts.map((_, i) => parts.slice(0, i + 1).join("/"));
}

/** The first three names, and how many more there are. */
function someOf(names: string[]): string {
  const shown = names
    .sort()
    .slice(0, 3)
    .map((name) => JSON.stringify(name).slice(1, -1));
  return names.length > shown.length
    ? `${shown.join(", ")} and ${names.length - shown.length} more`
    : shown.join(", ");
}
