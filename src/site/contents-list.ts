import { createHash } from "node:crypto";
import { readdir, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { byCodePoint } from "../model/order.ts";

/** Lists every file of a site with its SHA-256; it also marks a folder as one that may be replaced by a new build. */
export const contentsName = "contents.sha256";

/** Every file below a folder, relative, with `/`, by code point. */
export async function filesBelow(folder: string): Promise<string[]> {
  const entries = await readdir(folder, { recursive: true, withFileTypes: true });
  return entries
    .filter((entry) => entry.isFile())
    .map((entry) =>
      join(entry.parentPath, entry.name)
        .slice(folder.length + 1)
        .replaceAll("\\", "/"),
    )
    .sort(byCodePoint);
}

/** Writes the list in the form that `sha256sum -c` reads. */
export async function writeContents(folder: string): Promise<string[]> {
  const files = await filesBelow(folder);
  const lines: string[] = [];
  for (const file of files) {
    const hash = createHash("sha256")
      .update(await readFile(join(folder, file)))
      .digest("hex");
    lines.push(`${hash}  ${file}\n`);
  }
  await writeFile(join(folder, contentsName), lines.join(""));
  return files;
}
