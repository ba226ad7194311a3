import { readdir, stat } from "node:fs/promises";
import { join } from "node:path";
import { byCodePoint } from "../analysis/order.ts";
import type { ProblemList } from "./problem-list.ts";
import { quoted } from "./quotation.ts";

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
