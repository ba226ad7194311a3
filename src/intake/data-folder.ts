import { readdir, stat } from "node:fs/promises";
import { join } from "node:path";
import { journeysFolder } from "../model/journey/journey-files.ts";
import { byCodePoint } from "../model/order.ts";
import type { Problem } from "../model/problem.ts";
import { facilityFile } from "./facility/facility.ts";
import { codeOf, placeInFolder } from "./places/place-in-folder.ts";
import type { FullText } from "./problems/card/problem.ts";
import { printable } from "./problems/card/wording.ts";
import {
  dataFolderEmpty,
  dataFolderMissing,
  facilityNameUnusable,
  facilityUnknown,
  facilityYamlMissing,
  fileUnreadable,
  folderUnreadable,
  linkBroken,
} from "./problems/folder.ts";
import { journeyFileNotRead } from "./problems/journey.ts";
import { placedProblem } from "./problems/problem-list.ts";

/**
 * The facilities of a data folder, by code point.
 *
 * @param only ids asked for; empty for all
 * @param journeys ids of journeys that could have been asked for in their place
 */
export async function listFacilities(
  dataDir: string,
  only: string[],
  journeys: readonly string[] = [],
): Promise<{ ids: string[]; problems: Problem[] }> {
  let folders: string[];
  let refused: Map<string, Problem>;
  try {
    ({ folders, refused } = await facilityFolders(dataDir));
  } catch (error) {
    const reason = codeOf(error);
    const problem =
      reason === "ENOENT" || reason === "ENOTDIR"
        ? dataFolderMissing.with({ folder: dataDir })
        : folderUnreadable.with({ reason });
    return { ids: [], problems: [placedProblem({ facility: null }, problem)] };
  }
  if (folders.length + refused.size === 0)
    return {
      ids: [],
      problems: [placedProblem({ facility: null }, dataFolderEmpty.with({ folder: dataDir }))],
    };
  const unknown = [...new Set(only)].filter((id) => !folders.includes(id) && !refused.has(id));
  if (unknown.length > 0)
    return {
      ids: [],
      problems: unknown.map((id) =>
        placedProblem({ facility: null }, facilityUnknown.with({ id, known: folders, journeys })),
      ),
    };
  const asked = only.length === 0 ? folders : folders.filter((id) => only.includes(id));
  const ids: string[] = [];
  const problems = [...refused].flatMap(([name, problem]) =>
    only.length === 0 || only.includes(name) ? [problem] : [],
  );
  for (const id of asked) {
    // What is wrong with a facility.yaml that is there is said where it is read.
    if ((await placeInFolder(join(dataDir, id), facilityFile)).kind !== "none") ids.push(id);
    else problems.push(await withoutYaml(dataDir, id));
  }
  return { ids, problems };
}

// biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is looked for
const controls = /[\u0000-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069]/;

/** The folders by code point, and why what else is named like one cannot be a facility. */
async function facilityFolders(
  dataDir: string,
): Promise<{ folders: string[]; refused: Map<string, Problem> }> {
  const names = (await readdir(dataDir)).filter((name) => !name.startsWith("."));
  const folders: string[] = [];
  const refused = new Map<string, Problem>();
  for (const name of names.sort(byCodePoint)) {
    const found = await stat(join(dataDir, name)).catch((error: unknown) => codeOf(error));
    if (typeof found === "string") {
      // What was removed a moment ago looks like a link that leads nowhere, and the next run will tell.
      const problem = found === "ENOENT" ? linkBroken : fileUnreadable.with({ reason: found });
      refused.set(name, placedProblem({ facility: printable(name) }, problem));
    } else if (!found.isDirectory() || name === journeysFolder) continue;
    else if (controls.test(name))
      refused.set(name, placedProblem({ facility: null }, facilityNameUnusable.with({ name })));
    else folders.push(name);
  }
  return { folders, refused };
}

/** The journeys of a data folder, by code point: a YAML file each. Remarks on what lies beside them. */
export async function listJourneys(dataDir: string): Promise<{ ids: string[]; problems: Problem[] }> {
  const names = await readdir(join(dataDir, journeysFolder)).catch(() => [] as string[]);
  const shown = names.filter((name) => !name.startsWith(".")).sort(byCodePoint);
  const ids = shown
    .flatMap((name) => /^(.+)\.yaml$/.exec(name)?.[1] ?? [])
    .filter((id) => !controls.test(id));
  const problems: Problem[] = [];
  for (const name of shown) {
    if (ids.includes(name.replace(/\.yaml$/, ""))) continue;
    const problem = await notRead(dataDir, name, shown);
    if (problem === null) continue;
    problems.push(placedProblem({ facility: null, file: `${journeysFolder}/${printable(name)}` }, problem));
  }
  return { ids, problems };
}

const anyYaml = /^(.+)\.ya?ml(?:\.txt)?$/i;

/** What is said of a name in the folder of journeys that is no journey's; null for a folder whose YAML file is misspelt, which is told. */
async function notRead(dataDir: string, name: string, all: readonly string[]): Promise<FullText | null> {
  const id = anyYaml.exec(name)?.[1];
  if (id !== undefined && !name.endsWith(".yaml"))
    return journeyFileNotRead.misspelt({ name: printable(name), id: printable(id) });
  const entry = await stat(join(dataDir, journeysFolder, name)).catch(() => null);
  if (!entry?.isDirectory()) return journeyFileNotRead.inJourneys({ name: printable(name) });
  const isTold = all.some((other) => anyYaml.exec(other)?.[1] === name);
  return isTold ? null : journeyFileNotRead.withoutYaml({ name: printable(name) });
}

async function withoutYaml(dataDir: string, id: string): Promise<Problem> {
  const names = await readdir(join(dataDir, id)).catch(() => [] as string[]);
  const near = names.find((name) => /^facility\.ya?ml$/i.test(name));
  return placedProblem(
    { facility: id },
    near === undefined
      ? facilityYamlMissing.amongFacilities({ folder: id })
      : facilityYamlMissing.misspelt({ folder: id, name: near }),
  );
}
