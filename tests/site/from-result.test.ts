import { mkdtemp, readFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, test } from "vitest";
import { facilityFolder } from "../../src/pages/parts/paths.ts";
import { writeSite } from "../../src/site/write-site.ts";
import { demonstrationSite } from "../browser/demonstration-site.ts";

test("the archived results and input files alone give the whole site again, byte for byte", async () => {
  const original = await demonstrationSite();
  const again = join(await mkdtemp(join(tmpdir(), "proofwalk-again-")), "site");
  await writeSite(original.results, again, {
    inputsOf: (id) => join(original.folder, facilityFolder(id), "inputs"),
  });
  const contents = (folder: string) => readFile(join(folder, "contents.sha256"), "utf8");
  const listed = await contents(original.folder);
  expect(listed.split("\n").length).toBeGreaterThan(50);
  expect(await contents(again)).toBe(listed);
}, 120_000);
