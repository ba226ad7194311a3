import { execFileSync } from "node:child_process";
import { mkdtempSync, readdirSync, readFileSync, statSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { CompiledProgram } from "../../src/start/compiled-program.ts";

/** A program of two files in a folder of its own. */
function program(): { folder: string; main: string } {
  const folder = mkdtempSync(join(tmpdir(), "proofwalk-program-"));
  writeFileSync(
    join(folder, "main.cjs"),
    'const { count } = require("./part.cjs"); require("./part.cjs");\nexports.said = () => ["run", count()].join(" ");',
  );
  writeFileSync(join(folder, "part.cjs"), "let runs = 0;\nruns += 1;\nexports.count = () => runs;");
  return { folder, main: join(folder, "main.cjs") };
}

function saidBy(main: string): string {
  return (new CompiledProgram().load(main) as { said(): string }).said();
}

function withCaches(): ReturnType<typeof program> {
  const made = program();
  const loaded = new CompiledProgram();
  (loaded.load(made.main) as { said(): string }).said();
  loaded.writeCaches();
  return made;
}

test("a file of the program runs once, whoever asks for it, with code caches and without", () => {
  const { folder, main } = withCaches();
  expect(readdirSync(folder).sort()).toEqual(["main.cjs", "main.cjs.cache", "part.cjs", "part.cjs.cache"]);
  expect([saidBy(program().main), saidBy(main)]).toEqual(["run 1", "run 1"]);
});

test("a code cache of another source is passed over, even one of the same length", () => {
  const { main } = withCaches();
  writeFileSync(main, readFileSync(main, "utf8").replace('"run"', '"RUN"'));
  expect(saidBy(main)).toBe("RUN 1");
});

test("a damaged code cache and a cut one are passed over", () => {
  const { main } = withCaches();
  const whole = readFileSync(`${main}.cache`);
  const damaged = Buffer.from(whole);
  damaged[damaged.length - 9]! ^= 0xff;
  for (const cache of [damaged, whole.subarray(0, 40), Buffer.alloc(0)]) {
    writeFileSync(`${main}.cache`, cache);
    expect(saidBy(main)).toBe("run 1");
  }
});

describe("the compiled program", () => {
  /** Whether `--version` took the cache of the file that it begins with: V8 says how many bytes it took each time. */
  function takesCache(...options: string[]): boolean {
    const words = ["--profile-deserialization", ...options, "dist/src/cli.js", "--version"];
    const said = execFileSync(process.execPath, words, { encoding: "utf8" });
    expect(said).toMatch(/^\d+\.\d+\.\d+$/m);
    const { size } = statSync("dist/src/program/cli.cjs.cache");
    return said.includes(`[Deserializing from ${size - 32} bytes `);
  }

  test("brings code caches that the Node which compiled it takes", () => {
    expect(takesCache()).toBe(true);
  });

  test("takes none that another release of Node wrote, though its V8 would: what it runs then fails", () => {
    const release = 'Object.defineProperty(process, "version", { value: "v20.0.0" })';
    expect(takesCache("--import", `data:text/javascript,${encodeURIComponent(release)}`)).toBe(false);
  });

  test("takes none where the options of V8 are others", () => {
    expect(takesCache("--no-flush-bytecode")).toBe(false);
  });
});

test("a stack trace names the places in the file", () => {
  const folder = mkdtempSync(join(tmpdir(), "proofwalk-program-"));
  const main = join(folder, "main.cjs");
  writeFileSync(main, 'exports.stack = new Error("struck").stack;');
  const { stack } = new CompiledProgram().load(main) as { stack: string };
  expect(stack).toMatch(/file:\/\/.*main\.cjs:1:17/);
});
