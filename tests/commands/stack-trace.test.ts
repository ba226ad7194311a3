import { readFileSync } from "node:fs";
import { pathToFileURL } from "node:url";
import { describe, expect, it } from "vitest";
import { sourceTrace } from "../../src/commands/lines/stack-trace.ts";

/** `12:5` of the first place of a text in a file, lines and columns from 1. */
function placeIn(file: string, text: string): string {
  const lines = readFileSync(file, "utf8").split("\n");
  const line = lines.findIndex((one) => one.includes(text));
  return `${line + 1}:${lines[line]!.indexOf(text) + 1}`;
}

describe("the stack trace of a fault", () => {
  it("names the source and its line, though what ran was compiled", () => {
    const call = "runCommandLine(process.argv";
    const compiled = pathToFileURL("dist/src/cli.js").href;
    const stack = `Error: struck\n    at ${compiled}:${placeIn("dist/src/cli.js", call)}\n    at run (${compiled}:${placeIn("dist/src/cli.js", call)})`;
    const source = `src/cli.ts:${placeIn("src/cli.ts", call)}`;
    expect(sourceTrace(stack)).toBe(`Error: struck\n    at ${source}\n    at run (${source})`);
  });

  it("stays as it is where a file has no map", () => {
    const stack = "Error: struck\n    at file:///nowhere/a.js:3:4\n    at node:internal/process:5:6";
    expect(sourceTrace(stack)).toBe(stack);
  });
});
