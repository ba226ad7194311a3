import { isUtf8 } from "node:buffer";
import { createHash } from "node:crypto";
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import type { InputFile } from "../../model/record/input-file.ts";
import { placeInFolder } from "../places/place-in-folder.ts";
import type { FullText } from "../problems/card/problem.ts";
import { encodingNotUtf8, fileUnreadable } from "../problems/folder.ts";
import type { ProblemList } from "../problems/problem-list.ts";

/** A YAML file as it was read. */
export interface YamlFile {
  text: string;
  input: InputFile;
}

/**
 * Reads a YAML file; null, with the reason reported, where it cannot be read.
 *
 * @param path relative to the folder
 * @param missing what is said where there is none
 */
export async function yamlFile(
  { folder, path }: { folder: string; path: string },
  missing: FullText,
  problems: ProblemList,
): Promise<YamlFile | null> {
  const refused = (problem: FullText) => {
    problems.report({ file: path }, problem);
    return null;
  };
  const place = await placeInFolder(folder, path);
  if (place.problem !== null) return refused(place.problem);
  const bytes = await readFile(join(folder, path)).catch((error: NodeJS.ErrnoException) => error);
  if (bytes instanceof Error)
    return refused(bytes.code === "ENOENT" ? missing : fileUnreadable.with({ reason: bytes.code ?? "" }));
  if (!isUtf8(bytes) || bytes.includes(0)) return refused(encodingNotUtf8.with());
  const sha256 = createHash("sha256").update(bytes).digest("hex");
  return {
    text: bytes.toString("utf8").replace(/^\ufeff/, ""),
    input: { path, sha256, bytes: bytes.length, rows: null, used: null, void: null },
  };
}
