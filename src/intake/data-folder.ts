import { readdir, stat } from "node:fs/promises";
import { join } from "node:path";
import { byCodePoint } from "../model/order.ts";
import type { Problem } from "../model/problem.ts";
import {
  dataFolderEmpty,
  dataFolderMissing,
  facilityUnknown,
  facilityYamlMissing,
} from "./problems/folder.ts";
import type { FullText } from "./problems/problem.ts";
import { facilityFile } from "./yaml/facility.ts";

/**
 * The facilities of a data folder, by code point.
 *
 * @param only ids asked for; empty for all
 */
export async function listFacilities(
  dataDir: string,
  only: string[],
): Promise<{ ids: string[]; problems: Problem[] }> {
  let folders: string[];
  try {
    folders = await facilityFolders(dataDir);
  } catch {
    return { ids: [], problems: [placed(null, dataFolderMissing.with({ folder: dataDir }))] };
  }
  if (folders.length === 0)
    return { ids: [], problems: [placed(null, dataFolderEmpty.with({ folder: dataDir }))] };
  const unknown = [...new Set(only)].filter((id) => !folders.includes(id));
  if (unknown.length > 0)
    return {
      ids: [],
      problems: unknown.map((id) => placed(null, facilityUnknown.with({ id, known: folders }))),
    };
  const asked = only.length === 0 ? folders : folders.filter((id) => only.includes(id));
  const ids: string[] = [];
  const problems: Problem[] = [];
  for (const id of asked) {
    if (await isFile(join(dataDir, id, facilityFile))) ids.push(id);
    else problems.push(await withoutYaml(dataDir, id));
  }
  return { ids, problems };
}

async function facilityFolders(dataDir: string): Promise<string[]> {
  const names = (await readdir(dataDir)).filter((name) => !name.startsWith("."));
  const folders: string[] = [];
  for (const name of names) {
    if ((await stat(join(dataDir, name)).catch(() => null))?.isDirectory()) folders.push(name);
  }
  return folders.sort(byCodePoint);
}

async function isFile(path: string): Promise<boolean> {
  return (await stat(path).catch(() => null))?.isFile() ?? false;
}

function placed(facility: string | null, text: FullText): Problem {
  const { severity, code, found, expected, advice } = text;
  return { severity, code, facility, file: null, line: null, column: null, found, expected, advice };
}

async function withoutYaml(dataDir: string, id: string): Promise<Problem> {
  const names = await readdir(join(dataDir, id)).catch(() => [] as string[]);
  const near = names.find((name) => /^facility\.ya?ml$/i.test(name));
  return placed(
    id,
    near === undefined
      ? facilityYamlMissing.amongFacilities({ folder: id })
      : facilityYamlMissing.misspelt({ folder: id, name: near }),
  );
}
