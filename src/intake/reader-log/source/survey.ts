import { createHash } from "node:crypto";
import type { ReadStream } from "node:fs";
import { type FileHandle, open, stat } from "node:fs/promises";
import { createGunzip } from "node:zlib";
import { codeOf } from "../../places/place-in-folder.ts";
import type { FullText } from "../../problems/card/problem.ts";
import { fileUnreadable } from "../../problems/folder.ts";
import {
  readerLogChanged,
  readerLogCutShort,
  readerLogLineTooLong,
  readerLogRowsTooMany,
  readerLogUnpackedRatio,
  readerLogUnpackedSize,
} from "../../problems/reader-log.ts";

/** What a log may hold at most; docs/limits.md lists them. */
export const limits = {
  /** Bytes of a line. In JSON a line may be a whole message. */
  lineBytes: { delimited: 1_000_000, "json-lines": 8_000_000 },
  unpackedBytes: 4_000_000_000,
  /** Reads, or other events. Lines of text are counted in a sixteenth of the file. */
  rows: 50_000_000,
  /** Unpacked bytes a packed one, of logs that are large once unpacked. */
  unpackedRatio: 200,
  ratioFromBytes: 50_000_000,
};

/** Lines longer than this are long. */
const usualLineBytes = 4096;
/** What the database makes of lines with too many columns grows with the square of their length: more than this is too much. */
export const mostSquaredBytes = 1e8;

/** File systems keep times no finer than this: what was changed shortly before may change again and look the same. */
const coarsestTimeMs = 2000n;

interface SurveyedFile {
  place: string;
  zipped: boolean;
  /** Null where the file has no lines. */
  mostLineBytes: number | null;
  /** Unpacked, where it is packed. */
  mostBytes?: number;
  mostRows?: number;
}

/** What tells one state of a file from another. */
type FileState = Pick<Awaited<ReturnType<typeof stateAt>>, "size" | "mtimeNs" | "ctimeNs" | "ino" | "dev">;

/** One walk over all bytes of a log: their hash, and whether they stay within the limits. */
export class Survey {
  readonly #file: SurveyedFile;
  readonly #startedMs = BigInt(Date.now());
  readonly done: Promise<void>;
  #state: FileState | null = null;
  #hash = "";
  #fault: FullText | null = null;
  #squaredBytes = 0;
  #hasOddQuotes = false;

  /** @param after what to wait for, so that not all files are open at once */
  constructor(file: SurveyedFile, after: Promise<unknown> = Promise.resolve()) {
    this.#file = file;
    this.done = after.then(() => this.#walk());
  }

  /** Why the log is not to be read; null as far as is known. */
  get fault(): FullText | null {
    return this.#fault;
  }

  /** SHA-256 once the walk is done; empty where the log is not to be read. */
  get sha256(): string {
    return this.#hash;
  }

  /** Whether its long lines, as far as is known, would be slow to read where they have too many columns. */
  get hasLongLines(): boolean {
    return this.#squaredBytes > mostSquaredBytes;
  }

  /** Whether a quote is never closed, once the walk is done. */
  get hasOpenQuote(): boolean {
    return this.#hasOddQuotes;
  }

  /** What is to be said where the file is no longer the one that was walked over; null where it is. */
  async changed(): Promise<FullText | null> {
    await this.done;
    const before = this.#state;
    if (before === null || this.#fault !== null) return null;
    const now = await stateAt(this.#file.place).catch(() => null);
    const isSame =
      now !== null &&
      (["size", "mtimeNs", "ctimeNs", "ino", "dev"] as const).every((key) => now[key] === before[key]);
    if (!isSame) return readerLogChanged;
    const isSettled = before.ctimeNs / 1_000_000n < this.#startedMs - coarsestTimeMs;
    return isSettled || (await hashOf(this.#file.place)) === this.#hash ? null : readerLogChanged;
  }

  async #walk(): Promise<void> {
    try {
      const handle = await open(this.#file.place);
      try {
        this.#state = await handle.stat({ bigint: true });
        await this.#walkOver(handle, Number(this.#state.size));
      } finally {
        await handle.close();
      }
    } catch (error) {
      this.#fault = unreadableFile(error);
    }
  }

  async #walkOver(handle: FileHandle, size: number): Promise<void> {
    const {
      place,
      zipped,
      mostLineBytes,
      mostBytes = limits.unpackedBytes,
      mostRows = limits.rows,
    } = this.#file;
    const hash = createHash("sha256");
    const file = zipped ? streamOf(handle) : null;
    const unpacked = file === null ? null : unpackedFrom(file, (chunk) => hash.update(chunk));
    const lines = mostLineBytes === null ? null : new LineWalk(mostLineBytes);
    let walked = 0;
    try {
      for await (const chunk of (unpacked as AsyncIterable<Buffer> | null) ?? chunksOf(handle)) {
        if (!zipped) hash.update(chunk);
        lines?.take(chunk);
        if (hasOddQuotes(chunk)) this.#hasOddQuotes = !this.#hasOddQuotes;
        walked += chunk.length;
        this.#squaredBytes = lines?.squaredBytes ?? 0;
        if (lines?.tooLongAt != null) {
          const line = await lineAt({ place, zipped }, lines.tooLongAt);
          this.#fault = readerLogLineTooLong.with({ line, most: mostLineBytes! });
        } else if (walked > mostBytes) {
          this.#fault = readerLogUnpackedSize.with({ most: mostBytes, zipped });
        } else if (zipped && walked > limits.ratioFromBytes && walked > limits.unpackedRatio * size) {
          this.#fault = readerLogUnpackedRatio.with({ most: limits.unpackedRatio, size });
        } else if (lines !== null && lines.lines > mostRows) {
          this.#fault = readerLogRowsTooMany.counted({ most: mostRows });
        }
        if (this.#fault !== null) return;
      }
    } finally {
      file?.destroy();
      unpacked?.destroy();
    }
    this.#hash = hash.digest("hex");
  }
}

/** What is to be said of a file that cannot be read, packed or not. */
export function unreadableFile(error: unknown): FullText {
  const reason = codeOf(error);
  return reason.startsWith("Z_")
    ? readerLogCutShort.with("a gzip file that is cut short or damaged")
    : fileUnreadable.with({ reason });
}

const chunkBytes = 1 << 20;

const streamOf = (handle: FileHandle): ReadStream =>
  handle.createReadStream({ highWaterMark: chunkBytes, autoClose: false, start: 0 });

/** The bytes of a file, each chunk in the memory of the one before: to clear away hundreds of them takes as long as to hash them. */
async function* chunksOf(handle: FileHandle): AsyncGenerator<Buffer> {
  const memory = Buffer.allocUnsafeSlow(chunkBytes);
  for (let at = 0; ; ) {
    const { bytesRead } = await handle.read(memory, 0, chunkBytes, at);
    if (bytesRead === 0) return;
    at += bytesRead;
    yield memory.subarray(0, bytesRead);
  }
}

function unpackedFrom(file: ReadStream, see: (chunk: Buffer) => void) {
  const bytes = createGunzip({ chunkSize: 1 << 18 });
  file.on("data", (chunk) => see(chunk as Buffer));
  // A pipe does not pass faults on.
  file.on("error", (fault) => bytes.destroy(fault));
  return file.pipe(bytes);
}

function stateAt(place: string) {
  return stat(place, { bigint: true });
}

async function hashOf(place: string): Promise<string | null> {
  const hash = createHash("sha256");
  const handle = await open(place).catch(() => null);
  if (handle === null) return null;
  try {
    for await (const chunk of chunksOf(handle)) hash.update(chunk);
  } finally {
    await handle.close();
  }
  return hash.digest("hex");
}

const [lineFeed, carriageReturn] = [10, 13];

/** Looks for long lines in steps, so that short ones cost next to nothing. */
class LineWalk {
  readonly #most: number;
  /** Bytes since the last line end. */
  #open = 0;
  #at = 0;
  /** The lengths of long lines, squared and added up. */
  squaredBytes = 0;
  /** Where the first line beyond the limit begins. */
  tooLongAt: number | null = null;
  /** Line ends in the steps that were counted. */
  #ends = 0;

  constructor(most: number) {
    this.#most = most;
  }

  /** About how many lines there are so far: no more than a sixteenth of them is counted. */
  get lines(): number {
    return this.#ends * stepsPerCount;
  }

  take(chunk: Buffer): void {
    for (let from = 0; from < chunk.length && this.tooLongAt === null; from += usualLineBytes) {
      const step = chunk.subarray(from, from + usualLineBytes);
      if (Math.floor(this.#at / usualLineBytes) % stepsPerCount === stepsPerCount - 1)
        this.#ends += endsIn(step);
      const last = lastEnd(step);
      const length = this.#open + (last < 0 ? step.length : this.#open > usualLineBytes ? firstEnd(step) : 0);
      if (length > this.#most) this.tooLongAt = this.#at - this.#open;
      if (last >= 0 && length > usualLineBytes) this.squaredBytes += length ** 2;
      this.#open = last < 0 ? length : step.length - 1 - last;
      this.#at += step.length;
    }
  }
}

const stepsPerCount = 16;

const quote = 0x22;

function hasOddQuotes(bytes: Buffer): boolean {
  // Most logs have no quotes, and to find none is fast.
  const first = bytes.indexOf(quote);
  if (first < 0) return false;
  let quotes = 0;
  for (let at = first; at < bytes.length; at += 1) if (bytes[at] === quote) quotes += 1;
  return quotes % 2 === 1;
}

function endsIn(bytes: Buffer): number {
  return Math.max(countOf(lineFeed, bytes), countOf(carriageReturn, bytes));
}

/** From one to the next: to look at each byte here takes ten times as long. */
function countOf(byte: number, bytes: Buffer): number {
  let count = 0;
  for (let at = bytes.indexOf(byte); at >= 0; at = bytes.indexOf(byte, at + 1)) count += 1;
  return count;
}

function lastEnd(bytes: Buffer): number {
  const at = bytes.lastIndexOf(lineFeed);
  return at < 0 ? bytes.lastIndexOf(carriageReturn) : at;
}

function firstEnd(bytes: Buffer): number {
  const [feed, carriage] = [bytes.indexOf(lineFeed), bytes.indexOf(carriageReturn)];
  return feed < 0 || (carriage >= 0 && carriage < feed) ? carriage : feed;
}

/** The number of the line that begins at a byte. */
async function lineAt(
  { place, zipped }: Pick<SurveyedFile, "place" | "zipped">,
  byte: number,
): Promise<number> {
  const handle = await open(place);
  const file = streamOf(handle);
  const bytes = zipped ? unpackedFrom(file, () => {}) : file;
  let line = 1;
  let at = 0;
  let wasCarriage = false;
  try {
    for await (const chunk of bytes as AsyncIterable<Buffer>) {
      for (const each of chunk.subarray(0, Math.max(0, byte - at))) {
        if (each === carriageReturn || (each === lineFeed && !wasCarriage)) line += 1;
        wasCarriage = each === carriageReturn;
      }
      at += chunk.length;
      if (at >= byte) break;
    }
  } finally {
    file.destroy();
    await handle.close();
  }
  return line;
}
