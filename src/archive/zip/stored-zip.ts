import { type FileHandle, open } from "node:fs/promises";
import { crc32 } from "node:zlib";
import { byCodePoint } from "../../model/order.ts";
import type { BagFiles } from "../bag/files.ts";
import {
  directoryRecord,
  endBytes,
  endRecords,
  localHeader,
  readDirectory,
  type ZipEntry,
} from "./records.ts";

/** Writes files into a new zip, below a folder of the name given, stored as they are: the same bytes for the same files. */
export async function writeStoredZip(files: BagFiles, folder: string, to: string): Promise<void> {
  const zip = await open(to, "wx");
  try {
    const entries: ZipEntry[] = [];
    let offset = 0;
    for (const [path, bytes] of files.sizes) {
      const entry = { name: `${folder}/${path}`, bytes, crc32: 0, offset };
      // The checksum is known once the file was read: the header is written then, in the room left for it.
      let at = offset + localHeader(entry).length;
      for await (const piece of files.pieces(path)) {
        entry.crc32 = crc32(piece, entry.crc32);
        await writeWhole(zip, piece, at);
        at += piece.length;
      }
      const header = localHeader(entry);
      if (at !== offset + header.length + bytes) throw new Error(`${path} was changed while it was read.`);
      await writeWhole(zip, header, offset);
      entries.push(entry);
      offset = at;
    }
    await writeWhole(zip, tailOf(entries, offset), offset);
  } finally {
    await zip.close();
  }
}

async function writeWhole(file: FileHandle, bytes: Uint8Array, at: number): Promise<void> {
  for (let written = 0; written < bytes.length; )
    written += (await file.write(bytes, written, bytes.length - written, at + written)).bytesWritten;
}

function tailOf(entries: ZipEntry[], offset: number): Buffer {
  const directory = Buffer.concat(entries.map(directoryRecord));
  return Buffer.concat([directory, endRecords({ entries: entries.length, bytes: directory.length, offset })]);
}

/** A zip with the files of a folder in it. */
export interface StoredZip {
  folder: string;
  files: BagFiles;
}

/**
 * Opens a zip that `writeStoredZip` wrote; null for any other, also where a single byte of its records is not as it would be
 * written here.
 */
export async function readStoredZip(path: string): Promise<StoredZip | null> {
  const zip = await open(path);
  try {
    const entries = await entriesOf(zip);
    if (entries === null) return null;
    const folder = entries[0]?.name.split("/")[0] ?? "";
    const start = `${folder}/`;
    const names = entries.map(({ name }) => name);
    if (folder === "" || !names.every((name) => name.startsWith(start) && isPlain(name))) return null;
    if (new Set(names).size < names.length || names.join("\n") !== names.toSorted(byCodePoint).join("\n"))
      return null;
    const byPath = new Map(entries.map((entry) => [entry.name.slice(start.length), entry]));
    return {
      folder,
      files: {
        sizes: new Map([...byPath].map(([name, { bytes }]) => [name, bytes])),
        odd: [],
        pieces: (name) => contentOf(path, byPath.get(name)!),
      },
    };
  } finally {
    await zip.close();
  }
}

/** Nothing in it leads elsewhere. */
function isPlain(name: string): boolean {
  return (
    name.split("/").every((part) => part !== "" && part !== "." && part !== "..") && !/[\\\0]/.test(name)
  );
}

/** Null where the file is not, byte for byte, what its own directory makes. */
async function entriesOf(zip: FileHandle): Promise<ZipEntry[] | null> {
  const { size } = await zip.stat();
  const guess = await readWhole(zip, Math.max(0, size - (1 << 20)), Math.min(size, 1 << 20));
  const first = guess.length < endBytes ? null : readDirectory(guess, size);
  if (first === null) return null;
  const tail = await readWhole(zip, first.place.offset, size - first.place.offset);
  const directory = readDirectory(tail, size);
  if (directory === null) return null;
  const entries: ZipEntry[] = [];
  let offset = 0;
  for (const named of directory.names) {
    const header = localHeader(named);
    if (offset + header.length + named.bytes > directory.place.offset) return null;
    if (!(await readWhole(zip, offset, header.length)).equals(header)) return null;
    let sum = 0;
    for await (const piece of range(zip, offset + header.length, named.bytes)) sum = crc32(piece, sum);
    if (sum !== named.crc32) return null;
    entries.push({ ...named, offset });
    offset += header.length + named.bytes;
  }
  return offset === directory.place.offset && tailOf(entries, offset).equals(tail) ? entries : null;
}

async function readWhole(file: FileHandle, at: number, bytes: number): Promise<Buffer> {
  const whole = Buffer.alloc(bytes);
  const { bytesRead } = await file.read(whole, 0, bytes, at);
  return whole.subarray(0, bytesRead);
}

const pieceBytes = 1 << 20;

async function* range(file: FileHandle, start: number, bytes: number): AsyncGenerator<Uint8Array> {
  const piece = Buffer.allocUnsafe(Math.min(pieceBytes, bytes));
  for (let done = 0; done < bytes; ) {
    const { bytesRead } = await file.read(piece, 0, Math.min(piece.length, bytes - done), start + done);
    if (bytesRead === 0) return;
    yield piece.subarray(0, bytesRead);
    done += bytesRead;
  }
}

async function* contentOf(path: string, entry: ZipEntry): AsyncGenerator<Uint8Array> {
  const zip = await open(path);
  try {
    yield* range(zip, entry.offset + localHeader(entry).length, entry.bytes);
  } finally {
    await zip.close();
  }
}
