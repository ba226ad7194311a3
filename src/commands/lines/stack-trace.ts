import { existsSync, readFileSync } from "node:fs";
import { SourceMap } from "node:module";
import { fileURLToPath } from "node:url";

/** What is said of a fault of the tool itself. */
export function faultText(fault: unknown): string {
  const stack = fault instanceof Error ? (fault.stack ?? fault.message) : String(fault);
  return (
    "This is a fault of proofwalk, not of your files. Please report it with what you did.\n" +
    `${sourceTrace(stack)}\n`
  );
}

/** A stack trace that names the sources: each place in a compiled file is looked up in the map beside it. */
export function sourceTrace(stack: string): string {
  return stack.replace(
    /(file:\/\/[^\s()]+\.js):(\d+):(\d+)/g,
    (place, url: string, line: string, column: string) => {
      const map = `${fileURLToPath(url)}.map`;
      if (!existsSync(map)) return place;
      // Both sides count from 0 where a stack counts from 1.
      const found = new SourceMap(JSON.parse(readFileSync(map, "utf8"))).findEntry(
        Number(line) - 1,
        Number(column) - 1,
      );
      if (!("originalSource" in found)) return place;
      return `${found.originalSource.replace(/^(\.\.\/)+/, "")}:${found.originalLine + 1}:${found.originalColumn + 1}`;
    },
  );
}
