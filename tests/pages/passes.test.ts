import { describe, expect, it } from "vitest";
import type { PassResult } from "../../src/model/result/pass.ts";
import type { Result } from "../../src/model/result/result.ts";
import type { Page } from "../../src/pages/parts/page.ts";
import type { PassRow } from "../../src/pages/passes/pass-rows.ts";
import { passTable } from "../../src/pages/passes/pass-table.ts";
import { pagesOf, renderPage, wordsOf } from "./render-page.ts";
import { bareResult, hostile, sampleResult, sampleWith } from "./sample-result.ts";

/** The sample with one read point that was walked a few thousand times, every pass with misses. */
function longWalk(passes: number): Result {
  const point = sampleResult.readPoints[1]!;
  const round = point.rounds[1]!;
  const first = round.passList[0]!;
  const missedTags = Array.from({ length: 20 }, (_, i) => `3376451FD8${String(i).padStart(14, "0")}`);
  const passList = Array.from(
    { length: passes },
    (_, i): PassResult => ({ ...first, id: `L-${i + 1}`, missedTags, tagsPresented: 24, tagsRead: 4 }),
  );
  const ids = passList.map(({ id }) => id);
  const missed = missedTags.map((tag) => ({
    tag,
    uri: null,
    presented: passes,
    missed: passes,
    passes: ids,
  }));
  const longer = { ...round, passes, voidPasses: 0, passList, missedTags: missed };
  return sampleWith({ ...point, rounds: [point.rounds[0]!, longer] });
}

const long = longWalk(3000);
const rendered = new Map<Page, string>();

/** Rendered once: some have thousands of passes. */
function htmlOf(page: Page): string {
  const html = rendered.get(page) ?? renderPage(page);
  rendered.set(page, html);
  return html;
}

function anchorsOf(html: string): string[] {
  return [...html.matchAll(/ id="([^"]+)"/g)].map((match) => match[1]!);
}

function passCountOf(html: string): number {
  return html.match(/<tr id="pass-/g)?.length ?? 0;
}

describe("the pages of passes", () => {
  it("are a single page where all passes fit on it, each with an anchor of its own", () => {
    const pages = pagesOf(sampleResult, "passes");
    expect(pages.map(({ path }) => path)).toEqual(["sample-plant/passes.html"]);
    const html = renderPage(pages[0]!);
    const anchors = anchorsOf(html);
    expect(new Set(anchors).size).toBe(anchors.length);
    const passes = sampleResult.readPoints.flatMap(({ rounds }) =>
      rounds.flatMap(({ passList }) => passList),
    );
    expect(passCountOf(html)).toBe(passes.length);
  });

  it("are cut by read point where there are thousands, each under a megabyte and no pass twice", () => {
    const pages = pagesOf(long, "passes").map((page) => ({ path: page.path, html: htmlOf(page) }));
    expect(pages[0]?.path).toBe("sample-plant/passes.html");
    expect(pages.length).toBeGreaterThan(2);
    for (const { html } of pages) expect(html.length).toBeLessThan(1_000_000);
    expect(pages.reduce((sum, { html }) => sum + passCountOf(html), 0)).toBe(3000 + 24);
    expect(pages[0]?.html).toContain('href="passes/dock-2.html#passes-dock-2-as-left"');
    expect(pages[1]?.html).toContain('href="../read-points/dock-2.html"');
  });

  it("are where a read point page leads to, with the anchor that stands there", () => {
    for (const result of [sampleResult, long]) {
      const anchors = new Map(
        [...pagesOf(result, "passes"), ...pagesOf(result, "read-point"), ...pagesOf(result, "rounds")].map(
          (page) => [page.path, new Set(anchorsOf(htmlOf(page)))],
        ),
      );
      for (const page of pagesOf(result, "read-point")) {
        const html = htmlOf(page);
        expect(html.length).toBeLessThan(1_000_000);
        for (const [, href] of html.matchAll(/href="([^"]*#[^"]+)"/g)) {
          const target = new URL(href!, `file:///${page.path}`);
          const path = decodeURIComponent(target.pathname.slice(1));
          if (target.hash !== "#content") expect(anchors.get(path)).toContain(target.hash.slice(1));
        }
      }
    }
  });

  it("show void passes with their reasons, and what a client wrote as text", () => {
    const html = renderPage(pagesOf(sampleResult, "passes")[0]!);
    const words = wordsOf(html);
    expect(words).toContain("Void: forklift stopped in the doorway");
    expect(html).not.toContain("<script>alert");
    for (const text of [hostile.formula, hostile.long, hostile.rightToLeft]) expect(words).toContain(text);
    expect(html).toContain("&lt;script&gt;alert");
  });

  it("say once what is alike on every pass, and in a row what is its own", () => {
    const row = (id: string, own: Partial<PassRow>): PassRow => ({
      anchor: id,
      id,
      walked: "",
      conditions: ["Load: full"],
      read: "4 of 4",
      missed: { tags: [], words: "none" },
      strays: { tags: [], words: "none" },
      voidReason: "",
      notes: ["Walked by Una Drisk."],
      files: ["passes/a.csv"],
      ...own,
    });
    const alike = passTable([row("P1", {}), row("P2", {})]);
    expect(alike.alike).toEqual(["Load: full", "Walked by Una Drisk", "passes/a.csv"]);
    expect(alike.columns).toEqual({ conditions: false, notes: false });
    expect(alike.rows.map(({ conditions, notes, files }) => [conditions, notes, files])).toEqual([
      [[], [], []],
      [[], [], []],
    ]);
    const apart = passTable([
      row("P1", { conditions: ["Load: full", "Speed: 0 to 1 m/s"] }),
      row("P2", { voidReason: "stopped", files: ["passes/a.csv", "manifest cage"] }),
    ]);
    expect(apart.alike).toEqual(["Load: full", "Walked by Una Drisk", "passes/a.csv"]);
    expect(apart.columns).toEqual({ conditions: true, notes: true });
    expect(apart.noCondition).toBe("as above");
    expect(apart.rows.map(({ conditions, files }) => [conditions, files])).toEqual([
      [["Speed: 0 to 1 m/s"], []],
      [[], ["manifest cage"]],
    ]);
    const unstated = passTable([row("P1", { conditions: [] }), row("P2", {})]);
    expect(unstated.noCondition).toBe("not stated");
    expect(unstated.rows[1]!.conditions).toEqual(["Load: full"]);
    expect(passTable([row("P1", {})]).alike).toEqual([]);
  });

  it("say so where no pass was walked", () => {
    const words = wordsOf(renderPage(pagesOf(bareResult, "passes")[0]!));
    expect(words).toContain("No pass has been walked yet.");
    expect(words).toContain("No pass was walked here in this round.");
  });
});
