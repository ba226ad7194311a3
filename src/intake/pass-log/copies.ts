import { createHash } from "node:crypto";
import { createReadStream } from "node:fs";
import { stat } from "node:fs/promises";
import { join } from "node:path";
import { byCodePoint, stableBy } from "../../model/order.ts";

/**
 * Files that have the same bytes as another: by the path of the copy, that of the original. Only files of equal size are
 * read for it. Whatever a file manager calls a copy, its name is longer than the original's.
 */
export async function copiesAmong(folder: string, paths: readonly string[]): Promise<Map<string, string>> {
  const bySize = new Map<number, string[]>();
  for (const path of paths) {
    const bytes = await stat(join(folder, path)).then(({ size }) => size, unreadable);
    if (bytes > 0) bySize.set(bytes, [...(bySize.get(bytes) ?? []), path]);
  }
  const copies = new Map<string, string>();
  for (const alike of bySize.values()) {
    if (alike.length < 2) continue;
    const originals = new Map<string, string>();
    for (const path of alike.sort(shortestFirst)) {
      const hash = await hashOf(join(folder, path)).catch(unreadable);
      if (typeof hash === "number") continue;
      const original = originals.get(hash);
      if (original === undefined) originals.set(hash, path);
      else copies.set(path, original);
    }
  }
  return copies;
}

/** That a file cannot be read is reported where it is. */
function unreadable(): number {
  return 0;
}

const shortestFirst = stableBy<string>((a, b) => a.length - b.length, byCodePoint);

async function hashOf(onDisk: string): Promise<string> {
  const hash = createHash("sha256");
  for await (const chunk of createReadStream(onDisk)) hash.update(chunk as Buffer);
  return hash.digest("hex");
}
