import { execFile } from "node:child_process";
import { cp, mkdtemp, readFile, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { basename, join } from "node:path";
import { promisify } from "node:util";
import { expect, it } from "vitest";
import type { Result } from "../../src/model/result.ts";
import { openSite } from "../browser/built-site.ts";
import { demonstrationSite } from "../browser/demonstration-site.ts";

const run = promisify(execFile);

/** Where a date by the local clock is often another one than here, and numbers and words are sorted and written otherwise. */
const elsewhere = { ...process.env, TZ: "America/St_Johns", LANG: "de_DE.UTF-8", LC_ALL: "de_DE.UTF-8" };
const clockAndLocale =
  "const { timeZone, locale } = Intl.DateTimeFormat().resolvedOptions(); JSON.stringify([timeZone, locale])";

/** Files that name the hashes of the inputs. */
const hashing = [
  "contents.sha256",
  "index.html",
  "inputs.html",
  "inputs.csv",
  "result.json",
  "sign-off-sheet.html",
];
const withoutHashes = (text: string) => text.replace(/\b[0-9a-f]{8,64}\b/g, "#");
const hashes = ({ inputs }: Result) => inputs.map(({ sha256 }) => sha256);

// Readers' own logs have comments, headers of many kinds and torn lines: their order is tested where they are read.
it("equal inputs give equal bytes, every file of the site, in two time zones and locales and in any order of rows", async () => {
  const straight = await demonstrationSite();
  const room = await mkdtemp(join(tmpdir(), "proofwalk-bytes-"));
  const [data, out] = [join(room, "data"), join(room, "site")];
  await cp("data", data, { recursive: true });
  for (const { facility, inputs } of straight.results) {
    for (const { path } of inputs.filter((input) => /^(passes|manifests)\//.test(input.path))) {
      const file = join(data, facility.id, path);
      const [header, ...rows] = (await readFile(file, "utf8")).trimEnd().split(/\r?\n/);
      await writeFile(file, [header, ...rows.reverse(), ""].join("\n"));
    }
  }

  const local = Intl.DateTimeFormat().resolvedOptions();
  expect([local.timeZone, local.locale]).toEqual(["Australia/Adelaide", "en-US"]);
  const { stdout } = await run(process.execPath, ["-p", clockAndLocale], { env: elsewhere });
  expect(JSON.parse(stdout)).toEqual(["America/St_Johns", "de-DE"]);
  const words = ["dist/src/cli.js", "build", "--data", data, "--out", out];
  await run(process.execPath, words, { env: elsewhere });

  const turned = await openSite(out);
  expect(turned.results.flatMap(hashes)).not.toEqual(straight.results.flatMap(hashes));
  expect(straight.files.size).toBeGreaterThan(50);
  expect([...turned.files]).toEqual([...straight.files]);
  for (const file of straight.files) {
    const [one, other] = await Promise.all(
      [straight, turned].map(({ folder }) => readFile(join(folder, file))),
    );
    if (one!.equals(other!)) continue;
    expect(hashing, file).toContain(basename(file));
    expect(withoutHashes(other!.toString("utf8")), file).toBe(withoutHashes(one!.toString("utf8")));
  }
}, 180_000);
