import { mkdtemp, readFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { judgeFacility } from "../../src/analysis/judge.ts";
import { planLines } from "../../src/commands/lines/plan-lines.ts";
import { facilityLines } from "../../src/commands/lines/result-lines.ts";
import { facilityJsonSchema } from "../../src/intake/facility/facility-schema.ts";
import { measures } from "../../src/measures/index.ts";
import type { FacilityInput } from "../../src/model/pass-log.ts";
import type { Result } from "../../src/model/result/result.ts";
import { writeSite } from "../../src/site/write-site.ts";
import { errors, log, read, readSound, soundYaml } from "../intake/folder.ts";
import { wordsOf } from "../pages/render-page.ts";
import { fullPassRate, passDuration } from "./added-cards.ts";

const yaml = `${soundYaml}criteria:
  - { id: full, title: Passes read many tags, measure: full-pass-rate, more_than: 1, at_least: 0.5 }
  - { id: quick, title: Passes are quick, measure: pass-duration, at_most: 45 }
plan: { seed: 7, tags_per_pass: 2, expected_rate: 0.98, each: { speed_m_s: [1] }, read_points: [dock-1] }
`;

/** Twelve passes of two tags at dock 1; the last one reads only one of them and takes 75 seconds, the others 30. */
const passes = log(
  "round,pass,read_point,started_at,ended_at,speed_m_s,orientation,tag,read",
  ...Array.from({ length: 12 }, (_, i) => {
    const last = i === 11;
    const times = `2026-05-21 10:${10 + i}:00,2026-05-21 10:${last ? "22:15" : `${10 + i}:30`}`;
    const pass = `as-left,P${i + 1},dock-1,${times},1`;
    return [`${pass},flat,T1,yes`, `${pass},flat,T2,${last ? "no" : "yes"}`];
  }).flat(),
);

const files = { "facility.yaml": yaml, "passes/a.csv": passes };

/** Thin spaces made plain, so that the expected text can be typed. */
const plain = (text: string) => text.replace(/[\u202f\u00a0]/g, " ");

describe("a measure that is added from outside", () => {
  let input: FacilityInput;
  let result: Result;
  let site: string;
  const undo: (() => void)[] = [];
  const page = async (path: string) => plain(wordsOf(await readFile(join(site, "hall", path), "utf8")));

  beforeAll(async () => {
    undo.push(measures.add(fullPassRate), measures.add(passDuration));
    input = await readSound(files);
    result = judgeFacility(input, "0.0.0");
    site = join(await mkdtemp(join(tmpdir(), "proofwalk-measure-")), "site");
    await writeSite([result], site);
  });
  afterAll(() => {
    for (const each of undo) each();
  });

  it("is known to the schema of facility.yaml with its own key and the unit of its limit", () => {
    const schema = JSON.stringify(facilityJsonSchema());
    expect(schema).toContain('"full-pass-rate"');
    expect(schema).toContain("For full-pass-rate: more tags than this.");
    expect(schema).toContain("The limit from above: seconds.");
  });

  it("has its own key and its limit checked, in its own words", async () => {
    const fault = async (from: string, to: string) => {
      const { problems } = await read({ ...files, "facility.yaml": yaml.replace(from, to) });
      return errors(problems).map(({ code, found, expected }) => [code, found, expected]);
    };
    expect(await fault("more_than: 1, ", "")).toEqual([
      ["criterion-key", 'no more_than in criterion "full"', "a number of tags"],
    ]);
    expect(await fault("at_most: 45", "at_most: 0")).toEqual([
      ["limit-out-of-range", '"at_most": "0"', "more than 0 seconds"],
    ]);
    expect(await fault("pass-duration,", "pass-duration, more_than: 3,")).toEqual([
      [
        "key-unused",
        "more_than in a criterion with measure pass-duration",
        "more_than only with measure full-pass-rate",
      ],
    ]);
  });

  it("gives findings with a verdict", () => {
    const [full, , quick] = result.findings;
    expect(full).toMatchObject({ measure: "full-pass-rate", state: "met", estimate: { k: 11, n: 12 } });
    expect(quick).toMatchObject({ measure: "pass-duration", state: "met", estimate: { value: 30, n: 12 } });
    expect(result.criteria[0]).toMatchObject({ more_than: 1 });
  });

  it("stands in the terminal with its own words and unit", () => {
    const lines = plain(facilityLines(result));
    expect(lines).toMatch(
      /met +Dock 1 +11 of 12 passes with many tags +91\.6 % +\(64\.6 to 98\.5\) +50 % required/,
    );
    expect(lines).toMatch(/met +Dock 1 +12 of 12 passes timed +30\.0 s +\(30\.0 to 30\.0\) +45 s allowed/);
  });

  it("stands on the pages with its own words, unit and axis", async () => {
    const overview = await page("index.html");
    expect(overview).toContain("What must be short");
    expect(overview).toContain("45 s allowed");
    expect(overview).not.toContain("4500 %");
    const readPoint = await page("read-points/dock-1.html");
    expect(readPoint).toContain("11 of 12 64.6 91.6 98.5 %");
    expect(readPoint).toMatch(/30\.0\s+30\.0\s+30\.0\s+s/);
    expect(await page("sign-off-sheet.html")).toContain("30.0 30.0 30.0 max. 45 s");
  });

  it("stands in the tables for download in its own unit", async () => {
    const csv = await readFile(join(site, "hall", "tables", "findings.csv"), "utf8");
    expect(csv).toMatch(/,pass-duration,at-most,seconds,45,12,/);
    expect(csv).toMatch(/,full-pass-rate,at-least,fraction,0\.5,12,/);
  });

  it("is planned as its card says, or named among what is not sized", () => {
    const plan = result.plan!;
    expect(plan.findings.map(({ measure, unit, expected }) => [measure, unit, expected])).toEqual([
      ["full-pass-rate", "passes", 0.98],
    ]);
    const lines = plain(planLines(result)!);
    expect(lines).toContain("98 % of the passes read many tags");
    expect(lines).toContain("quick (Duration of a pass)");
  });

  it("has its line on the method page", async () => {
    const method = await page("method.html");
    expect(method).toContain(
      "Passes with many tags passes that read more tags than a number all passes used",
    );
    expect(method).toContain("Duration of a pass how long a pass takes, and of these the median");
  });

  it("reports a column that its logs lack, with the severity that its card states", async () => {
    const columns = () => [
      { column: "badge", severity: "warning" as const, purpose: "counts", advice: "Add the column." },
    ];
    undo.push(measures.add({ ...passDuration, id: "badges", log: { roles: [], columns } }));
    const yaml = `${soundYaml}criteria: [{ id: c1, measure: badges, at_most: 45, read_points: [dock-1] }]\n`;
    const { problems } = await read({ ...files, "facility.yaml": yaml });
    expect(problems).toMatchObject([
      {
        severity: "warning",
        code: "column-needed",
        file: "passes/a.csv",
        line: 1,
        found: 'no column "badge"',
        expected: 'badge, which criterion "c1" counts',
      },
    ]);
  });
});

it("a measure that is taken out again is unknown once more", async () => {
  const { problems } = await read(files);
  expect(errors(problems).map(({ code }) => code)).toContain("value-not-allowed");
});
