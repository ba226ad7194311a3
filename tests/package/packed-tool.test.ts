import { execFile } from "node:child_process";
import { mkdtemp, readdir, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { promisify } from "node:util";
import { describe, expect, it } from "vitest";

const run = promisify(execFile);

describe("the packed tool", () => {
  it("installed in an empty folder starts, checks and builds a facility with no clone about", async () => {
    const room = await mkdtemp(join(tmpdir(), "proofwalk-pack-"));
    const { stdout } = await run("npm", ["pack", "--ignore-scripts", "--json", "--pack-destination", room]);
    const tarball = JSON.parse(stdout)[0];
    const names: string[] = tarball.files.map((file: { path: string }) => file.path);
    expect(
      names.filter((name) => /^(data|tests|bench|demonstration|dist\/(bench|demonstration))\//.test(name)),
    ).toEqual([]);
    const elsewhere = { cwd: room, env: { ...process.env, npm_config_prefer_offline: "true" } };
    await writeFile(join(room, "package.json"), '{ "private": true }');
    await run("npm", ["install", "--no-audit", "--no-fund", `./${tarball.filename}`], elsewhere);
    const proofwalk = (...words: string[]) =>
      run(process.execPath, ["node_modules/proofwalk/dist/src/cli.js", ...words], elsewhere);
    await proofwalk("new", "data/yard");
    expect((await proofwalk("check")).stdout).toContain("1 facility");
    expect((await run("npx", ["--no-install", "proofwalk", "build"], elsewhere)).stdout).toContain("written");
    expect(await readdir(join(room, "site", "yard"))).toEqual(
      expect.arrayContaining(["index.html", "sign-off-sheet.html", "result.json"]),
    );
  }, 180_000);
});
