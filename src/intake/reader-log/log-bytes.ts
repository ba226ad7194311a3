import { createReadStream } from "node:fs";
import { open } from "node:fs/promises";
import { Writable } from "node:stream";
import { pipeline } from "node:stream/promises";
import { createGunzip } from "node:zlib";
import type { LogSource } from "./log-source.ts";

type Finding = { severity: "error"; code: string; found: string; expected: string; advice: string };

const gzipMark = "1f8b";
const parquetMark = "50415231";

/**
 * What a file's bytes say against its name: text called .gz, say, or a compressed file that was cut short, of which a reader that
 * is content with less would silently take a part. Null where they agree.
 */
export async function bytesFault({ place, bytes, kind, zipped }: LogSource): Promise<Finding | null> {
  if (bytes === 0) return null;
  const [first, last] = await endsOf(place, bytes);
  if (zipped) {
    if (first.slice(0, 4) !== gzipMark) return notAsNamed("bytes that are no gzip", ".gz");
    return (await isWholeGzip(place)) ? null : cutShort("a gzip file that is cut short or damaged");
  }
  if (kind !== "parquet") {
    if (first.slice(0, 4) === gzipMark) return notAsNamed("a gzip file", "text");
    return first === parquetMark ? notAsNamed("a parquet file", "text") : null;
  }
  if (first !== parquetMark) return notAsNamed("bytes that are no parquet", ".parquet");
  return last === parquetMark ? null : cutShort("a parquet file that is cut short");
}

/** The first and the last four bytes. */
async function endsOf(place: string, bytes: number): Promise<[string, string]> {
  const file = await open(place);
  try {
    const four = async (at: number) => {
      const { buffer, bytesRead } = await file.read(Buffer.alloc(4), 0, 4, Math.max(0, at));
      return buffer.toString("hex", 0, bytesRead);
    };
    return [await four(0), await four(bytes - 4)];
  } finally {
    await file.close();
  }
}

async function isWholeGzip(place: string): Promise<boolean> {
  const nowhere = new Writable({ write: (_chunk, _encoding, done) => done() });
  try {
    await pipeline(createReadStream(place), createGunzip(), nowhere);
    return true;
  } catch {
    return false;
  }
}

const notAsNamed = (found: string, kind: string): Finding => ({
  severity: "error",
  code: "reader-log-kind",
  found,
  expected: kind === "text" ? "a text, as the file's name says" : `a ${kind} file, as the name says`,
  advice: "Rename the file after what is in it, or export the log again.",
});

const cutShort = (found: string): Finding => ({
  severity: "error",
  code: "reader-log-cut-short",
  found,
  expected: "the whole file",
  advice: "Copy or export it again: what is missing of it cannot be told from what is there.",
});
