import { mkdtemp, readFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, test } from "vitest";
import type { JourneyResult } from "../../src/model/journey/journey-result.ts";
import { journeyFolder } from "../../src/pages/journey/journey-context.ts";
import { facilityFolder } from "../../src/pages/parts/paths.ts";
import { writeSite } from "../../src/site/write-site.ts";
import { demonstrationSite } from "../browser/demonstration-site.ts";

test("the archived results and input files alone give the whole site again, byte for byte", async () => {
  const original = await demonstrationSite();
  const again = join(await mkdtemp(join(tmpdir(), "proofwalk-again-")), "site");
  const chain = join(original.folder, journeyFolder("crate-to-depot"));
  const journey: JourneyResult = JSON.parse(await readFile(join(chain, "result.json"), "utf8"));
  const { id, title, legs } = journey;
  await writeSite(original.results, again, {
    inputsOf: (facility) => {
      const own = join(original.folder, facilityFolder(facility), "inputs");
      return { own, journeys: own };
    },
    journeys: {
      legs: legs.map(({ id: leg, facility, readPoint }) => ({
        journey: id,
        title,
        leg,
        facility,
        readPoint,
      })),
      results: () => [journey],
      inputsFrom: join(chain, "inputs"),
    },
  });
  const contents = (folder: string) => readFile(join(folder, "contents.sha256"), "utf8");
  const listed = await contents(original.folder);
  expect(listed.split("\n").length).toBeGreaterThan(50);
  expect(await contents(again)).toBe(listed);
}, 120_000);
