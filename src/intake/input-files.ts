import { readdir, stat } from "node:fs/promises";
import { join } from "node:path";
import { byCodePoint } from "../model/order.ts";
import type { ProblemList } from "./problem-list.ts";
import { quoted } from "./quotation.ts";
import { suggest } from "./suggestion.ts";

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
  if (logs.length === 0) {
    problems.add("passes", null, {
      severity: "warning",
      code: "no-pass-log",
      found: "no pass log in passes/",
      expected: "at least one .csv file",
      advice: "Add the logs of the walks: until then everything is untested.",
    });
  }
  return { manifests, logs };
}

const rooms = ["manifests", "passes"];

/** A folder whose name is nearly right would be passed over in silence. */
async function remarkOnFolders(folder: string, problems: ProblemList): Promise<void> {
  const names = await readdir(folder).catch(() => [] as string[]);
  for (const name of names.sort(byCodePoint)) {
    if (/\.csv$/i.test(name)) remarkOnStrayFile(name, problems);
    const near = rooms.includes(name) ? null : suggest(name, rooms);
    if (near === null || !(await stat(join(folder, name)).catch(() => null))?.isDirectory()) continue;
    problems.add(name, null, {
      severity: "warning",
      code: "folder-not-read",
      found: `the folder ${quoted(name)}`,
      expected: "the folders passes and manifests",
      advice: `Did you mean ${quoted(near)}? It was not looked into.`,
    });
  }
}

function remarkOnStrayFile(name: string, problems: ProblemList): void {
  problems.add(name, null, {
    severity: "warning",
    code: "file-not-read",
    found: `${quoted(name)} beside facility.yaml`,
    expected: "pass logs in passes/ and manifests in manifests/",
    advice: "It was not read: move it into one of the two, if it belongs to the report.",
  });
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
    problems.add(path, null, {
      severity: "warning",
      code: "file-not-read",
      found: isFile ? `${quoted(name)}, which is no .csv file` : `the folder ${quoted(name)}`,
      expected: `.csv files in ${room}/`,
      advice: isFile
        ? "It was not read. Save it as CSV UTF-8 if it belongs here."
        : `It was not looked into: put the .csv files straight into ${room}/.`,
    });
  }
  return files;
}
