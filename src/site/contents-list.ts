import { createHash } from "node:crypto";
import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { byCodePoint } from "../model/order.ts";

/** Lists every file of a site with its SHA-256; it also marks a folder as one that may be replaced by a new build. */
export const contentsName = "contents.sha256";

/** Every file below a folder, relative, with `/`, by code point. */
export function filesBelow(folder: string): string[] {
  const entries = readdirSync(folder, { recursive: true, withFileTypes: true });
  return entries
    .filter((entry) => entry.isFile())
    .map((entry) =>
      join(entry.parentPath, entry.name)
        .slice(folder.length + 1)
        .replaceAll("\\", "/"),
    )
    .sort(byCodePoint);
}

/** Writes the list in the form that `sha256sum -c` reads, and returns what is on it. */
export function writeContents(folder: string): string[] {
  const files = filesBelow(folder);
  const lines = files.map((file) => {
    const hash = createHash("sha256").update(readFileSync(join(folder, file)));
    return `${hash.digest("hex")}  ${file}\n`;
  });
  writeFileSync(join(folder, contentsName), lines.join(""));
  return files;
}
