import { createHash } from "node:crypto";
import { createReadStream } from "node:fs";

/** SHA-256 of a file, read as a stream. */
export async function fileHash(place: string): Promise<string> {
  const hash = createHash("sha256");
  for await (const chunk of createReadStream(place, { highWaterMark: 1 << 20 })) hash.update(chunk as Buffer);
  return hash.digest("hex");
}
