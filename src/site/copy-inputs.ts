import { createHash } from "node:crypto";
import { mkdirSync } from "node:fs";
import { open } from "node:fs/promises";
import { dirname, join } from "node:path";
import type { InputFile } from "../model/result.ts";
import { OutputRefused } from "./output-place.ts";

const pieceBytes = 1 << 20;

// biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is looked for
const unlistable = /[\u0000-\u001f\\]/;

/**
 * Copies input files into a site or a seal, byte for byte. They are read once more, so their hashes are compared with those of the
 * bytes that were judged.
 *
 * @param id of the facility or journey that they belong to
 * @param from the folder that holds them
 * @param to the folder that they go into
 */
export async function copyInputs(
  id: string,
  inputs: InputFile[],
  { from, to }: { from: string; to: string },
): Promise<void> {
  for (const { path, sha256 } of inputs) {
    if (unlistable.test(path))
      throw new OutputRefused(
        `The name of ${JSON.stringify(path)} of ${id} cannot stand in a list of files. Rename the file, or build with --inputs none.`,
      );
    const copied = await copyHashed(join(from, path), join(to, path));
    if (copied !== sha256)
      throw new OutputRefused(
        `"${path}" of ${id} was changed since it was judged: the copy would be another file than the verdict is on. Do it again once nobody writes to it.`,
      );
  }
}

/** Copies the bytes, and nothing of who may read them; returns their SHA-256, or null where the file is gone. */
async function copyHashed(from: string, to: string): Promise<string | null> {
  const source = await open(from).catch((fault: NodeJS.ErrnoException) => {
    if (fault.code === "ENOENT") return null;
    throw fault;
  });
  if (source === null) return null;
  try {
    mkdirSync(dirname(to), { recursive: true });
    const target = await open(to, "w");
    try {
      const hash = createHash("sha256");
      const piece = Buffer.allocUnsafe(pieceBytes);
      for (;;) {
        const { bytesRead } = await source.read(piece, 0, pieceBytes);
        if (bytesRead === 0) return hash.digest("hex");
        const read = piece.subarray(0, bytesRead);
        hash.update(read);
        for (let written = 0; written < bytesRead; )
          written += (await target.write(read, written)).bytesWritten;
      }
    } finally {
      await target.close();
    }
  } finally {
    await source.close();
  }
}
