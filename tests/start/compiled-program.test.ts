import { execFileSync } from "node:child_process";
import { mkdtempSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, test } from "vitest";
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

test("a damaged code cache, a cut one and one of another V8 are passed over", () => {
  const { main } = withCaches();
  const whole = readFileSync(`${main}.cache`);
  const damaged = Buffer.from(whole);
  damaged[damaged.length - 9]! ^= 0xff;
  for (const cache of [damaged, whole.subarray(0, 40), Buffer.alloc(0)]) {
    writeFileSync(`${main}.cache`, cache);
    expect(saidBy(main)).toBe("run 1");
  }
  // The options of V8 are part of what a cache fits, as its release is.
  const words = ["--no-flush-bytecode", "--profile-deserialization", "dist/src/cli.js", "--version"];
  expect(execFileSync(process.execPath, words, { encoding: "utf8" })).toMatch(/^\d+\.\d+\.\d+$/m);
});

test("the compiled program brings code caches that this V8 takes", () => {
  const words = ["--profile-deserialization", "dist/src/cli.js", "--version"];
  const said = execFileSync(process.execPath, words, { encoding: "utf8" });
  expect(said.match(/^\[Deserializing from \d+ bytes/gm)?.length).toBeGreaterThan(10);
});

test("a stack trace names the places in the file", () => {
  const folder = mkdtempSync(join(tmpdir(), "proofwalk-program-"));
  const main = join(folder, "main.cjs");
  writeFileSync(main, 'exports.stack = new Error("struck").stack;');
  const { stack } = new CompiledProgram().load(main) as { stack: string };
  expect(stack).toMatch(/file:\/\/.*main\.cjs:1:17/);
});
