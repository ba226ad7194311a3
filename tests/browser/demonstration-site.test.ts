import { readFile } from "node:fs/promises";
import { createRequire } from "node:module";
import type { Browser, BrowserContextOptions, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { stateWord } from "../../src/pages/words/states.ts";
import { verdictSentence } from "../../src/pages/words/verdict-sentence.ts";
import { type BuiltSite, brokenLinks, buildSite } from "./built-site.ts";
import { openBrowser } from "./chromium.ts";
import { foldSpaces, pdfPages } from "./pdf-text.ts";

/** What axe reports of one rule. */
interface Violation {
  id: string;
  impact: string;
  nodes: { html: string }[];
}

let site: BuiltSite;
let browser: Browser;

beforeAll(async () => {
  [site, browser] = await Promise.all([buildSite("data"), openBrowser()]);
}, 120_000);

afterAll(() => browser.close());

/** Opens every page in turn and collects what a check finds on it. */
async function onEveryPage(
  options: BrowserContextOptions,
  look: (page: Page, path: string) => Promise<string[]>,
): Promise<string[]> {
  const context = await browser.newContext(options);
  const found: string[] = [];
  try {
    const page = await context.newPage();
    for (const path of site.pages) {
      const heard: string[] = [];
      page.removeAllListeners();
      page.on("console", (message) => heard.push(`console: ${message.text()}`));
      page.on("pageerror", (fault) => heard.push(`error: ${fault.message}`));
      page.on("request", (request) => {
        if (!request.url().startsWith("file://")) heard.push(`request: ${request.url()}`);
      });
      page.on("requestfailed", (request) => heard.push(`failed: ${request.url()}`));
      await page.goto(site.url(path));
      await page.evaluate("document.fonts.ready.then(() => true)");
      heard.push(...(await look(page, path)));
      found.push(...heard.map((line) => `${path}: ${line}`));
    }
  } finally {
    await context.close();
  }
  return found;
}

describe("the demonstration site, opened from disk", () => {
  it("has pages for both facilities and every read point", () => {
    const readPoints = site.results.reduce((sum, result) => sum + result.readPoints.length, 0);
    expect(site.results).toHaveLength(2);
    expect(site.pages).toHaveLength(1 + 2 * 6 + readPoints);
  });

  it("says nothing on the console and asks for nothing off the disk", async () => {
    expect(await onEveryPage({}, async () => [])).toEqual([]);
  });

  it("sets its text in the fonts that lie beside the pages", async () => {
    const missing = await onEveryPage({}, async (page) => {
      const loaded: string[] = await page.evaluate(
        "[...document.fonts].filter((font) => font.status === 'loaded').map((font) => font.family)",
      );
      return loaded.some((family) => family.includes("Source Sans")) ? [] : ["Source Sans is not loaded"];
    });
    expect(missing).toEqual([]);
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
        const text = foldSpaces(await page.locator("main").textContent());
        expect(text).toContain(foldSpaces(verdictSentence(result)));
      }
      await context.close();
    }
  });

  it.each([
    ["light", 1280],
    ["dark", 390],
  ] as const)("has no serious accessibility fault in the %s theme at %i px", async (colorScheme, width) => {
    const source = await readFile(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
    const viewport = { width, height: 900 };
    const faults = await onEveryPage({ colorScheme, viewport, bypassCSP: true }, async (page) => {
      await page.evaluate(source);
      const violations: Violation[] = await page.evaluate("axe.run(document).then((run) => run.violations)");
      return violations
        .filter(({ impact }) => impact === "serious" || impact === "critical")
        .map(({ id, nodes }) => `${id}: ${nodes[0]?.html.slice(0, 160)}`);
    });
    expect(faults).toEqual([]);
  });

  it("fits a phone: nothing is wider than the screen", async () => {
    const viewport = { width: 390, height: 844 };
    const wide = await onEveryPage({ viewport }, async (page) => {
      const width = await page.evaluate<number>("document.documentElement.scrollWidth");
      return width > 390 ? [`${width} px wide`] : [];
    });
    expect(wide).toEqual([]);
  });

  it("keeps the chart for the screen: on paper it is gone", async () => {
    const context = await browser.newContext();
    const page = await context.newPage();
    const path = site.pages.find((one) => one.includes("/read-points/"))!;
    await page.goto(site.url(path));
    expect(await page.locator("canvas").first().isVisible()).toBe(true);
    await page.emulateMedia({ media: "print" });
    expect(await page.locator("canvas").first().isVisible()).toBe(false);
    await context.close();
  });
});

describe("the sign-off sheet on paper", () => {
  it.each(["A4", "Letter"])(
    "%s holds every read point's name and state, and numbers its sheets",
    async (format) => {
      const page = await browser.newPage();
      for (const result of site.results) {
        await page.goto(site.url(`${result.facility.id}/sign-off-sheet.html`));
        const sheets = await pdfPages(await page.pdf({ format, preferCSSPageSize: false }));
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
