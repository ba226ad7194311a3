import { readdir, stat } from "node:fs/promises";
import { join } from "node:path";
import { byCodePoint } from "../model/order.ts";
import type { Problem } from "../model/problem.ts";
import { facilityFile } from "./facility-yaml.ts";
import { listing, quoted } from "./quotation.ts";
import { didYouMean } from "./suggestion.ts";

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
    return { ids: [], problems: [missingFolder(dataDir)] };
  }
  if (folders.length === 0) return { ids: [], problems: [emptyFolder(dataDir)] };
  const unknown = [...new Set(only)].filter((id) => !folders.includes(id));
  if (unknown.length > 0) return { ids: [], problems: unknown.map((id) => unknownFacility(id, folders)) };
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

function problem(
  facility: string | null,
  code: string,
  found: string,
  expected: string,
  advice: string,
): Problem {
  return { severity: "error", code, facility, file: null, line: null, column: null, found, expected, advice };
}

function missingFolder(dataDir: string): Problem {
  return problem(
    null,
    "data-folder-missing",
    `no folder ${quoted(dataDir)}`,
    "a data folder with one folder for each facility",
    "Name it with --data, or start one with `proofwalk new data/my-facility`.",
  );
}

function emptyFolder(dataDir: string): Problem {
  return problem(
    null,
    "data-folder-empty",
    `no facility in ${quoted(dataDir)}`,
    "one folder for each facility, with a facility.yaml in it",
    "Start one with `proofwalk new data/my-facility`, or name another folder with --data.",
  );
}

function unknownFacility(id: string, folders: string[]): Problem {
  return problem(
    null,
    "facility-unknown",
    `--only ${quoted(id)}`,
    `a facility of the data folder: ${listing(folders)}`,
    `${didYouMean(id, folders)}The id of a facility is the name of its folder.`,
  );
}

async function withoutYaml(dataDir: string, id: string): Promise<Problem> {
  const names = await readdir(join(dataDir, id)).catch(() => [] as string[]);
  const near = names.find((name) => /^facility\.ya?ml$/i.test(name));
  return problem(
    id,
    "facility-yaml-missing",
    near === undefined
      ? `the folder ${quoted(id)} without ${facilityFile}`
      : `${quoted(near)} in the folder ${quoted(id)}`,
    facilityFile,
    near === undefined
      ? "Add a facility.yaml, or move the folder out of the data folder (a name that starts with a dot is passed over)."
      : `Rename it to ${facilityFile}.`,
  );
}
