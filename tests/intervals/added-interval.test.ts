import { mkdtemp, readFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { judgeFacility } from "../../src/analysis/judge.ts";
import { planLines } from "../../src/commands/lines/plan-lines.ts";
import { facilityLines } from "../../src/commands/lines/result-lines.ts";
import { facilityJsonSchema } from "../../src/intake/facility/facility-schema.ts";
import { intervals } from "../../src/intervals/index.ts";
import type { Result } from "../../src/model/result/result.ts";
import { writeSite } from "../../src/site/write-site.ts";
import { errors, log, read, readSound, soundYaml } from "../intake/folder.ts";
import { wordsOf } from "../pages/render-page.ts";
import { jeffreys } from "./added-card.ts";

const yaml = `${soundYaml}interval: jeffreys
criteria:
  - { id: read, title: Tags are read, measure: tag-read-rate, at_least: 0.9 }
  - { id: complete, title: Passes are complete, measure: complete-pass-rate, at_least: 0.99, minimum_passes: 2 }
  - { id: half, title: Half are read, measure: tag-read-rate, at_least: 0.5, read_points: [dock-1] }
plan: { seed: 7, tags_per_pass: 1, expected_rate: 0.98, each: { speed_m_s: [1] }, read_points: [dock-1] }
`;

/** Thirty passes of one tag at dock 1, all read but the last. */
const passes = log(
  "round,pass,read_point,started_at,ended_at,speed_m_s,orientation,tag,read",
  ...Array.from({ length: 30 }, (_, i) => {
    const times = `2026-05-21 10:${10 + i}:00,2026-05-21 10:${10 + i}:30`;
    return `as-left,P${i + 1},dock-1,${times},1,flat,T${i + 1},${i === 29 ? "no" : "yes"}`;
  }),
);

const files = { "facility.yaml": yaml, "passes/a.csv": passes };
const plain = (text: string) => text.replace(/[\u202f\u00a0]/g, " ");

describe("an interval that is added from outside", () => {
  let result: Result;
  let site: string;
  let planned: string;
  let undo = () => {};
  const page = async (path: string) => plain(wordsOf(await readFile(join(site, "hall", path), "utf8")));

  beforeAll(async () => {
    undo = intervals.add(jeffreys);
    const input = await readSound(files);
    result = judgeFacility(input, "0.0.0");
    planned = plain(planLines(result)!);
    site = join(await mkdtemp(join(tmpdir(), "proofwalk-interval-")), "site");
    await writeSite([result], site);
  });
  afterAll(() => undo());

  it("is known to the schema of facility.yaml with its help", () => {
    const schema = JSON.stringify(facilityJsonSchema());
    expect(schema).toContain('"jeffreys"');
    expect(schema).toContain("any-time is valid however often one looks, jeffreys is Bayesian.");
  });

  it("makes the figures and the verdicts, of presentations and of passes", () => {
    const [read, , complete] = result.findings;
    // 2.5 % of Beta(29.5, 1.5) lie below 0.85458: worked out by a sum over 400 000 midpoints.
    expect(read!.estimate).toMatchObject({ method: "jeffreys", k: 29, n: 30 });
    expect(read!.estimate.lower).toBeCloseTo(0.85458, 5);
    expect(read!.state).toBe("undecided");
    expect(read!.toSettle).toMatchObject({ unit: "presentations", retune: false });
    expect(complete!.estimate).toMatchObject({ method: "jeffreys", k: 29, n: 30, designEffect: 1 });
    expect(complete!.toSettle).toMatchObject({ chance: expect.closeTo(1 - 0.99 ** 30, 9), retune: false });
    expect(result.findings.find(({ criterion }) => criterion === "half")!.state).toBe("met");
    expect(read!.sensitivity.map(({ lower }) => lower)).toEqual([0, 1, 2].map(() => read!.estimate.lower));
  });

  it("stands in the terminal, on the pages and in the tables for download", async () => {
    expect(plain(facilityLines(result))).toMatch(/29 of 30 tags read +96\.6 % +\(85\.4 to 99\.6\)/);
    expect(await page("sign-off-sheet.html")).toContain("two-sided Jeffreys interval");
    expect(await page("plan.html")).toContain("Jeffreys, two-sided at 95 %");
    const csv = await readFile(join(site, "hall", "tables", "findings.csv"), "utf8");
    expect(csv).toContain(",jeffreys,");
    expect(csv).toContain(`${result.findings[0]!.estimate.lower}`);
  });

  it("judges what a plan sizes, and is named there", () => {
    expect(result.plan!.basis.interval).toBe("jeffreys");
    const [read] = result.plan!.findings;
    const fewest = read!.fewest[0]!.passes!;
    const settings = { confidence: 0.95, missCorrelation: 0.02 };
    const state = (n: number) =>
      jeffreys.decide({ n, k: n, clusterings: [] }, { sense: "at-least", limit: 0.9 }, settings);
    expect([state(fewest), state(fewest - 1)]).toEqual(["met", "undecided"]);
    expect(planned).toContain("Jeffreys interval, two-sided at 95 %");
  });

  it("has its formula, its assumption, its price and its source on the method page", async () => {
    const method = await page("method.html");
    expect(method).toContain("Interval Jeffreys (equal tails)");
    expect(method).toContain(
      "This facility uses the interval of Jeffreys. It takes every rate to be possible before anything is walked.",
    );
    expect(method).toContain("Jeffreys: equal tails of Beta( k + ½, n − k + ½ )");
    expect(method).toContain(
      "Tags per pass Wilson Clopper-Pearson beta-binomial any-time Jeffreys Wilson, correlation",
    );
    expect(method).toMatch(
      /H\. Jeffreys \(1961\), Theory of probability.+Used for: The prior\. Nothing was checked\./,
    );
  });
});

it("an interval that is taken out again is unknown once more", async () => {
  const { problems } = await read(files);
  expect(errors(problems).map(({ code }) => code)).toContain("value-not-allowed");
});
