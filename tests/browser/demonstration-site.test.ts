import { readFile } from "node:fs/promises";
import { createRequire } from "node:module";
import type { Browser, BrowserContextOptions, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { roundPairs } from "../../src/pages/changes/round-pairs.ts";
import { stateWord } from "../../src/pages/words/states.ts";
import { verdictSentence } from "../../src/pages/words/verdict-sentence.ts";
import { type BuiltSite, brokenLinks } from "./built-site.ts";
import { openBrowser } from "./chromium.ts";
import { demonstrationSite } from "./demonstration-site.ts";
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
  [site, browser] = await Promise.all([demonstrationSite(), openBrowser()]);
}, 120_000);

afterAll(() => browser.close());

/** What one look at a page found amiss. */
interface Look {
  /** Console messages, faults of scripts, requests that failed or left the disk. */
  heard: string[];
  /** Serious faults that axe finds. */
  inaccessible: string[];
  /** What is wider than the screen. */
  wide: string[];
  /** Fonts that did not load. */
  unset: string[];
}

/** Opens every page as a file, once, and keeps all that is amiss. */
async function lookAtEveryPage(options: BrowserContextOptions): Promise<Look> {
  const axe = await readFile(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
  // Without the bypass the pages' own policy keeps axe out; the policy has a test of its own.
  const context = await browser.newContext({ ...options, bypassCSP: true });
  const found: Look = { heard: [], inaccessible: [], wide: [], unset: [] };
  const page = await context.newPage();
  for (const path of site.pages) {
    const listen = listenTo(page);
    await page.goto(site.url(path));
    await page.evaluate("document.fonts.ready.then(() => true)");
    found.heard.push(...listen().map((line) => `${path}: ${line}`));
    const width = await page.evaluate<number>("document.documentElement.scrollWidth");
    if (width > options.viewport!.width) found.wide.push(`${path}: ${width} px`);
    const families = await page.evaluate<string>(
      "[...document.fonts].filter((font) => font.status === 'loaded').map((font) => font.family).join()",
    );
    if (!families.includes("Source Sans")) found.unset.push(path);
    // The same templates make both facilities: on the second screen one of them is looked at this closely.
    if (!examined(path, options)) continue;
    await page.evaluate(axe);
    const violations: Violation[] = await page.evaluate(
      "axe.run(document, { preload: false, resultTypes: ['violations'] }).then((run) => run.violations)",
    );
    const serious = violations.filter(({ impact }) => impact === "serious" || impact === "critical");
    found.inaccessible.push(
      ...serious.map(({ id, nodes }) => `${path}: ${id}: ${nodes[0]?.html.slice(0, 160)}`),
    );
  }
  await context.close();
  return found;
}

function examined(path: string, { colorScheme }: BrowserContextOptions): boolean {
  return colorScheme === "light" || !path.startsWith(`${site.results[1]!.facility.id}/`);
}

function listenTo(page: Page): () => string[] {
  const heard: string[] = [];
  page.removeAllListeners();
  page.on("console", (message) => heard.push(`console: ${message.text()}`));
  page.on("pageerror", (fault) => heard.push(`error: ${fault.message}`));
  page.on("request", (request) => {
    if (!request.url().startsWith("file://")) heard.push(`request: ${request.url()}`);
  });
  page.on("requestfailed", (request) => heard.push(`failed: ${request.url()}`));
  return () => heard;
}

const screens = [
  { name: "a wide light screen", viewport: { width: 1280, height: 900 }, colorScheme: "light" },
  { name: "a dark phone", viewport: { width: 390, height: 844 }, colorScheme: "dark" },
] as const;

describe.each(screens)("the demonstration site, opened from disk on $name", ({ viewport, colorScheme }) => {
  let look: Look;
  beforeAll(async () => {
    look = await lookAtEveryPage({ viewport, colorScheme });
  }, 180_000);

  it("says nothing on the console and asks for nothing off the disk", () => expect(look.heard).toEqual([]));
  it("sets its text in the fonts beside the pages", () => expect(look.unset).toEqual([]));
  it("fits: no page is wider than the screen", () => expect(look.wide).toEqual([]));
  it("has no serious accessibility fault", () => expect(look.inaccessible).toEqual([]));
});

describe("the demonstration site", () => {
  it("has pages for both facilities, every read point, every pair of rounds and every planned walk", () => {
    const readPoints = site.results.reduce((sum, result) => sum + result.readPoints.length, 0);
    expect(site.results).toHaveLength(2);
    const pairs = site.results.reduce((sum, result) => sum + roundPairs(result).length, 0);
    expect(pairs).toBeGreaterThan(0);
    const walks = site.results.map(({ plan }) => (plan === null ? 0 : plan.walks.length));
    expect(walks).toEqual([2, 0]);
    // With a plan: how much to walk, the page to log a walk on, and a sheet for each read point that is planned.
    const planned = walks.reduce((sum, sheets) => sum + (sheets === 0 ? 0 : 2 + sheets), 0);
    expect(site.pages).toHaveLength(1 + 2 * 6 + readPoints + pairs + planned);
  });

  it("keeps its own policy: with it in force a read point's page still draws its chart and says nothing", async () => {
    const page = await browser.newPage();
    const listen = listenTo(page);
    await page.goto(site.url(site.pages.find((path) => path.includes("/read-points/"))!));
    expect(await page.locator("canvas").first().isVisible()).toBe(true);
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
