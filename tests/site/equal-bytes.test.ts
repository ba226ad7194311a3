import { execFile } from "node:child_process";
import { cp, mkdtemp, readFile, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { promisify } from "node:util";
import { describe, expect, it } from "vitest";
import { judgeAll } from "../../src/commands/facility-source.ts";

const run = promisify(execFile);

async function contentsBuiltIn(timeZone: string, locale: string): Promise<string> {
  const out = join(await mkdtemp(join(tmpdir(), "proofwalk-bytes-")), "site");
  await run(process.execPath, ["dist/src/cli.js", "build", "--out", out], {
    env: { ...process.env, TZ: timeZone, LANG: locale, LC_ALL: locale },
  });
  return readFile(join(out, "contents.sha256"), "utf8");
}

describe("equal inputs", () => {
  it("give equal bytes, every file of the site, in two time zones and locales", async () => {
    const [west, east] = await Promise.all([
      contentsBuiltIn("America/St_Johns", "C"),
      contentsBuiltIn("Pacific/Chatham", "de_DE.UTF-8"),
    ]);
    expect(west.split("\n").length).toBeGreaterThan(50);
    expect(east).toBe(west);
  });
});

describe("the order of the rows", () => {
  // Readers' own logs have comments, headers of many kinds and torn lines: their order is tested where they are read.
  it("changes nothing but the log's own hash: every pass log and manifest turned upside down", async () => {
    const upsideDown = await mkdtemp(join(tmpdir(), "proofwalk-rows-"));
    await cp("data", upsideDown, { recursive: true });
    const straight = await verdicts("data");
    for (const { facility, inputs } of straight) {
      for (const { path } of inputs.filter((input) => /^(passes|manifests)\//.test(input.path))) {
        const file = join(upsideDown, facility.id, path);
        const [header, ...rows] = (await readFile(file, "utf8")).trimEnd().split(/\r?\n/);
        await writeFile(file, [header, ...rows.reverse(), ""].join("\n"));
      }
    }
    const turned = await verdicts(upsideDown);
    const withoutHashes = (results: typeof straight) =>
      results.map((result) => ({
        ...result,
        problems: result.problems.map((problem) => ({ ...problem, line: null })),
        inputs: result.inputs.map(({ path, rows, used, void: voided }) => ({ path, rows, used, voided })),
      }));
    expect(withoutHashes(turned)).toEqual(withoutHashes(straight));
  });
});

async function verdicts(data: string) {
  const results = [];
  for await (const result of judgeAll({ data, only: [] }, { step() {}, done() {} })) results.push(result);
  return results;
}
