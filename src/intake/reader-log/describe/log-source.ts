import { createReadStream } from "node:fs";
import { open, stat } from "node:fs/promises";
import { createGunzip } from "node:zlib";
import { UnreadableLog } from "./log-description.ts";

/** The beginning of a log: enough to tell what it is. */
export interface LogStart {
  /** The first bytes, unpacked. */
  head: Buffer;
  /** Whether `head` is all there is. */
  whole: boolean;
  gzipped: boolean;
  bytes: number;
}

const headBytes = 65_536;

/** Opens a log far enough to tell its kind. */
export async function logStart(path: string): Promise<LogStart> {
  const info = await stat(path).catch((fault: NodeJS.ErrnoException) => {
    throw new UnreadableLog(fault.code === "ENOENT" ? "There is no such file." : cannotRead(fault));
  });
  if (info.isDirectory()) throw new UnreadableLog("It is a folder. Name one reader log in it.");
  const magic = Buffer.alloc(2);
  const file = await open(path, "r").catch((fault: NodeJS.ErrnoException) => {
    throw new UnreadableLog(cannotRead(fault));
  });
  await file.read(magic, 0, 2, 0).finally(() => file.close());
  const gzipped = magic[0] === 0x1f && magic[1] === 0x8b;
  const pieces: Buffer[] = [];
  let length = 0;
  let whole = true;
  for await (const piece of logBytes(path, gzipped)) {
    pieces.push(piece);
    length += piece.length;
    if (length <= headBytes) continue;
    whole = false;
    break;
  }
  return { head: Buffer.concat(pieces).subarray(0, headBytes), whole, gzipped, bytes: info.size };
}

/** The bytes of a log, unpacked. */
export async function* logBytes(path: string, gzipped: boolean): AsyncGenerator<Buffer> {
  const file = createReadStream(path, { highWaterMark: 1 << 20 });
  const unpacked = gzipped ? file.pipe(createGunzip({ chunkSize: 1 << 20 })) : file;
  // A fault of the file itself does not travel down the pipe by itself.
  if (unpacked !== file) file.on("error", (fault) => unpacked.destroy(fault));
  try {
    for await (const piece of unpacked) yield piece as Buffer;
  } catch (fault) {
    throw new UnreadableLog(cannotRead(fault as NodeJS.ErrnoException));
  } finally {
    file.destroy();
  }
}

function cannotRead(fault: NodeJS.ErrnoException): string {
  if (fault.code === "Z_BUF_ERROR")
    return "It is cut off: the packed file ends before its end. Fetch it again.";
  if (fault.code?.startsWith("Z_")) return "It is packed and damaged. Fetch it again.";
  return `It cannot be read (${fault.code ?? "fault"}).`;
}
