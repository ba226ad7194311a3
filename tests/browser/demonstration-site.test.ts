import type { Browser } from "playwright-core";
import { beforeAll, describe, expect, it } from "vitest";
import { stateWord, verdictSentence } from "../../src/pages/words/verdicts.ts";
import { type BuiltSite, brokenLinks } from "./built-site.ts";
import { openBrowser } from "./chromium.ts";
import { demonstrationSite } from "./demonstration-site.ts";
import { chartDrawn } from "./drawn-chart.ts";
import { listenTo } from "./page-faults.ts";
import { foldSpaces, pdfPages } from "./pdf-text.ts";

let site: BuiltSite;
let browser: Browser;

beforeAll(async () => {
  [site, browser] = await Promise.all([demonstrationSite(), openBrowser()]);
}, 120_000);

describe("the demonstration site", () => {
  it("has pages for both facilities, every read point, every pair of rounds and every planned walk", () => {
    const readPoints = site.results.reduce((sum, result) => sum + result.readPoints.length, 0);
    expect(site.results).toHaveLength(2);
    const causes = site.results.reduce(
      (sum, result) => sum + result.readPoints.filter(({ why }) => why !== null).length,
      0,
    );
    expect(causes).toBeGreaterThan(0);
    const walks = site.results.map(({ plan }) => (plan === null ? 0 : plan.walks.length));
    expect(walks).toEqual([2, 0]);
    // With a plan: how much to walk, the page to log a walk on, and a sheet for each read point that is planned.
    const planned = walks.reduce((sum, sheets) => sum + (sheets === 0 ? 0 : 2 + sheets), 0);
    // A journey over both: overview, inputs, method, sheet, and its 144 items fifty a page.
    const journey = site.pages.filter((path) => path.startsWith("journeys/"));
    expect(journey).toHaveLength(4 + 3);
    expect(site.pages).toHaveLength(1 + 2 * 6 + readPoints + causes + planned + journey.length);
  });

  it("keeps its own policy: with it in force a read point's page still draws its chart and says nothing", async () => {
    const page = await browser.newPage();
    const listen = listenTo(page);
    await page.goto(site.url(site.pages.find((path) => path.includes("/read-points/"))!));
    await page.locator("#explore > summary").click();
    await chartDrawn(page);
    expect(listen()).toEqual([]);
    await page.close();
  });

  it("has no link that leads nowhere", async () => {
    const broken = await Promise.all(
      site.pages.map(async (page) => (await brokenLinks(site, page)).map((link) => `${page}: ${link}`)),
    );
    expect(broken.flat()).toEqual([]);
  });

  it("gives the same verdict with scripts switched off", async () => {
    for (const javaScriptEnabled of [true, false]) {
      const context = await browser.newContext({ javaScriptEnabled });
      const page = await context.newPage();
      for (const result of site.results) {
        await page.goto(site.url(`${result.facility.id}/index.html`));
        const main = await page.locator("main").textContent();
        const text = foldSpaces(main ?? "");
        expect(text).toContain(foldSpaces(verdictSentence(result)));
      }
      await context.close();
    }
  });

  it("keeps the chart for the screen: on paper it is gone", async () => {
    const context = await browser.newContext();
    const page = await context.newPage();
    const path = site.pages.find((one) => one.includes("/read-points/"))!;
    await page.goto(`${site.url(path)}#explore`);
    await page.locator("canvas").first().waitFor();
    await page.emulateMedia({ media: "print" });
    expect(await page.locator("canvas").first().isVisible()).toBe(false);
    await context.close();
  });
});

describe("the sign-off sheet on paper", () => {
  it.each(["A4", "Letter"])(
    "%s holds every read point's name and state, and numbers its two sheets",
    async (format) => {
      const page = await browser.newPage();
      for (const result of site.results) {
        await page.goto(site.url(`${result.facility.id}/sign-off-sheet.html`));
        const sheets = await pdfPages(await page.pdf({ format, preferCSSPageSize: false }));
        expect(sheets).toHaveLength(2);
        const text = sheets.join(" ");
        for (const readPoint of result.readPoints) {
          expect(text).toContain(foldSpaces(readPoint.name));
          expect(text).toContain(stateWord(readPoint.state));
        }
        sheets.forEach((sheet, index) => {
          expect(sheet).toContain(result.report!.number);
          expect(sheet).toMatch(new RegExp(`${index + 1} of ${sheets.length}`));
        });
      }
      await page.close();
    },
  );
});
