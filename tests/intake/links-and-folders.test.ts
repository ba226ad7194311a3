import { mkdirSync, symlinkSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { listFacilities } from "../../src/intake/data-folder.ts";
import { openFacility } from "../../src/intake/facility/facility.ts";
import { readFacility } from "../../src/intake/read-facility-folder.ts";
import { type Files, inFolder, log, places, soundLog, soundYaml } from "./folder.ts";

const sound: Files = { "facility.yaml": soundYaml, "passes/a.csv": soundLog };

/** What is reported of a facility after something was done to its folder. */
async function reported(files: Files, change: (folder: string) => void): Promise<string[]> {
  return inFolder(files, async (folder) => {
    change(folder);
    const { input, problems } = await readFacility(await openFacility(folder));
    expect(input === null).toBe(problems.some(({ severity }) => severity === "error"));
    return places(problems);
  });
}

describe("a folder of the inputs", () => {
  test("that is not there is none, with a remark on the logs", async () => {
    expect(await reported({ "facility.yaml": soundYaml }, () => {})).toEqual([
      "warning passes:-:- no-pass-log",
    ]);
  });

  test("that is there and cannot be listed is an error, and no facility without logs", async () => {
    const broken = (folder: string) => writeFileSync(join(folder, "passes"), "");
    expect(await reported({ "facility.yaml": soundYaml }, broken)).toEqual([
      "error passes:-:- folder-unreadable",
    ]);
    const circle = (folder: string) => symlinkSync("manifests", join(folder, "manifests"));
    expect(await reported(sound, circle)).toEqual(["error manifests:-:- file-unreadable"]);
  });
});

describe("a symbolic link", () => {
  test("that leads nowhere is an error, and not left out of the verdict", async () => {
    expect(await reported(sound, (folder) => symlinkSync("gone.csv", join(folder, "passes/b.csv")))).toEqual([
      "error passes/b.csv:-:- link-broken",
    ]);
    expect(await reported(sound, (folder) => symlinkSync("gone", join(folder, "manifests")))).toEqual([
      "error manifests:-:- link-broken",
    ]);
  });

  test("to a file of the facility is read like the file", async () => {
    const change = (folder: string) => {
      mkdirSync(join(folder, "kept"));
      writeFileSync(join(folder, "kept/load.csv"), "tag\nT1\n");
      mkdirSync(join(folder, "manifests"));
      symlinkSync("../kept/load.csv", join(folder, "manifests/load.csv"));
    };
    expect(await reported(sound, change)).toEqual(["warning manifests/load.csv:-:- manifest-unused"]);
  });

  test("that leaves the facility is refused, be it of a log, a folder or facility.yaml", async () => {
    const outside = (folder: string) => join(folder, "..", "outside");
    const change = (link: string, target: string) => (folder: string) => {
      mkdirSync(join(outside(folder), "passes"), { recursive: true });
      writeFileSync(join(outside(folder), "passes/b.csv"), soundLog);
      writeFileSync(join(outside(folder), "facility.yaml"), soundYaml);
      symlinkSync(join(outside(folder), target), join(folder, link));
    };
    const yaml = { "facility.yaml": soundYaml };
    expect(await reported(sound, change("passes/b.csv", "passes/b.csv"))).toEqual([
      "error passes/b.csv:-:- link-outside",
    ]);
    expect(await reported(yaml, change("passes", "passes"))).toEqual(["error passes:-:- link-outside"]);
    expect(await reported({ "passes/a.csv": soundLog }, change("facility.yaml", "facility.yaml"))).toEqual([
      "error facility.yaml:-:- link-outside",
    ]);
  });

  test("to a reader's log outside the facility gives no verdict", async () => {
    const files = {
      "facility.yaml": `${soundYaml}reader_logs:\n  - { files: reads/r.csv, read_point: dock-1, columns: { time: t, epc: c } }\n`,
      "manifests/load.csv": "tag\nT1\n",
      "passes/a.csv": log(
        "round,pass,read_point,started_at,ended_at,manifest",
        "as-left,P1,dock-1,2026-05-21 10:00:00,2026-05-21 10:00:10,load",
      ),
      "reads/x.txt": "",
    };
    const change = (folder: string) => {
      writeFileSync(join(folder, "../r.csv"), "t,c\n2026-05-21T09:00:05Z,T1\n");
      symlinkSync("../../r.csv", join(folder, "reads/r.csv"));
    };
    expect(await reported(files, change)).toEqual(["error reads/r.csv:-:- link-outside"]);
  });
});

describe("a data folder", () => {
  test("names the link that leads nowhere, unless it is left out", async () => {
    await inFolder({ "one/facility.yaml": soundYaml }, async (data) => {
      symlinkSync("gone", join(data, "two"));
      const all = await listFacilities(data, []);
      expect(all.ids).toEqual(["one"]);
      expect(all.problems).toMatchObject([{ facility: "two", code: "link-broken" }]);
      expect(await listFacilities(data, ["one"])).toEqual({ ids: ["one"], problems: [] });
    });
  });

  test("that is a circle of links is unreadable, and not missing", async () => {
    await inFolder({ "one/facility.yaml": soundYaml }, async (data) => {
      symlinkSync("round", join(data, "round"));
      const { problems } = await listFacilities(join(data, "round"), []);
      expect(problems).toMatchObject([{ code: "folder-unreadable", found: '"ELOOP"' }]);
    });
  });

  test("takes no facility whose name would steer the terminal", async () => {
    await inFolder({ "a\u001b[31mb/facility.yaml": soundYaml }, async (data) => {
      const { ids, problems } = await listFacilities(data, []);
      expect(ids).toEqual([]);
      expect(problems).toMatchObject([
        { facility: null, code: "facility-name-unusable", found: 'the folder "a\\u001b[31mb"' },
      ]);
    });
  });
});

describe("what a terminal would obey", () => {
  test("never stands in a problem, wherever it came from", async () => {
    const steering = "\u001b]0;owned\u0007";
    const files: Files = {
      "facility.yaml": `${soundYaml}reader_logs:\n  - { files: "reads/\\u001b]0;owned\\u0007.csv", read_point: "dock\\e[31m", columns: { time: t, epc: c } }\n"\\e[31m": 1\n`,
      [`passes/${steering}.csv`]: log(
        `round,pass,read_point,manifest,missed_tags,${steering}`,
        `x${steering},,,m${steering},`,
      ),
      [`passes/${steering}.txt`]: "",
      [`manifests/${steering}.csv`]: `tag\nT1\nT1${steering}\nT1\n`,
      [`${steering}.csv`]: "",
    };
    await inFolder(files, async (folder) => {
      const { problems } = await readFacility(await openFacility(folder));
      expect(problems.length).toBeGreaterThan(3);
      const texts = problems.flatMap(({ file, found, expected, advice }) => [
        file ?? "",
        found,
        expected,
        advice,
      ]);
      expect(texts.filter((text) => /\p{Cc}/u.test(text))).toEqual([]);
      expect(problems.some(({ file }) => file?.includes("\\u001b"))).toBe(true);
    });
  });
});
