import { readdir } from "node:fs/promises";
import { byCodePoint } from "../../model/order.ts";
import { folderUnreadable } from "../problems/folder.ts";
import type { ProblemList } from "../problems/problem-list.ts";
import { codeOf } from "./place-in-folder.ts";

/** The names in a folder, by code point; none where it does not exist; null, with the reason reported, where it cannot be listed. */
export async function namesIn(
  onDisk: string,
  path: string | null,
  problems: ProblemList,
): Promise<string[] | null> {
  try {
    return (await readdir(onDisk)).sort(byCodePoint);
  } catch (error) {
    const reason = codeOf(error);
    if (reason === "ENOENT") return [];
    problems.report({ file: path }, folderUnreadable.with({ reason }));
    return null;
  }
}
