import { describe, expect, it } from "vitest";
import type { Page } from "../../src/pages/parts/page.ts";
import type { Explorer } from "../../src/pages/read-point/explore.ts";
import { pageOf, pagesOf, renderPage, tableFiles, wordsOf } from "./render-page.ts";
import { bareResult, hostile, sampleResult } from "./sample-result.ts";

const pages = new Map(pagesOf(sampleResult, "read-point").map((page) => [page.path.split("/").pop(), page]));

function htmlOf(name: string): string {
  return renderPage(pages.get(`${name}.html`) as Page);
}

describe("a read point page", () => {
  it("starts with the state in a sentence", () => {
    const words = wordsOf(htmlOf("dock-2"));
    expect(words.indexOf("Dock door 2 does not meet its criteria.")).toBeGreaterThan(0);
    expect(words.indexOf("Dock door 2 does not meet its criteria.")).toBeLessThan(
      words.indexOf("Criteria and findings"),
    );
    expect(words).toContain("Of four findings, three are not met and one is undecided.");
  });

  it("gives each finding its count, its estimate between its bounds, its limit and what follows", () => {
    const words = wordsOf(htmlOf("dock-2"));
    expect(words).toMatch(/106 of 128 \d+ different tags 69\.8 82\.8 90\.9 % 97 % required/);
    expect(words).toMatch(/To settle it: The value is on the wrong side .* in \d+ of 100 walks/);
    expect(words).not.toMatch(/cannot turn this into|needs retuning/);
    expect(words).toContain("Concession: Accepted by Client's operations lead");
    expect(words).toContain("Remark: Three passes were left out: the log does not record strays.");
    expect(wordsOf(htmlOf("exit"))).toContain("502 further presentations without a miss would settle it");
  });

  it("names the tags that were missed, how often, and the passes that missed them", () => {
    const html = htmlOf("dock-2");
    const worst = sampleResult.readPoints[1]!.rounds[1]!.missedTags[0]!;
    expect(wordsOf(html)).toContain(`${worst.tag} ${worst.uri} ${worst.missed} of ${worst.presented}`);
    for (const pass of worst.passes) {
      expect(html).toMatch(
        new RegExp(`<a href="#pass-dock-2-as-left-[^"]+"><bdi>${pass.replace(/[<>]/g, ".{4}")}</bdi></a>`),
      );
    }
  });

  it("sets the rate with void passes beside the rate without, with their reasons", () => {
    const words = wordsOf(htmlOf("dock-2"));
    const { tagsRead, tagsPresented, withVoids } = sampleResult.readPoints[1]!.rounds[1]!;
    expect(words).toContain(`Without the 2 void passes: ${tagsRead} of ${tagsPresented} tags read: 92.0 %`);
    expect(words).toContain(
      `Including the 2 void passes: ${withVoids.tagsRead} of ${withVoids.tagsPresented} tags read`,
    );
    expect(words).toContain("P-05 : forklift stopped in the doorway");
  });

  it("shows gaps in the conditions walked, and says how many there are", () => {
    expect(wordsOf(htmlOf("dock-2"))).toContain("Speed by Load. 3 of 9 combinations were not walked.");
  });

  it("judged on a round of its own says so", () => {
    expect(wordsOf(htmlOf("van"))).toContain("Judged on its own round, As found, not on the facility's.");
  });

  it("has a sentence wherever something is missing", () => {
    const exit = wordsOf(htmlOf("exit"));
    expect(exit).toContain("do not record strays, so nothing is known about them");
    expect(exit).toContain("Not recorded: strays, equipment.");
    const van = wordsOf(htmlOf("van"));
    expect(van).toContain("Not recorded: signal strength, antennas, Tag orientation.");
    expect(van).toContain("the logs do not name the tags");
    const bare = wordsOf(renderPage(pageOf(bareResult, "read-point")));
    for (const sentence of [
      "No pass was walked here in this round.",
      "No valid pass was walked in this round.",
      "No valid pass presented a tag, so there is no picture.",
      "Not recorded: signal strength, antennas, equipment, settings.",
    ]) {
      expect(bare).toContain(sentence);
    }
    expect(bare).not.toMatch(/undefined|NaN|\[object/);
  });

  it("shows a client's markup as text, also inside the data of the script", () => {
    for (const page of pages.values()) {
      const html = renderPage(page);
      expect(html).not.toContain("<script>alert");
      expect(html).not.toContain("<b>bold");
      const island = /id="explore-data">(.*?)<\/script>/s.exec(html)?.[1];
      if (island !== undefined) {
        expect(island).not.toContain("<");
        expect(JSON.parse(island).points.length).toBeGreaterThan(0);
      }
    }
    expect(wordsOf(htmlOf("van"))).toContain(hostile.formula);
  });

  it("leads only to tables that exist", () => {
    const files = new Set(tableFiles(sampleResult).map(({ path }) => path));
    for (const [name, page] of pages) {
      const links = [...renderPage(page).matchAll(/href="([^"]+\.csv)"/g)].map((match) => match[1]!);
      if (name !== "ceiling.html") expect(links.length).toBeGreaterThan(0);
      for (const link of links) {
        expect(files).toContain(decodeURIComponent(new URL(link, `file:///${page.path}`).pathname.slice(1)));
      }
    }
  });

  it("draws every valid pass once, in the order walked, and leads to it", () => {
    const island = /id="explore-data">(.*?)<\/script>/s.exec(htmlOf("dock-2"))?.[1] ?? "{}";
    const { points, dimensions } = JSON.parse(island) as Explorer;
    const valid = sampleResult.readPoints[1]!.rounds[1]!.passList.filter((pass) => pass.voidReason === null);
    const values = (id: string) => dimensions.find((dimension) => dimension.id === id)?.values;
    expect(values("order")).toEqual(valid.map((_, i) => i + 1));
    expect(values("share")).toEqual(valid.map((pass) => (100 * pass.tagsRead) / pass.tagsPresented));
    expect(values("rssi")).toEqual(valid.map((pass) => pass.strongestDbm));
    expect(values("condition-speed_m_s")).toHaveLength(valid.length);
    expect(points).toHaveLength(valid.length);
    for (const [i, { missed }] of points.entries()) {
      for (const tag of valid[i]!.missedTags!.slice(0, 6)) expect(missed).toContain(tag);
      expect(missed === "").toBe(valid[i]!.missedTags!.length === 0);
    }
  });

  it("offers on the axes of the passes what was recorded of at least one of them", () => {
    const offered = (id: string) => /<select name="x">(.*?)<\/select>/s.exec(htmlOf(id))?.[1] ?? "";
    expect(offered("dock-1")).toMatch(/value="antenna".*value="condition-speed_m_s"/s);
    expect(offered("dock-1")).not.toContain('value="first"');
  });
});
