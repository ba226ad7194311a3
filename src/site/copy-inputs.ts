import { createHash } from "node:crypto";
import { mkdirSync } from "node:fs";
import { type FileHandle, open } from "node:fs/promises";
import { dirname, join } from "node:path";
import type { InputFile } from "../model/record/input-file.ts";
import { OutputRefused } from "./output/output-place.ts";

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
 * @returns the SHA-512 of each, by its path, made in the same pass
 */
export async function copyInputs(
  id: string,
  inputs: InputFile[],
  { from, to }: { from: string; to: string },
): Promise<Map<string, string>> {
  const sums = new Map<string, string>();
  for (const { path, sha256 } of inputs) {
    if (unlistable.test(path))
      throw new OutputRefused(
        `The name of ${JSON.stringify(path)} of ${id} cannot stand in a list of files. Rename the file, or build with --inputs none.`,
      );
    const copied = await copyHashed(join(from, path), join(to, path));
    if (copied?.sha256 !== sha256)
      throw new OutputRefused(
        `"${path}" of ${id} was changed since it was judged: the copy would be another file than the verdict is on. Do it again once nobody writes to it.`,
      );
    sums.set(path, copied.sha512);
  }
  return sums;
}

/** Where the input files of a facility lie. */
export interface InputsPlace {
  /** What the paths of its own files are relative to. */
  own: string;
  /** What those of the journeys over it are. */
  journeys: string;
}

/** The places in a data folder. */
export function inDataFolder(data: string): (facility: string) => InputsPlace {
  return (facility) => ({ own: join(data, facility), journeys: data });
}

/** Copies the bytes, and nothing of who may read them; returns their checksums, or null where the file is gone. */
async function copyHashed(from: string, to: string): Promise<{ sha256: string; sha512: string } | null> {
  const source = await open(from).catch((fault: NodeJS.ErrnoException) => {
    if (fault.code === "ENOENT") return null;
    throw fault;
  });
  if (source === null) return null;
  try {
    mkdirSync(dirname(to), { recursive: true });
    const target = await open(to, "w");
    try {
      const hashes = [createHash("sha256"), createHash("sha512")] as const;
      // While one piece is hashed here, the system writes it and reads the next one.
      let [piece, other] = [Buffer.allocUnsafe(pieceBytes), Buffer.allocUnsafe(pieceBytes)];
      let reading = source.read(piece, 0, pieceBytes);
      for (;;) {
        const { bytesRead } = await reading;
        if (bytesRead === 0) break;
        const read = piece.subarray(0, bytesRead);
        const writing = writeWhole(target, read);
        reading = source.read(other, 0, pieceBytes);
        const both = Promise.all([writing, reading]);
        for (const hash of hashes) hash.update(read);
        await both;
        [piece, other] = [other, piece];
      }
      const [sha256, sha512] = hashes.map((hash) => hash.digest("hex")) as [string, string];
      return { sha256, sha512 };
    } finally {
      await target.close();
    }
  } finally {
    await source.close();
  }
}

async function writeWhole(file: FileHandle, bytes: Uint8Array): Promise<void> {
  for (let written = 0; written < bytes.length; ) written += (await file.write(bytes, written)).bytesWritten;
}
