import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setFlagsFromString } from "node:v8";
import { CompiledProgram, mainFile, setEngineOptions } from "./compiled-program.ts";

// Builds the site of the data folder that it is given, and writes the code caches of what that called.
const [node = "", self = "", data = ""] = process.argv;
const folder = mkdtempSync(join(tmpdir(), "proofwalk-"));
process.argv = [node, self, "build", "--data", data, "--out", join(folder, "site")];
setEngineOptions();
// V8 would let go of what was called at the beginning only.
setFlagsFromString("--no-flush-bytecode");
const program = new CompiledProgram();
program.load(mainFile);
process.once("beforeExit", () => {
  rmSync(folder, { recursive: true });
  // Caches fit only where the options are those of a command.
  setFlagsFromString("--flush-bytecode");
  if (process.exitCode === 0) program.writeCaches();
});
