import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { facilityLines } from "../../src/commands/lines/result-lines.ts";
import { buildSite } from "../browser/built-site.ts";

const folders = ["itemised", "listed", "tally-and-mixture"];

// The expected files are renewed with `npx vitest run tests/golden -u`, by a person who then compares them with the
// counts in the README beside them; with CI set, nothing is ever written.
describe.each(folders)("the folder %s", (name) => {
  it("comes out as the archived result, the terminal's words and the files of the site", async () => {
    const expected = join(import.meta.dirname, name, "expected");
    const site = await buildSite(join(import.meta.dirname, name, "data"));
    for (const result of site.results) {
      const archived = await readFile(join(site.folder, result.facility.id, "result.json"), "utf8");
      const unversioned = archived.replace(/"version": "[^"]+"/, '"version": "any"');
      await expect(unversioned).toMatchFileSnapshot(join(expected, `${result.facility.id}.result.json`));
      await expect(facilityLines(result)).toMatchFileSnapshot(join(expected, `${result.facility.id}.judge.txt`));
    }
    await expect(`${[...site.files].join("\n")}\n`).toMatchFileSnapshot(join(expected, "files.txt"));
  });
});
