import { describe, expect, it } from "vitest";
import { facilityPages } from "../../../src/pages/facility-pages.ts";
import type { PlanView } from "../../../src/pages/plan/plan-page.ts";
import { pageOf, pagesOf, readPointPage, renderPage, tableFiles, wordsOf } from "../render-page.ts";
import { plannedSample, walkedPasses } from "../sample-plan.ts";
import { sampleResult } from "../sample-result.ts";

const plain = (text: string) => text.replace(/[\u202f\u00a0]/g, " ");
const untouched = plannedSample();
const planned = untouched.plan!.walks[0]!.cells.map((cell) => cell.planned!);

function page(result = untouched) {
  const made = pageOf<PlanView>(result, "plan");
  return { view: made.view, words: plain(wordsOf(renderPage(made))) };
}

describe("the page on how much to walk", () => {
  it("is there only where something is planned, and nothing else of the plan is either", () => {
    expect(pagesOf(sampleResult, "plan")).toEqual([]);
    const { pages, files } = facilityPages(sampleResult);
    expect(pages.map(({ template }) => template)).not.toContain("walk-sheet");
    expect(files.filter(({ path }) => /\/plan|walk-sheets/.test(path))).toEqual([]);
    const named = facilityPages(untouched).pages.map(({ path }) => path);
    expect(named).toContain("planned-plant/plan.html");
    expect(named.filter((path) => path.includes("/walk-sheets/"))).toHaveLength(2);
  });

  it("begins with how much is planned and how far the walk has come", () => {
    const { words } = page();
    expect(words).toMatch(
      /How much to walk \d+ passes are planned at two read points\. None of the \d+ planned passes is walked/,
    );
  });

  it("draws the risks of the longest walk first, since it decides how much is walked", () => {
    const { risks } = page().view;
    const lengths = risks.map(({ figure }) => Number(/walks of (\d+) pass/.exec(figure.caption)?.[1]));
    expect(lengths.length).toBeGreaterThan(0);
    expect(lengths).toEqual(lengths.toSorted((a, b) => b - a));
    for (const { brief } of risks) expect(plain(brief)).toMatch(/^[\d.]+ % wrongly “met” at the limit$/);
  });

  it("is told of on the page of a read point that is planned, and on no other", () => {
    const facts = (id: string) => plain(wordsOf(renderPage(readPointPage(untouched, id))));
    expect(facts("dock-1")).toMatch(/Planned walk None of the \d+ planned passes is walked\./);
    const planned = new Set(untouched.plan!.walks.map(({ readPoint }) => readPoint));
    const other = untouched.readPoints.find(({ id }) => !planned.has(id))!;
    expect(facts(other.id)).not.toContain("Planned walk");
  });

  it("lists the combinations worst first", () => {
    const rows = [
      ...walkedPasses("dock-1", "1", "full", planned[0]!),
      ...walkedPasses("dock-1", "1.5", "full", planned[2]! - 1),
    ];
    const { routes } = page(plannedSample(rows)).view;
    expect(routes[0]!.table.rows.map((row) => row[1]!.text)).toEqual(["missing", "missing", "short", "done"]);
    expect(routes[0]!.table.rows[2]!.slice(2, 6).map(({ text }) => text)).toEqual([
      `${planned[2]}`,
      `${planned[2]! - 1}`,
      `${planned[2]! * 40}`,
      `${(planned[2]! - 1) * 40}`,
    ]);
    expect(routes[0]!.walked).toMatch(
      /^\d+ of \d+ planned passes are walked; three of four combinations need more\.$/,
    );
  });

  it("says what the numbers rest on and links to the sheets, the logs and the page for the aisle", () => {
    const { words, view } = page();
    for (const said of [
      "Expected rate 99.8 % at a well-tuned read point",
      "0.02 between misses of one pass",
      "Wilson, two-sided at 95 %",
      "seed 7",
    ])
      expect(words).toContain(said);
    const [route] = view.routes;
    expect(route!.sheet!.href).toBe("walk-sheets/dock-1.html");
    expect(route!.log!.href).toBe("walk-sheets/dock-1.csv");
    expect(view.aisle).toMatchObject({ href: "aisle.html" });
  });

  it("sizes each criterion once, with the read points and groups it is for", () => {
    const table = page().view.sizes;
    expect(table.columns.map(({ label }) => plain(label))).toEqual([
      "Criterion",
      "Limit",
      "No fault",
      "One fault",
      "Two faults",
      "Three faults",
      "“Met” in 80 % of walks",
      "“Met” in 90 % of walks",
      "All 2 “met” in 80 %",
      "All 2 “met” in 90 %",
    ]);
    const strays = table.rows.find((row) => row[0]!.text.startsWith("At most 8 %"))!;
    // 45 passes without a stray: the Wilson upper end falls to 3.84 / (n + 3.84).
    expect(strays[2]!.text).toBe("45");
    expect(strays[0]!.detail).toContain(" and ");
    expect(page().words).toContain("Not sized, because what they count does not simply succeed or fail");
  });

  it("draws one picture for each walk that differs, with its rows and their file", () => {
    const { risks } = page().view;
    const curves = new Set(
      untouched.plan!.findings.map(({ measure, risk }) => JSON.stringify([measure, risk])),
    );
    expect(risks).toHaveLength(curves.size);
    expect(risks[0]!.figure.picture.match(/<svg/g)).toHaveLength(2);
    const limits = risks[0]!.figure.table.rows.filter((row) => row[0]!.detail === "the limit");
    expect(limits).toHaveLength(1);
    const files = tableFiles(untouched).filter(({ path }) => path.includes("/plan-"));
    expect(files.map(({ path }) => path.split("/").at(-1))).toEqual([
      "plan-walked.csv",
      "plan-sizes.csv",
      "plan-risk.csv",
    ]);
    const points = untouched.plan!.findings[0]!.risk?.points.length ?? 0;
    expect(files[2]!.text.match(/^strays,/gm)!.length).toBeGreaterThanOrEqual(points);
  });

  it("says plainly that an impossible plan is one, and has no sheet to walk by", () => {
    const result = plannedSample([], { expectedRate: 0.9 });
    const { words } = page(result);
    expect(words).toContain("No number of passes is likely to turn all findings into “met”");
    expect(words).toContain("No number of passes is enough");
    expect(words).not.toContain("walk sheet");
    expect(facilityPages(result).pages.some(({ template }) => template === "walk-sheet")).toBe(false);
  });
});
