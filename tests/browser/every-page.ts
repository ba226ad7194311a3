import { readFile } from "node:fs/promises";
import { createRequire } from "node:module";
import type { Browser, BrowserContextOptions } from "playwright-core";
import { beforeAll, describe, expect, it } from "vitest";
import type { BuiltSite } from "./built-site.ts";
import { openBrowser } from "./chromium.ts";
import { demonstrationSite } from "./demonstration-site.ts";
import { listenTo } from "./page-faults.ts";

/** What axe reports of one rule. */
interface Violation {
  id: string;
  impact: string;
  nodes: { html: string }[];
}

/** What one look at a page found amiss. */
interface Look {
  /** Console messages, faults of scripts, requests that failed or left the disk. */
  heard: string[];
  /** Serious faults that axe finds. */
  inaccessible: string[];
  /** The pages that axe looked at: together they hold every kind of part in every surrounding. */
  examined: string[];
  /** What is wider than the screen. */
  wide: string[];
  /** Fonts that did not load. */
  unset: string[];
}

/** Opens every page as a file, once, and keeps all that is amiss. */
async function lookAtEveryPage(
  site: BuiltSite,
  browser: Browser,
  options: BrowserContextOptions,
): Promise<Look> {
  const axe = await readFile(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
  // Without the bypass the pages' own policy keeps axe out; the policy has a test of its own.
  const context = await browser.newContext({ ...options, bypassCSP: true });
  const found: Look = { heard: [], inaccessible: [], examined: [], wide: [], unset: [] };
  const examined = new Set<string>();
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
    // Axe takes longer than all the rest: a page whose every part was looked at on another is passed over.
    const parts = await page.evaluate<string[]>(partsOfPage);
    if (parts.every((part) => examined.has(part))) continue;
    for (const part of parts) examined.add(part);
    found.examined.push(path);
    await page.evaluate(axe);
    // What the rule on regions reports is never serious, and it looks at every element there is.
    const violations: Violation[] = await page.evaluate(
      `axe.run(document, { preload: false, resultTypes: ['violations'], rules: { region: { enabled: false } } })
        .then((run) => run.violations)`,
    );
    const serious = violations.filter(({ impact }) => impact === "serious" || impact === "critical");
    found.inaccessible.push(
      ...serious.map(({ id, nodes }) => `${path}: ${id}: ${nodes[0]?.html.slice(0, 160)}`),
    );
  }
  await context.close();
  return found;
}

/** Each kind of element by its classes, and by those of what it stands in. */
const partsOfPage = `(() => {
  const kind = (each) => each === null ? "" : each.localName + "." + (each.getAttribute("class") ?? "");
  const all = [...document.querySelectorAll("body *")];
  return [...new Set(all.map((each) => kind(each.parentElement) + ">" + kind(each)))];
})()`;

/** What holds of every page of the demonstration on one screen: a file of tests each, so that the cores share them. */
export function describeScreen(name: string, options: BrowserContextOptions): void {
  describe(`the demonstration site, opened from disk on ${name}`, () => {
    let look: Look;
    beforeAll(async () => {
      const [site, browser] = await Promise.all([demonstrationSite(), openBrowser()]);
      look = await lookAtEveryPage(site, browser, options);
      await browser.close();
    }, 300_000);

    it("says nothing on the console and asks for nothing off the disk", () => expect(look.heard).toEqual([]));
    it("sets its text in the fonts beside the pages", () => expect(look.unset).toEqual([]));
    it("fits: no page is wider than the screen", () => expect(look.wide).toEqual([]));
    it("has no serious accessibility fault in any kind of part that its pages are made of", () => {
      expect(look.examined.length).toBeGreaterThan(10);
      expect(look.inaccessible).toEqual([]);
    });
  });
}
