import { spawn } from "node:child_process";
import { cp, mkdtemp, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { beforeAll, beforeEach, describe, expect, it } from "vitest";
import { refuseForeignFolder } from "../../src/site/output/own-site.ts";
import { buildSite } from "../browser/built-site.ts";
import { ended } from "./ended.ts";

const program = join(process.cwd(), "dist", "src", "cli.js");
let room: string;

beforeEach(async () => {
  room = await mkdtemp(join(tmpdir(), "proofwalk-kill-"));
  await cp(join("tests", "golden", "itemised", "data"), join(room, "data"), { recursive: true });
});

/** A module that is loaded before the program and changes how it renames. */
function withRename(body: string): string {
  const code =
    'import fs from "node:fs"; import { syncBuiltinESMExports } from "node:module";' +
    "const rename = fs.renameSync; let count = 0;" +
    `fs.renameSync = (from, to) => { count += 1; ${body} }; syncBuiltinESMExports();`;
  return `data:text/javascript,${encodeURIComponent(code)}`;
}

function run(preload: string[], ...words: string[]) {
  const child = spawn(process.execPath, [...preload.flatMap((one) => ["--import", one]), program, ...words], {
    cwd: room,
  });
  const said = { out: "", err: "" };
  child.stdout.on("data", (chunk: Buffer) => {
    said.out += chunk.toString();
  });
  child.stderr.on("data", (chunk: Buffer) => {
    said.err += chunk.toString();
  });
  const ended = new Promise<number | NodeJS.Signals | null>((resolve) =>
    child.on("close", (status, signal) => resolve(signal ?? status)),
  );
  return { child, said, ended };
}

async function rename(from: string, to: string): Promise<void> {
  const yaml = join(room, "data", "shed", "facility.yaml");
  const text = await readFile(yaml, "utf8");
  expect(text).toContain(`name: ${from}`);
  await writeFile(yaml, text.replace(`name: ${from}`, `name: ${to}`));
}

const nameOnPage = async () =>
  /Earlier|Newer/.exec(await readFile(join(room, "site", "index.html"), "utf8"))![0];

describe("a build killed in its swap", () => {
  let earlier: string;
  beforeAll(async () => {
    const data = join(await mkdtemp(join(tmpdir(), "proofwalk-earlier-")), "data");
    await cp(join("tests", "golden", "itemised", "data"), data, { recursive: true });
    const yaml = join(data, "shed", "facility.yaml");
    await writeFile(yaml, (await readFile(yaml, "utf8")).replace("name: Shed", "name: Earlier"));
    earlier = (await buildSite(data)).folder;
  });

  // The first rename sets the earlier site aside, the second puts the new one in its place, the third gives the earlier up.
  it.each([
    [1, "Earlier"],
    [2, "Earlier"],
    [3, "Newer"],
  ])(
    "at rename %i leaves a whole site once the next build has looked, and then nothing else",
    async (at, name) => {
      await cp(earlier, join(room, "site"), { recursive: true });
      await rename("Shed", "Newer");
      const kill = withRename(`if (count === ${at}) process.kill(process.pid, "SIGKILL"); rename(from, to);`);
      expect(await run([kill], "build").ended).toBe("SIGKILL");
      expect((await readdir(room)).filter((one) => one.startsWith("site.proofwalk-"))).toHaveLength(1);
      // The next build is refused for its inputs, and looks after the site all the same.
      await writeFile(join(room, "data", "shed", "passes", "torn.csv"), "torn");
      const next = await ended("build", "--data", join(room, "data"), "--out", join(room, "site"));
      expect(next.status).toBe(2);
      expect(await nameOnPage()).toBe(name);
      expect(() => refuseForeignFolder(join(room, "site"), "site")).not.toThrow();
      expect((await readdir(room)).sort()).toEqual(["data", "site"]);
    },
  );
});

describe("serve", () => {
  it("rebuilds when a file changes, saying which, and after a fault or an error serves the site that stood before", async () => {
    const faulty = withRename(
      'if (fs.existsSync("broken")) throw new TypeError("broken"); rename(from, to);',
    );
    const { child, said, ended: gone } = run([faulty], "serve", "--port", "0");
    try {
      await expect.poll(() => said.out).toMatch(/Serving \S+index\.html/);
      const address = /Serving (\S+index\.html)/.exec(said.out)![1]!;
      await writeFile(join(room, "broken"), "");
      await rename("Shed", "Newer");
      await expect.poll(() => said.err).toContain("The site that stood before is served on.");
      expect(said.err).toContain("This is a fault of proofwalk");
      expect(await (await fetch(address)).text()).toContain("Shed");
      await rm(join(room, "broken"));
      await rename("Newer", "Newest");
      await expect.poll(() => said.out).toContain("Rebuilt in");
      expect(said.out).toContain("Changed: shed/facility.yaml");
      const page = async () => (await fetch(address)).text();
      expect(await page()).toMatch(/All facilities.+Newest/s);
      await rename("Newest", "[");
      await expect
        .poll(page)
        .toMatch(/Not built since \d\d:\d\d:\d\d\..+facility\.yaml.+All facilities.+Newest/s);
    } finally {
      child.kill("SIGINT");
    }
    expect(await gone).toBe(0);
    expect((await readdir(room)).sort()).toEqual(["data", "site"]);
  }, 240_000);
});
