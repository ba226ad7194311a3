import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { facilityEvidence, journeyEvidence } from "../../src/archive/evidence.ts";
import { ended } from "../commands/ended.ts";
import { type Files, inFolder } from "../intake/folder.ts";
import { judged } from "../journeys/chain-folder.ts";
import { facility, journeyAt } from "../journeys/passing-door.ts";
import { lineOf } from "./memory-bag.ts";

const files: Files = { ...facility, ...journeyAt("door") };

// A second place that only a sighting and no leg names.
const withShed: Files = {
  ...files,
  "shed/facility.yaml": facility["hall/facility.yaml"]!.toString().replace("Hall", "Shed"),
  "shed/manifests/load.csv": facility["hall/manifests/load.csv"]!,
  "shed/passes/p.csv": facility["hall/passes/p.csv"]!,
  "shed/reads.csv": facility["hall/reads.csv"]!,
  "journeys/crate/sightings.csv":
    "time,facility,read_point,tag\n2026-06-15T10:12:00Z,shed,side,3034257BF7194E40000000C1\n",
};

/** Seals what is called `id`, and gives the bag to `look`. */
async function sealed<T>(
  all: Files,
  id: string,
  look: (bag: string, told: { out: string; err: string }) => Promise<T>,
  ...words: string[]
): Promise<T> {
  return inFolder(all, async (data) => {
    const out = `${data}-archive`;
    const { status, ...told } = await ended("seal", id, "--data", data, "--out", out, ...words);
    expect([status, told.err]).toEqual([0, expect.anything()]);
    return look(join(out, `${id}-${id === "hall" ? "T" : "J"}-1-A`), told);
  });
}

const resultOf = (bag: string) => JSON.parse(readFileSync(join(bag, "data/result.json"), "utf8"));

/** Changes a file, and the lists so that they fit it. */
function forge(bag: string, path: string, change: (text: string) => string): void {
  const relist = (list: string, of: string) => {
    const line = new RegExp(`^[0-9a-f]{128} {2}${of.replaceAll(".", "\\.")}\n`, "m");
    const text = readFileSync(join(bag, list), "utf8");
    expect(text).toMatch(line);
    writeFileSync(join(bag, list), text.replace(line, lineOf(readFileSync(join(bag, of)), of, "sha512")));
  };
  const text = readFileSync(join(bag, path), "utf8");
  expect(change(text)).toHaveLength(text.length);
  writeFileSync(join(bag, path), change(text));
  relist("manifest-sha512.txt", path);
  relist("tagmanifest-sha512.txt", "manifest-sha512.txt");
}

describe("a seal of a facility whose readers heard a journey", () => {
  test("has the runs that its idle reads were told from, and is judged again with them", async () => {
    await sealed(files, "hall", async (bag) => {
      const { journeys, findings } = resultOf(bag);
      // Without the runs six reads are idle.
      expect(findings[0].estimate.k).toBe(3);
      const paths = journeys[0].inputs.map(({ path }: { path: string }) => path);
      expect(paths).toEqual(["journeys/crate.yaml", "journeys/crate/runs.csv"]);
      for (const path of paths)
        expect(readFileSync(join(bag, "data/inputs", path), "utf8")).toBe(files[path]);
      expect(readFileSync(join(bag, "data/site/hall/inputs.html"), "utf8")).toContain(
        'href="../../inputs/journeys/crate/runs.csv"',
      );
      const { status, out } = await ended("verify", bag);
      expect([status, out]).toEqual([0, expect.stringContaining("the same result.")]);
      // A run that ended before it began to be heard leaves every read idle.
      forge(bag, "data/inputs/journeys/crate/runs.csv", (text) => text.replace("10:20:00Z", "10:10:01Z"));
      const other = await ended("verify", bag);
      expect([other.status, other.out]).toEqual([
        4,
        expect.stringContaining("findings[0].estimate.k: 3 sealed"),
      ]);
    });
  });

  test("holds names that its pages do not, where the journey's files do", async () => {
    const yaml = files["journeys/crate.yaml"]!.toString();
    const hidden = { ...files, "journeys/crate.yaml": `pseudonyms: true\n${yaml}` };
    const holdsNames = async (all: Files) => {
      const { facilities, journeys } = await judged(all);
      return [facilityEvidence(facilities[0]!, "").holdsNames, journeyEvidence(journeys[0]!, "").holdsNames];
    };
    expect(await holdsNames(files)).toEqual([false, false]);
    expect(await holdsNames(hidden)).toEqual([true, true]);
    const own = files["hall/facility.yaml"]!.toString();
    expect(await holdsNames({ ...files, "hall/facility.yaml": `pseudonyms: true\n${own}` })).toEqual([
      true,
      true,
    ]);
  });
});

describe("a seal of a journey", () => {
  test("has its files and those of its facilities, the result that judge gives, and is judged again with them", async () => {
    const { journeys } = await judged(withShed);
    await sealed(
      withShed,
      "crate",
      async (bag) => {
        expect(resultOf(bag)).toEqual(JSON.parse(JSON.stringify(journeys[0])));
        const inputs = [
          ...["hall/facility.yaml", "hall/manifests/load.csv", "hall/passes/p.csv", "hall/reads.csv"],
          ...["journeys/crate.yaml", "journeys/crate/runs.csv", "journeys/crate/sightings.csv"],
          "shed/facility.yaml",
        ];
        const manifest = readFileSync(join(bag, "manifest-sha512.txt"), "utf8");
        expect([...manifest.matchAll(/ {2}data\/inputs\/(.*)/g)].map(([, path]) => path)).toEqual(inputs);
        for (const path of inputs)
          expect(readFileSync(join(bag, "data/inputs", path), "utf8")).toBe(withShed[path]);
        expect(readFileSync(join(bag, "bag-info.txt"), "utf8")).toContain('the journey "Past the door"');
        const page = readFileSync(join(bag, "data/site/journeys/crate/inputs.html"), "utf8");
        expect(page).toContain('href="../../../inputs/journeys/crate/runs.csv"');
        expect(page).toContain('href="../../../../HOW-TO-VERIFY.txt"');
        for (const one of [`${bag}.zip`, bag]) {
          const { status, out } = await ended("verify", one);
          expect([status, out]).toEqual([0, expect.stringContaining("the same result.")]);
        }
        forge(bag, "data/inputs/hall/reads.csv", (text) => text.replaceAll("0000C1", "0000D1"));
        const { status, out } = await ended("verify", bag);
        expect([status, out]).toEqual([4, expect.stringContaining("legs[0].k: 1 sealed, 0 now")]);
      },
      "--zip",
    );
  });
});
