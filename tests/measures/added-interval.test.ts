import { mkdtemp, readFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { judgeFacility } from "../../src/analysis/judge.ts";
import { facilityLines } from "../../src/commands/lines/result-lines.ts";
import { facilityJsonSchema } from "../../src/intake/yaml/facility-schema.ts";
import { intervals } from "../../src/intervals/index.ts";
import type { Result } from "../../src/model/result.ts";
import { writeSite } from "../../src/site/write-site.ts";
import { errors, log, read, readSound, soundYaml } from "../intake/folder.ts";
import { wordsOf } from "../pages/render-page.ts";
import { agrestiCoull } from "./added-cards.ts";

const yaml = `${soundYaml}interval: agresti-coull
criteria:
  - { id: read, title: Tags are read, measure: tag-read-rate, at_least: 0.5 }
plan: { seed: 7, tags_per_pass: 1, expected_rate: 0.98, each: { speed_m_s: [1] }, read_points: [dock-1] }
`;

/** 16 of 20 tags read, each in a pass of its own: nothing is clustered. */
const passes = log(
  "round,pass,read_point,speed_m_s,orientation,tag,read",
  ...Array.from({ length: 20 }, (_, i) => `as-left,P${i},dock-1,1,flat,T${i},${i < 16 ? "yes" : "no"}`),
);

const files = { "facility.yaml": yaml, "passes/a.csv": passes };
const plain = (text: string) => text.replace(/[\u202f\u00a0]/g, " ");

describe("an interval that is added from outside", () => {
  let result: Result;
  let site: string;
  let undo = () => {};
  const page = async (path: string) => plain(wordsOf(await readFile(join(site, "hall", path), "utf8")));

  beforeAll(async () => {
    undo = intervals.add(agrestiCoull);
    result = judgeFacility(await readSound(files), "0.0.0");
    site = join(await mkdtemp(join(tmpdir(), "proofwalk-interval-")), "site");
    await writeSite([result], site);
  });
  afterAll(() => undo());

  it("is known to the schema of facility.yaml", () => {
    expect(JSON.stringify(facilityJsonSchema())).toContain('"agresti-coull"');
  });

  it("makes the figures and decides the verdict", () => {
    const [finding] = result.findings;
    // (16 + 1.9208) / (20 + 3.8415) = 0.7517, give or take 1.96 * sqrt(0.7517 * 0.2483 / 23.8415) = 0.1734.
    expect(finding).toMatchObject({ state: "met", estimate: { k: 16, n: 20, method: "agresti-coull" } });
    expect(finding!.estimate.lower).toBeCloseTo(0.5783, 3);
    expect(finding!.estimate.upper).toBeCloseTo(0.9251, 3);
    expect(plain(facilityLines(result))).toMatch(/16 of 20 tags read +80\.0 % +\(57\.8 to 92\.5\)/);
  });

  it("plans the next walk", () => {
    const { basis, findings } = result.plan!;
    expect(basis.interval).toBe("agresti-coull");
    expect(findings[0]!.fewest[0]!.passes).toBeGreaterThan(1);
  });

  it("is named on the pages, in the tables for download and on the method page", async () => {
    expect(await page("sign-off-sheet.html")).toContain("two-sided Agresti-Coull interval");
    expect(await page("plan.html")).toContain("Agresti-Coull, two-sided at 95 %");
    const csv = await readFile(join(site, "hall", "tables", "findings.csv"), "utf8");
    expect(csv).toContain(",agresti-coull,");
    const method = await page("method.html");
    for (const said of [
      "Interval Agresti and Coull",
      "This facility uses the interval of Agresti and Coull. It is wider than Wilson's.",
      "Agresti and Coull: the centre of Wilson",
      "Approximate is better than exact. Used for: The added interval. Verified by hand.",
    ])
      expect(method).toContain(said);
  });
});

it("an interval that is taken out again is unknown once more", async () => {
  const { problems } = await read(files);
  expect(errors(problems).map(({ code }) => code)).toContain("value-not-allowed");
});
