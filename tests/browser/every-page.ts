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
  /** Faults that axe finds, of any weight. */
  inaccessible: string[];
  /** The pages that axe looked at: together they hold every kind of part in every surrounding. */
  examined: string[];
  /** What is wider than the screen. */
  wide: string[];
  /** Fonts that did not load. */
  unset: string[];
  /** Texts of pictures that are too small or too large to read, at any of the widths. */
  misprinted: string[];
  /** What a finger does not hit, outside of running text. */
  small: string[];
}

export interface Screen extends BrowserContextOptions {
  viewport: { width: number; height: number };
  /** Further widths at which the pictures are looked at. */
  alsoAt: number[];
}

/** Above this a page is looked at where it is new, since axe's time grows with the elements. */
const mostElements = 4000;
/** A page that brings fewer new kinds of parts is one more of its kind. */
const leastNew = 12;
/** Of each new kind of part so many are looked at. */
const each = 3;

/** Opens every page as a file, once, and keeps all that is amiss. */
async function lookAtEveryPage(
  site: BuiltSite,
  browser: Browser,
  { alsoAt, ...options }: Screen,
): Promise<Look> {
  const axe = await readFile(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
  // Without the bypass the pages' own policy keeps axe out; the policy has a test of its own.
  const context = await browser.newContext({ ...options, bypassCSP: true });
  const found: Look = {
    heard: [],
    inaccessible: [],
    examined: [],
    wide: [],
    unset: [],
    misprinted: [],
    small: [],
  };
  const examined = new Set<string>();
  const drawn = new Set<string>();
  const page = await context.newPage();
  for (const path of site.pages) {
    const listen = listenTo(page);
    await page.goto(site.url(path));
    await page.evaluate("document.fonts.ready.then(() => true)");
    found.heard.push(...listen().map((line) => `${path}: ${line}`));
    const width = await page.evaluate<number>("document.documentElement.scrollWidth");
    if (width > options.viewport.width) found.wide.push(`${path}: ${width} px`);
    const families = await page.evaluate<string>(
      "[...document.fonts].filter((font) => font.status === 'loaded').map((font) => font.family).join()",
    );
    if (!families.includes("Source Sans")) found.unset.push(path);
    const pictures = await page.evaluate<string[]>(kindsOfPictures);
    if (pictures.some((kind) => !drawn.has(kind))) {
      for (const kind of pictures) drawn.add(kind);
      for (const at of [options.viewport.width, ...alsoAt]) {
        await page.setViewportSize({ ...options.viewport, width: at });
        const texts = await page.evaluate<string[]>(textsOutOfSize);
        found.misprinted.push(...texts.map((text) => `${path} at ${at} px: ${text}`));
      }
      await page.setViewportSize(options.viewport);
    }
    if (options.viewport.width < 768) {
      const targets = await page.evaluate<string[]>(smallTargets);
      found.small.push(...targets.map((target) => `${path}: ${target}`));
    }
    // Axe takes longer than all the rest: a page whose every part was looked at on another is passed over.
    const parts = await page.evaluate<string[]>(partsOfPage);
    const fresh = parts.filter((part) => !examined.has(part));
    if (fresh.length === 0) continue;
    for (const part of fresh) examined.add(part);
    found.examined.push(path);
    await page.evaluate(axe);
    const elements = await page.locator("body *").count();
    const scope =
      fresh.length >= leastNew && elements <= mostElements
        ? "document"
        : `{ include: (${partsLike})(${JSON.stringify(fresh)}) }`;
    // The rule on regions looks at every element there is.
    const violations: Violation[] = await page.evaluate(
      `axe.run(${scope}, { preload: false, resultTypes: ['violations'], rules: { region: { enabled: false } } })
        .then((run) => run.violations)`,
    );
    found.inaccessible.push(
      ...violations.map(({ id, nodes }) => `${path}: ${id}: ${nodes[0]?.html.slice(0, 160)}`),
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

/** The elements of some kinds, a few of each. */
const partsLike = `(kinds) => {
  const kind = (each) => each === null ? "" : each.localName + "." + (each.getAttribute("class") ?? "");
  const left = new Map(kinds.map((one) => [one, ${each}]));
  return [...document.querySelectorAll("body *")].filter((one) => {
    const name = kind(one.parentElement) + ">" + kind(one);
    const more = left.get(name) ?? 0;
    if (more > 0) left.set(name, more - 1);
    return more > 0;
  });
}`;

/** Pictures that are drawn alike, by class and width. */
const kindsOfPictures = `[...new Set([...document.querySelectorAll("svg.picture")].map((each) =>
  each.getAttribute("class") + " " + each.viewBox.baseVal.width))]`;

/** Between 9 and 13 pixels a text is read without effort beside that of the page; folds are opened for it. */
const textsOutOfSize = `(() => {
  const closed = [...document.querySelectorAll("details:not([open])")];
  for (const fold of closed) fold.open = true;
  const found = [...document.querySelectorAll("svg.picture")].flatMap((svg) => {
    const { width } = svg.getBoundingClientRect();
    const scale = width / svg.viewBox.baseVal.width;
    return width === 0 ? [] : [...svg.querySelectorAll("text")].flatMap((text) => {
      const size = Number.parseFloat(getComputedStyle(text).fontSize) * scale;
      return size > 8.95 && size < 13.05 ? [] : [size.toFixed(1) + " px: " + text.textContent];
    });
  });
  for (const fold of closed) fold.open = false;
  return found;
})()`;

/** Links of the miss map lead to what the table below it leads to as well. */
const smallTargets = `[...document.querySelectorAll("a[href], button, summary, select, input")].flatMap((each) => {
  const { width, height } = each.getBoundingClientRect();
  if (width === 0 || each.closest(".miss-map") !== null || each.classList.contains("skip")) return [];
  return width >= 24 && height >= 24 ? [] : [Math.round(width) + " x " + Math.round(height) + ": " + each.outerHTML.slice(0, 120)];
})`;

/** What holds of every page of the demonstration on one screen: a file of tests each, so that the cores share them. */
export function describeScreen(name: string, screen: Screen): void {
  describe(`the demonstration site, opened from disk on ${name}`, () => {
    let look: Look;
    beforeAll(async () => {
      const [site, browser] = await Promise.all([demonstrationSite(), openBrowser()]);
      look = await lookAtEveryPage(site, browser, screen);
      await browser.close();
    }, 300_000);

    it("says nothing on the console and asks for nothing off the disk", () => expect(look.heard).toEqual([]));
    it("sets its text in the fonts beside the pages", () => expect(look.unset).toEqual([]));
    it("fits: no page is wider than the screen", () => expect(look.wide).toEqual([]));
    it("sets the text of every picture between 9 and 13 pixels, at every width", () =>
      expect(look.misprinted).toEqual([]));
    if (screen.viewport.width < 768)
      it("has no target that is too small for a finger", () => expect(look.small).toEqual([]));
    it("has no accessibility fault in any kind of part that its pages are made of", () => {
      expect(look.examined.length).toBeGreaterThan(10);
      expect(look.inaccessible).toEqual([]);
    });
  });
}
