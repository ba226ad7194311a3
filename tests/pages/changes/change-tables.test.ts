import { parse } from "csv-parse/sync";
import { describe, expect, it } from "vitest";
import { tableFiles } from "../render-page.ts";
import { bareResult, sampleResult } from "../sample-result.ts";

const fileOf = (name: string) =>
  tableFiles(sampleResult).find(
    ({ path }) => path === `sample-plant/tables/as-found-to-as-left-${name}.csv`,
  )!;
const read = (name: string) =>
  parse(fileOf(name).text, { bom: true, columns: true }) as Record<string, string>[];

describe("the table of comparisons", () => {
  const rows = read("changes");

  it("holds every comparison of the pair in full, and empty cells where there is no figure", () => {
    expect(rows).toHaveLength(sampleResult.comparisons.length);
    for (const [index, one] of sampleResult.comparisons.entries()) {
      expect(rows[index]).toMatchObject({
        read_point: one.readPoint,
        change: one.change,
        exploratory: one.exploratory ? "yes" : "no",
        before_k: String(one.estimates?.before.k ?? ""),
        after_n: String(one.estimates?.after.n ?? ""),
        difference_lower_fraction: String(one.difference?.lower ?? ""),
        p: String(one.p ?? ""),
        test: one.test ?? "",
      });
    }
  });

  it("never alters a number, though a loss begins with a minus", () => {
    const dock = rows.find(({ read_point, group }) => read_point === "dock-2" && group === "");
    expect(Number(dock?.difference_lower_fraction)).toBe(-0.072);
  });

  it("tells what stands after all looks from a hint, and says nothing of either elsewhere", () => {
    const standing = rows.filter(({ read_point }) => read_point === "dock-1");
    expect(standing.map(({ stands_after_all_looks }) => stands_after_all_looks)).toEqual([
      "",
      "yes",
      "no",
      "",
      "",
    ]);
  });
});

describe("the table of changed tags", () => {
  const rows = read("changed-tags");

  it("holds all of them, also those that the page leaves out", () => {
    const tags = sampleResult.comparisons.flatMap(({ tags }) => [
      ...(tags?.newlyMissed ?? []),
      ...(tags?.newlyRead ?? []),
    ]);
    expect(rows).toHaveLength(tags.length);
    const missed = rows.filter(({ read_point }) => read_point === "dock-2");
    expect(missed).toHaveLength(11);
    expect(missed[0]).toMatchObject({ change: "newly missed", before_missed: "0", after_missed: "11" });
  });

  it("starts a tag that a spreadsheet would run as a formula with an apostrophe", () => {
    expect(rows.map(({ tag }) => tag)).toContain("'=<b>bold</b>");
  });

  it("is left out where no tag changed", () => {
    const names = tableFiles(bareResult).map(({ path }) => path);
    expect(names.some((path) => /chang/.test(path))).toBe(false);
  });
});
