import { readdir, stat } from "node:fs/promises";
import { basename, dirname, extname, join } from "node:path";
import { byCodePoint, byNaturalOrder, stableBy } from "../../../model/order.ts";
import { quoted } from "../../problems/card/wording.ts";
import { headOf } from "../files.ts";
import { settingsHeadBytes, settingsIn } from "../source/settings.ts";

/** Other logs that are looked at. */
const mostFiles = 100;
const mostDifferences = 5;

/** A remark where the settings that logs beside one state in their comments differ from its own; empty where they do not. */
export async function settingsRemarks(path: string, isZipped: boolean): Promise<string[]> {
  const own = await settingsOf(path, isZipped);
  if (own.size === 0) return [];
  const differing: string[] = [];
  for (const name of await namesBeside(path)) {
    const other = await settingsOf(join(dirname(path), name), isZipped).catch(
      () => new Map<string, string>(),
    );
    const keys = [...own.keys()].filter((key) => other.has(key) && other.get(key) !== own.get(key));
    for (const key of keys)
      differing.push(
        `${quoted(key)} is ${quoted(own.get(key)!)} here and ${quoted(other.get(key)!)} in ${name}`,
      );
  }
  if (differing.length === 0) return [];
  const more = differing.length - mostDifferences;
  return [
    `The settings of the reader differ between the logs of this folder: ${differing.slice(0, mostDifferences).join(", ")}${more > 0 ? ` and ${more} more` : ""}. Rounds that were walked with other settings compare the settings too.`,
  ];
}

async function namesBeside(path: string): Promise<string[]> {
  const names: string[] = [];
  for (const name of await readdir(dirname(path)).catch(() => [])) {
    if (name === basename(path) || extname(name) !== extname(path)) continue;
    const isFile = await stat(join(dirname(path), name)).then(
      (found) => found.isFile(),
      () => false,
    );
    if (isFile) names.push(name);
  }
  return names.sort(stableBy(byNaturalOrder, byCodePoint)).slice(0, mostFiles);
}

async function settingsOf(path: string, zipped: boolean): Promise<Map<string, string>> {
  const { bytes } = await headOf({ place: path, zipped }, settingsHeadBytes);
  return settingsIn(bytes.toString("utf8"));
}
