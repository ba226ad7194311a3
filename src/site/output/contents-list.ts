import { createHash } from "node:crypto";
import { closeSync, openSync, readdirSync, readFileSync, readSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { byCodePoint } from "../../model/order.ts";

/** Lists every other file of a site with its SHA-256. */
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

const pieceBytes = 1 << 20;

/** In pieces: the log of a reader may be larger than what fits into memory. */
export function hashOfFile(path: string): string {
  const hash = createHash("sha256");
  const piece = Buffer.allocUnsafe(pieceBytes);
  const file = openSync(path, "r");
  try {
    for (let read = readSync(file, piece); read > 0; read = readSync(file, piece))
      hash.update(piece.subarray(0, read));
  } finally {
    closeSync(file);
  }
  return hash.digest("hex");
}

/** Writes the list in the form that `sha256sum -c` reads, and returns what is on it. */
export function writeContents(folder: string): string[] {
  const files = filesBelow(folder);
  const lines = files.map((file) => `${hashOfFile(join(folder, file))}  ${file}\n`);
  writeFileSync(join(folder, contentsName), lines.join(""));
  return files;
}

/** The hashes of a list by file; null where the folder has no such list. */
export function readContents(folder: string): Map<string, string> | null {
  let text: string;
  try {
    text = readFileSync(join(folder, contentsName), "utf8");
  } catch {
    return null;
  }
  const hashes = new Map<string, string>();
  for (const line of text.split("\n")) {
    const match = /^([0-9a-f]{64}) {2}(.+)$/.exec(line);
    if (match !== null) hashes.set(match[2]!, match[1]!);
    else if (line !== "") return null;
  }
  return hashes;
}
