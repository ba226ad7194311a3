import { join } from "node:path";
import { namesIn } from "./places/names-in-folder.ts";
import { placeInFolder } from "./places/place-in-folder.ts";
import { suggest } from "./problems/card/wording.ts";
import { fileNotRead, folderNotRead, noPassLog } from "./problems/folder.ts";
import type { ProblemList } from "./problems/problem-list.ts";

interface Listed {
  /** Relative to the facility's folder, with `/`. */
  path: string;
  /** Without .csv or .xlsx. */
  name: string;
}

/** The CSV files and workbooks of a facility's folder, by code point; remarks on what lies beside them. */
export async function listedInputs(
  folder: string,
  problems: ProblemList,
): Promise<{ manifests: Listed[]; logs: Listed[]; power: Listed[] }> {
  await remarkOnFolders(folder, problems);
  const manifests = await tableFiles(folder, "manifests", problems);
  const logs = await tableFiles(folder, "passes", problems);
  const power = await tableFiles(folder, "power", problems);
  if (logs?.length === 0) problems.report({ file: "passes" }, noPassLog);
  return { manifests: manifests ?? [], logs: logs ?? [], power: power ?? [] };
}

const inputFolders = ["attachments", "manifests", "passes", "power"];
const tableName = /\.(?:csv|xlsx)$/i;

/** What a spreadsheet program puts beside a workbook that is open in it. */
function isLock(name: string): boolean {
  return name.startsWith("~$") || name.startsWith(".~lock.");
}

/** A folder whose name is nearly right would be passed over in silence. */
async function remarkOnFolders(folder: string, problems: ProblemList): Promise<void> {
  for (const name of (await namesIn(folder, null, problems)) ?? []) {
    if (tableName.test(name) && !isLock(name))
      problems.report({ file: name }, fileNotRead.besideYaml({ name }));
    const near = inputFolders.includes(name) ? null : suggest(name, inputFolders);
    if (near === null || (await placeInFolder(folder, name)).kind !== "folder") continue;
    problems.report({ file: name }, folderNotRead.with({ name, near }));
  }
}

/** Null, with the reason reported, where the folder is there and cannot be read. */
async function tableFiles(folder: string, room: string, problems: ProblemList): Promise<Listed[] | null> {
  const place = await placeInFolder(folder, room);
  if (place.kind === "none") return [];
  if (place.kind === "refused") {
    problems.report({ file: room }, place.problem);
    return null;
  }
  const names = await namesIn(join(folder, room), room, problems);
  if (names === null) return null;
  const files: Listed[] = [];
  for (const name of names.filter((each) => !each.startsWith(".") && !isLock(each))) {
    const path = `${room}/${name}`;
    const { kind, problem } = await placeInFolder(folder, path);
    const isTable = tableName.test(name);
    if (kind === "file" && isTable) files.push({ path, name: name.replace(tableName, "") });
    else if (problem !== null && isTable) problems.report({ file: path }, problem);
    else if (kind === "folder")
      problems.report({ file: path }, fileNotRead.subfolder({ name, folder: room }));
    else problems.report({ file: path }, fileNotRead.noTable({ name, folder: room }));
  }
  return files;
}
