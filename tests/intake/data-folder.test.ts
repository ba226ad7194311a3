import { mkdirSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { expect, test } from "vitest";
import { listFacilities } from "../../src/intake/data-folder.ts";
import { inFolder, soundYaml } from "./folder.ts";

const three = {
  "zeta/facility.yaml": soundYaml,
  "Alpha/facility.yaml": soundYaml,
  "beta/facility.yaml": soundYaml,
};

test("facilities are the folders, by code point, without hidden ones and loose files", async () => {
  await inFolder({ ...three, ".git/x": "", "README.md": "" }, async (data) => {
    expect(await listFacilities(data, [])).toEqual({ ids: ["Alpha", "beta", "zeta"], problems: [] });
    expect(await listFacilities(data, ["zeta", "beta"])).toEqual({ ids: ["beta", "zeta"], problems: [] });
  });
});

test("an unknown facility gets the suggestion", async () => {
  await inFolder(three, async (data) => {
    const { ids, problems } = await listFacilities(data, ["bata"]);
    expect(ids).toEqual([]);
    expect(problems).toMatchObject([
      { severity: "error", code: "facility-unknown", advice: expect.stringMatching(/Did you mean "beta"/) },
    ]);
  });
});

test("a folder without facility.yaml is an error, unless it is left out", async () => {
  await inFolder({ ...three, "gamma/facility.yml": "", "delta/x.txt": "" }, async (data) => {
    const { ids, problems } = await listFacilities(data, []);
    expect(ids).toEqual(["Alpha", "beta", "zeta"]);
    expect(problems.map((p) => [p.severity, p.code, p.facility])).toEqual([
      ["error", "facility-yaml-missing", "delta"],
      ["error", "facility-yaml-missing", "gamma"],
    ]);
    expect(problems[1]?.advice).toMatch(/Rename it to facility\.yaml/);
    expect((await listFacilities(data, ["beta"])).problems).toEqual([]);
  });
});

test("a missing and an empty data folder say how to start", async () => {
  await inFolder({ "x.txt": "" }, async (data) => {
    expect((await listFacilities(data, [])).problems).toMatchObject([{ code: "data-folder-empty" }]);
    const { problems } = await listFacilities(join(data, "nowhere"), []);
    expect(problems).toMatchObject([
      { code: "data-folder-missing", advice: expect.stringMatching(/proofwalk new/) },
    ]);
    const file = join(data, "deep", "x");
    mkdirSync(dirname(file));
    writeFileSync(file, "");
    expect((await listFacilities(file, [])).problems).toMatchObject([{ code: "data-folder-missing" }]);
  });
});
