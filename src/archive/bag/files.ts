import { createHash } from "node:crypto";
import { readdirSync, statSync } from "node:fs";
import { open } from "node:fs/promises";
import { join } from "node:path";
import { byCodePoint } from "../../model/order.ts";

/** The files of a bag, wherever they lie. Paths are relative to the bag, with `/`. */
export interface BagFiles {
  /** Size in bytes by path, in the order of code points. */
  sizes: ReadonlyMap<string, number>;
  /** What is neither a file nor a folder, such as a link. */
  odd: readonly string[];
  pieces(path: string): AsyncIterable<Uint8Array>;
}

/** Every file below a folder. Links are not followed: what they lead to may change without the bag. */
export function folderFiles(folder: string): BagFiles {
  const sizes = new Map<string, number>();
  const odd: string[] = [];
  const walk = (below: string): string[] =>
    readdirSync(join(folder, below), { withFileTypes: true }).flatMap((entry) => {
      const path = `${below}${entry.name}`;
      if (entry.isDirectory()) return walk(`${path}/`);
      // A name that is not UTF-8 comes with a replacement character, and cannot be opened by it.
      if (entry.isFile() && !path.includes("\ufffd")) return [path];
      odd.push(path);
      return [];
    });
  for (const path of walk("").sort(byCodePoint)) sizes.set(path, statSync(join(folder, path)).size);
  return { sizes, odd: odd.sort(byCodePoint), pieces: (path) => piecesOf(join(folder, path)) };
}

const pieceBytes = 1 << 20;

async function* piecesOf(path: string): AsyncGenerator<Uint8Array> {
  const file = await open(path);
  try {
    const piece = Buffer.allocUnsafe(pieceBytes);
    for (;;) {
      const { bytesRead } = await file.read(piece, 0, pieceBytes);
      if (bytesRead === 0) return;
      yield piece.subarray(0, bytesRead);
    }
  } finally {
    await file.close();
  }
}

/** A file whole: for tag files and other small ones. Payload is read piece by piece. */
export async function bytesOf(files: BagFiles, path: string): Promise<Buffer> {
  const pieces: Buffer[] = [];
  // The next piece may be read into the same memory.
  for await (const piece of files.pieces(path)) pieces.push(Buffer.from(piece));
  return Buffer.concat(pieces);
}

/** The checksums of a file in lower-case hexadecimal digits, by the name that Node has for the algorithm. */
export async function hashesOf(
  files: BagFiles,
  path: string,
  algorithms: Iterable<string>,
): Promise<Map<string, string>> {
  const hashes = new Map([...algorithms].map((name) => [name, createHash(name)]));
  for await (const piece of files.pieces(path)) for (const hash of hashes.values()) hash.update(piece);
  return new Map([...hashes].map(([name, hash]) => [name, hash.digest("hex")]));
}
