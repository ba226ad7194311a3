import { cp, mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { judgeAll } from "../../src/commands/data/judge-all.ts";
import type { Result } from "../../src/model/result/result.ts";
import { inDataFolder } from "../../src/site/copy-inputs.ts";
import { filesBelow, hashOfFile, readContents } from "../../src/site/output/contents-list.ts";
import { writeSite } from "../../src/site/write-site.ts";

const data = "tests/golden/itemised/data";
let room: string;
let result: Result;

beforeAll(async () => {
  room = await mkdtemp(join(tmpdir(), "proofwalk-inputs-"));
  await cp(data, join(room, "data"), { recursive: true });
  for await (const one of judgeAll({ data, only: [] }, { step() {}, done() {} })) result = one;
});

const inputsOf = (id: string) => inDataFolder(join(room, "data"))(id);

describe("a site", () => {
  it("holds the input files byte for byte, under the hashes that were judged, and lists them", async () => {
    const site = join(room, "site");
    await writeSite([result], site, { inputsOf });
    const listed = readContents(site)!;
    expect(result.inputs.length).toBeGreaterThan(1);
    for (const { path, sha256 } of result.inputs) {
      const kept = `shed/inputs/${path}`;
      expect(await readFile(join(site, kept))).toEqual(await readFile(join(data, "shed", path)));
      expect(listed.get(kept)).toBe(sha256);
      expect(hashOfFile(join(site, kept))).toBe(sha256);
    }
  });

  it("holds the schema of the result and the licences of what it takes from others", async () => {
    const site = join(room, "site");
    const schema = await readFile(join(site, "schemas/result.schema.json"), "utf8");
    expect(schema).toBe(await readFile("schemas/result.schema.json", "utf8"));
    const notices = await readFile(join(site, "assets/notices.txt"), "utf8");
    for (const part of [
      "source-sans-3",
      "source-serif-4",
      "chart.js",
      "SIL OPEN FONT LICENSE",
      "Chart.js Contributors",
    ])
      expect(notices).toContain(part);
  });

  it("says what computed it, outside the list of its files, and is replaced all the same", async () => {
    const site = join(room, "site");
    const made = JSON.parse(await readFile(join(site, "made-with.json"), "utf8"));
    expect(made.runtime).toMatchObject({ name: "node", version: process.version });
    expect(made.tool.commit === null || /^[0-9a-f]{40}$/.test(made.tool.commit)).toBe(true);
    const { dependencies } = JSON.parse(await readFile("package.json", "utf8"));
    expect(Object.keys(made.libraries)).toEqual(
      expect.arrayContaining([...Object.keys(dependencies), "simple-statistics", "zod", "qr"]),
    );
    expect(readContents(site)!.has("made-with.json")).toBe(false);
    await writeFile(join(site, "made-with.json"), "{}");
    await writeSite([result], site, { inputsOf });
    expect(JSON.parse(await readFile(join(site, "made-with.json"), "utf8"))).toEqual(made);
  });

  it("holds no input file where none is asked for", async () => {
    const site = join(room, "none");
    await writeSite([result], site, { inputsOf, inputs: "none" });
    expect(filesBelow(site).filter((file) => file.includes("/inputs/"))).toEqual([]);
  });
});

describe("an input file that is not the one judged", () => {
  const refused = () => writeSite([result], join(room, "other"), { inputsOf });

  it("is refused by name, and no site is written", async () => {
    const log = join(inputsOf("shed").own, "passes/walks.csv");
    const whole = await readFile(log);
    await writeFile(log, Buffer.concat([whole, Buffer.from("\n")]));
    await expect(refused()).rejects.toThrow('"passes/walks.csv" of shed was changed since it was judged');
    await rm(log);
    await expect(refused()).rejects.toThrow('"passes/walks.csv" of shed was changed since it was judged');
    await writeFile(log, whole);
    expect(filesBelow(room).some((file) => file.startsWith("other/"))).toBe(false);
  });
});
