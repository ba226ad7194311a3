import { createReadStream } from "node:fs";
import { createGunzip } from "node:zlib";
import type { LogSource } from "./log-source.ts";

/** The lines of a text log with their numbers from 1, however they end; without the byte-order mark. */
export async function* logLines(source: LogSource): AsyncGenerator<{ line: number; text: string }> {
  const bytes = bytesOf(source);
  const decoder = new TextDecoder("utf-8");
  let line = 0;
  let open = "";
  for await (const chunk of bytes) {
    const lines = (open + decoder.decode(chunk as Buffer, { stream: true })).split(/\r\n|\n|\r(?!$)/);
    open = lines.pop()!;
    for (const text of lines) {
      line += 1;
      yield { line, text };
    }
  }
  open += decoder.decode();
  if (open.endsWith("\r")) open = open.slice(0, -1);
  if (open !== "") yield { line: line + 1, text: open };
}

/** Whether the first lines of a log end in more than one way. */
export async function mixesLineEnds(source: LogSource, lines: number): Promise<boolean> {
  let text = "";
  let ends: string[] = [];
  for await (const chunk of bytesOf(source)) {
    text += (chunk as Buffer).toString("latin1");
    ends = (text.match(/\r\n|\n|\r(?!$)/g) ?? []).slice(0, lines);
    if (ends.length === lines) break;
  }
  return new Set(ends).size > 1;
}

function bytesOf(source: LogSource) {
  const file = createReadStream(source.place, { highWaterMark: 1 << 18 });
  if (!source.zipped) return file;
  const bytes = file.pipe(createGunzip());
  // A pipe does not pass faults on.
  file.on("error", (fault) => bytes.destroy(fault));
  return bytes;
}

/** A line that holds no row: blank, or a comment. */
export function isRemark(text: string): boolean {
  return /^\s*(?:$|#|\/\/)/.test(text);
}
