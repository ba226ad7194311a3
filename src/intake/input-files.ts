import { readdir, stat } from "node:fs/promises";
import { join } from "node:path";
import { byCodePoint } from "../model/order.ts";
import { fileNotRead, folderNotRead, noPassLog } from "./problems/folder.ts";
import type { ProblemList } from "./problems/problem-list.ts";
import { suggest } from "./problems/wording.ts";

interface Listed {
  /** Relative to the facility's folder, with `/`. */
  path: string;
  /** Without .csv. */
  name: string;
}

/** The CSV files of a facility's folder, by code point; remarks on what lies beside them. */
export async function listedInputs(
  folder: string,
  problems: ProblemList,
): Promise<{ manifests: Listed[]; logs: Listed[] }> {
  await remarkOnFolders(folder, problems);
  const manifests = await csvFiles(folder, "manifests", problems);
  const logs = await csvFiles(folder, "passes", problems);
  if (logs.length === 0) problems.report({ file: "passes" }, noPassLog);
  return { manifests, logs };
}

const rooms = ["manifests", "passes"];

/** A folder whose name is nearly right would be passed over in silence. */
async function remarkOnFolders(folder: string, problems: ProblemList): Promise<void> {
  const names = await readdir(folder).catch(() => [] as string[]);
  for (const name of names.sort(byCodePoint)) {
    if (/\.csv$/i.test(name)) problems.report({ file: name }, fileNotRead.besideYaml({ name }));
    const near = rooms.includes(name) ? null : suggest(name, rooms);
    if (near === null || !(await stat(join(folder, name)).catch(() => null))?.isDirectory()) continue;
    problems.report({ file: name }, folderNotRead.with({ name, near }));
  }
}

async function csvFiles(folder: string, room: string, problems: ProblemList): Promise<Listed[]> {
  const names = await readdir(join(folder, room)).catch(() => [] as string[]);
  const files: Listed[] = [];
  for (const name of names.filter((each) => !each.startsWith(".")).sort(byCodePoint)) {
    const path = `${room}/${name}`;
    const isFile = (await stat(join(folder, path)).catch(() => null))?.isFile() ?? false;
    if (isFile && /\.csv$/i.test(name)) {
      files.push({ path, name: name.replace(/\.csv$/i, "") });
      continue;
    }
    const place = { name, folder: room };
    problems.report({ file: path }, isFile ? fileNotRead.notCsv(place) : fileNotRead.subfolder(place));
  }
  return files;
}
