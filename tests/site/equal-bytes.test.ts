import { execFile } from "node:child_process";
import { cp, mkdtemp, readFile, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { promisify } from "node:util";
import { describe, expect, it } from "vitest";
import { judgeAll } from "../../src/commands/facility-source.ts";
import type { Result } from "../../src/model/result.ts";
import { demonstrationSite } from "../browser/demonstration-site.ts";

const run = promisify(execFile);

/** Where a date by the local clock is often another one than here, and numbers and words are sorted and written otherwise. */
const elsewhere = { TZ: "America/St_Johns", LANG: "de_DE.UTF-8", LC_ALL: "de_DE.UTF-8" };

async function contentsBuiltElsewhere(): Promise<string> {
  const out = join(await mkdtemp(join(tmpdir(), "proofwalk-bytes-")), "site");
  await run(process.execPath, ["dist/src/cli.js", "build", "--out", out], {
    env: { ...process.env, ...elsewhere },
  });
  return readFile(join(out, "contents.sha256"), "utf8");
}

describe("equal inputs", () => {
  it("give equal bytes, every file of the site, in two time zones and locales", async () => {
    const built = await contentsBuiltElsewhere();
    const here = await readFile(join((await demonstrationSite()).folder, "contents.sha256"), "utf8");
    const { stdout } = await run(process.execPath, ["-p", clockAndLocale], {
      env: { ...process.env, ...elsewhere },
    });
    const local = Intl.DateTimeFormat().resolvedOptions();
    expect(JSON.parse(stdout)).toEqual(["America/St_Johns", "de-DE"]);
    expect([local.timeZone, local.locale]).toEqual(["Australia/Adelaide", "en-US"]);
    expect(here.split("\n").length).toBeGreaterThan(50);
    expect(built).toBe(here);
  }, 180_000);
});

const clockAndLocale =
  "const { timeZone, locale } = Intl.DateTimeFormat().resolvedOptions(); JSON.stringify([timeZone, locale])";

describe("the order of the rows", () => {
  // Readers' own logs have comments, headers of many kinds and torn lines: their order is tested where they are read.
  it("changes nothing but the log's own hash: every pass log and manifest turned upside down", async () => {
    const upsideDown = await mkdtemp(join(tmpdir(), "proofwalk-rows-"));
    await cp("data", upsideDown, { recursive: true });
    const { results: straight } = await demonstrationSite();
    for (const { facility, inputs } of straight) {
      for (const { path } of inputs.filter((input) => /^(passes|manifests)\//.test(input.path))) {
        const file = join(upsideDown, facility.id, path);
        const [header, ...rows] = (await readFile(file, "utf8")).trimEnd().split(/\r?\n/);
        await writeFile(file, [header, ...rows.reverse(), ""].join("\n"));
      }
    }
    const turned: Result[] = [];
    for await (const result of judgeAll({ data: upsideDown, only: [] }, { step() {}, done() {} }))
      turned.push(JSON.parse(JSON.stringify(result)));
    expect(turned.flatMap(hashes)).not.toEqual(straight.flatMap(hashes));
    expect(turned.map(withoutHashes)).toEqual(straight.map(withoutHashes));
  }, 180_000);
});

const hashes = ({ inputs }: Result) => inputs.map(({ sha256 }) => sha256);

const withoutHashes = (result: Result) => ({
  ...result,
  problems: result.problems.map((problem) => ({ ...problem, line: null })),
  inputs: result.inputs.map(({ path, rows, used, void: voided }) => ({ path, rows, used, voided })),
});
