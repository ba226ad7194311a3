import { availableParallelism } from "node:os";
import { defineConfig } from "vitest/config";
import { templates } from "./templates-plugin.js";
import { SlowFilesFirst } from "./tests/slow-files-first.ts";

export default defineConfig({
  plugins: [templates()],
  test: {
    include: ["tests/**/*.test.ts"],
    globalSetup: ["tests/browser/unpack-chromium.ts", "tests/browser/shared-folder.ts"],
    reporters: ["default", ["json", { outputFile: "test-results.json" }]],
    // Far from UTC, and half an hour off: a test that leans on the machine's clock fails here.
    env: { TZ: "Australia/Adelaide", LC_ALL: "en_US.UTF-8" },
    testTimeout: 60_000,
    hookTimeout: 60_000,
    expect: { poll: { timeout: 60_000 } },
    // What tests wait for, a program or the browser, keeps a core busy itself; each worker more loads all modules once more.
    maxWorkers: availableParallelism(),
    // Each module is loaded once a worker, not once a file: no test may rest on what another left in one.
    isolate: false,
    execArgv: [
      // Tests make much and keep little: with more room (MB) less of it is copied.
      "--max-semi-space-size=64",
      // The tool asks Node 20 for the same: V8 spends less on optimising what runs for seconds only.
      ...(process.versions.node.startsWith("20.") ? ["--interrupt-budget=1000000"] : []),
    ],
    sequence: { sequencer: SlowFilesFirst },
  },
});
