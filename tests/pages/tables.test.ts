import { parse } from "csv-parse/sync";
import { describe, expect, it } from "vitest";
import { tableFiles } from "./render-page.ts";
import { bareResult, sampleResult } from "./sample-result.ts";

function read(path: string): Record<string, string>[] {
  const file = tableFiles(sampleResult).find((entry) => entry.path === `sample-plant/tables/${path}`);
  return parse(file?.text ?? "", { bom: true, columns: true }) as Record<string, string>[];
}

describe("the tables of a facility", () => {
  it("have names of their own, also on systems that take no heed of case", () => {
    const names = tableFiles(sampleResult).map(({ path }) => path.toLowerCase());
    expect(new Set(names).size).toBe(names.length);
  });

  it("hold one row a finding, with the figures of the result in full", () => {
    const rows = read("findings.csv");
    expect(rows).toHaveLength(sampleResult.findings.length);
    for (const [index, finding] of sampleResult.findings.entries()) {
      const { value, lower, k, n } = finding.estimate;
      expect(rows[index]).toMatchObject({
        criterion: finding.criterion,
        state: finding.state,
        k: String(k),
        n: String(n),
        value: value === null ? "" : String(value),
        lower: lower === null ? "" : String(lower),
      });
    }
  });

  it("hold every pass of every round, void ones too", () => {
    const passes = sampleResult.readPoints.flatMap(({ rounds }) =>
      rounds.flatMap(({ passList }) => passList),
    );
    const rows = read("passes.csv");
    expect(rows).toHaveLength(passes.length);
    const voids = rows.filter((row) => row.void_reason !== "");
    expect(voids).toHaveLength(passes.filter(({ voidReason }) => voidReason !== null).length);
  });

  it("hold of a read point only the round that is judged", () => {
    expect(new Set(read("dock-2-passes.csv").map(({ round }) => round))).toEqual(new Set(["as-left"]));
    expect(new Set(read("van-passes.csv").map(({ round }) => round))).toEqual(new Set(["as-found"]));
  });

  it("are left out where a figure has nothing to show", () => {
    const files = tableFiles(sampleResult).map(({ path }) => path.split("/").at(-1));
    expect(files).not.toContain("dock-1-missed-tags.csv");
    expect(files).toContain("dock-2-missed-tags.csv");
    expect(files).not.toContain("van-rssi.csv");
  });

  it("are made of a facility in which nothing is declared, too", () => {
    expect(tableFiles(bareResult).length).toBeGreaterThan(0);
  });

  it("start every line of a formula in a client's field with an apostrophe", () => {
    const stray = read("dock-2-strays.csv").map(({ stray_tags }) => stray_tags);
    expect(stray[0]).toMatch(/^'=HYPERLINK\(.*\) E2801160600002075A1B0001$/);
    const note = read("dock-2-passes.csv").find((row) => row["weather <i>"] !== "");
    expect(note?.["weather <i>"]).toMatch(/^'=HYPERLINK/);
  });
});
