import { createHash } from "node:crypto";
import { readFileSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { setFlagsFromString } from "node:v8";
import { Script } from "node:vm";

/** `src/cli.ts`, compiled: the command line runs when it is loaded. */
export const mainFile = fileURLToPath(new URL("../program/cli.cjs", import.meta.url));

/**
 * A command takes a second or two, of which the V8 of Node 20 spends nearly half on optimising functions that are hardly called
 * again: it is told to wait fifteen times as long before it optimises one. What runs for minutes does not notice. Later
 * releases count calls instead and wait longer by themselves; they do not know the option.
 */
export function setEngineOptions(): void {
  if (process.versions.node.startsWith("20.")) setFlagsFromString("--interrupt-budget=1000000");
}

const hashBytes = 32;

interface LoadedFile {
  path: string;
  source: Buffer;
  script: Script;
  module: { exports: unknown };
}

/**
 * The files of the compiled program (CommonJS), each with V8's code cache beside it where compiling wrote one: functions that
 * most commands call then need not be parsed again, which is a tenth of the time that a small facility takes.
 *
 * A cache begins with a hash of itself, of the source that it was made of and of the release of Node that made it. One that is damaged,
 * of another source or of another release is passed over, and the file is compiled as any other. V8 itself looks at its options
 * and at no more than the length of a source and the release that it is built upon: the V8 of Node 20.19 takes what that of Node 20.20
 * wrote, and then fails.
 */
export class CompiledProgram {
  readonly #files = new Map<string, LoadedFile>();

  /** What a file of the program exports; it runs when it is first asked for. */
  load(path: string): unknown {
    const known = this.#files.get(path);
    if (known !== undefined) return known.module.exports;
    const source = readFileSync(path);
    // The parameters stand on a line of their own, so that the places in a stack trace are those in the file.
    const script = new Script(
      `(function (exports, require, module, __filename, __dirname) {\n${source}\n})`,
      { filename: pathToFileURL(path).href, lineOffset: -1, cachedData: fittingCache(path, source) },
    );
    const module = { exports: {} };
    this.#files.set(path, { path, source, script, module });
    const installed = createRequire(path);
    const required = (name: string) =>
      name.startsWith("./") ? this.load(join(dirname(path), name)) : installed(name);
    script.runInThisContext()(module.exports, required, module, path, dirname(path));
    return module.exports;
  }

  /** Writes a cache beside each file that was loaded, of the functions that were called since. */
  writeCaches(): void {
    for (const { path, source, script } of this.#files.values()) {
      const cache = script.createCachedData();
      writeFileSync(cachePath(path), Buffer.concat([hashOf(cache, source), cache]));
    }
  }
}

function cachePath(path: string): string {
  return `${path}.cache`;
}

function hashOf(cache: Buffer, source: Buffer): Buffer {
  const release = `${process.version} ${process.platform} ${process.arch}`;
  return createHash("sha256").update(release).update(cache).update(source).digest();
}

function fittingCache(path: string, source: Buffer): Buffer | undefined {
  let file: Buffer;
  try {
    file = readFileSync(cachePath(path));
  } catch {
    return undefined;
  }
  const cache = file.subarray(hashBytes);
  return hashOf(cache, source).equals(file.subarray(0, hashBytes)) ? cache : undefined;
}
