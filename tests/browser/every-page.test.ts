import { statSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import type { Browser, Page } from "playwright-core";
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

interface Screen {
  viewport: { width: number; height: number };
  colorScheme: "light" | "dark";
  /** Further widths at which the pictures are looked at. */
  alsoAt: number[];
}

const screens = {
  "a wide light screen": {
    viewport: { width: 1280, height: 900 },
    colorScheme: "light",
    alsoAt: [768, 1024],
  },
  "a dark phone": { viewport: { width: 390, height: 844 }, colorScheme: "dark", alsoAt: [320, 650, 700] },
} as const satisfies Record<string, Screen>;

/** What the looks at all pages on one screen found amiss. */
interface Found {
  /** Faults that axe finds, of any weight. */
  inaccessible: string[];
  /** What is wider than the screen. */
  wide: string[];
  /** Fonts that did not load. */
  unset: string[];
  /** Texts of pictures that are too small or too large to read, at any of the widths. */
  misprinted: string[];
  /** What a finger does not hit, outside of running text. */
  small: string[];
  /** The kinds of pictures seen so far. */
  drawn: Set<string>;
}

/** Of each kind of part so many are left on a page for axe. */
const each = 3;
/** A page that brings fewer new kinds of parts is one more of its kind: only they are looked at. */
const leastNew = 12;

const axe = createRequire(import.meta.url).resolve("axe-core/axe.min.js");

let site: BuiltSite;
/** Console messages, faults of scripts, requests that failed or left the disk. */
const heard: string[] = [];
/** The pages that axe looked at: together they hold every kind of part in every surrounding. */
const examined: string[] = [];
const nothing = (): Found => ({
  inaccessible: [],
  wide: [],
  unset: [],
  misprinted: [],
  small: [],
  drawn: new Set(),
});
const found = { "a wide light screen": nothing(), "a dark phone": nothing() };

beforeAll(async () => {
  let browser: Browser;
  [site, browser] = await Promise.all([demonstrationSite(), openBrowser()]);
  await lookAtEveryPage(browser);
}, 300_000);

/** Opens every page as a file, once, and looks at it on each of the screens. */
async function lookAtEveryPage(browser: Browser): Promise<void> {
  let [first, second]: [keyof typeof screens, keyof typeof screens] = ["a wide light screen", "a dark phone"];
  // Without the bypass the pages' own policy keeps axe out; the policy has a test of its own.
  const context = await browser.newContext({ ...screens[first], bypassCSP: true });
  // From here the browser compiles it once, not once a page.
  await context.addInitScript({ path: axe });
  const page = await context.newPage();
  const kinds = new Set<string>();
  // The largest first: what they hold is new on few of the others.
  const size = (path: string) => statSync(join(site.folder, path)).size;
  for (const path of site.pages.toSorted((a, b) => size(b) - size(a))) {
    const listen = listenTo(page);
    await page.goto(site.url(path));
    await page.evaluate("document.fonts.ready.then(() => true)");
    await look(page, path, first);
    await turn(page, screens[second]);
    await look(page, path, second);
    // Axe takes longer than all the rest: a page whose every part was looked at on another is passed over.
    const fresh = (await page.evaluate<string[]>(kindsOfParts)).filter((kind) => !kinds.has(kind));
    for (const kind of fresh) kinds.add(kind);
    const examine = async (name: keyof typeof found) =>
      found[name].inaccessible.push(
        ...(await accessibilityFaults(page, fresh)).map((fault) => `${path}: ${fault}`),
      );
    if (fresh.length > 0) {
      examined.push(path);
      await page.evaluate(`(${leaveAFewOf})(${fresh.length >= leastNew ? null : JSON.stringify(fresh)})`);
      await examine(second);
      await turn(page, screens[first]);
      await examine(first);
    } else {
      // The next page begins on the screen that this one ended on: a turn lays out a whole page anew.
      [first, second] = [second, first];
    }
    heard.push(...listen().map((line) => `${path}: ${line}`));
  }
  await context.close();
}

async function turn(page: Page, { viewport, colorScheme }: Screen): Promise<void> {
  await page.emulateMedia({ colorScheme });
  await page.setViewportSize(viewport);
  // Scripts that follow the size have run by then.
  await page.evaluate("new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))");
}

async function look(page: Page, path: string, name: keyof typeof found): Promise<void> {
  const { viewport, alsoAt } = screens[name];
  const { wide, unset, misprinted, small, drawn } = found[name];
  const width = await page.evaluate<number>("document.documentElement.scrollWidth");
  if (width > viewport.width) wide.push(`${path}: ${width} px`);
  const families = await page.evaluate<string>(
    "[...document.fonts].filter((font) => font.status === 'loaded').map((font) => font.family).join()",
  );
  if (!families.includes("Source Sans")) unset.push(path);
  if (name === "a dark phone") {
    const targets = await page.evaluate<string[]>(smallTargets);
    small.push(...targets.map((target) => `${path}: ${target}`));
  }
  const pictures = await page.evaluate<string[]>(kindsOfPictures);
  if (pictures.every((kind) => drawn.has(kind))) return;
  for (const kind of pictures) drawn.add(kind);
  for (const at of [viewport.width, ...alsoAt]) {
    await page.setViewportSize({ ...viewport, width: at });
    const texts = await page.evaluate<string[]>(textsOutOfSize);
    misprinted.push(...texts.map((text) => `${path} at ${at} px: ${text}`));
  }
  await page.setViewportSize(viewport);
}

async function accessibilityFaults(page: Page, fresh: string[]): Promise<string[]> {
  const scope =
    fresh.length >= leastNew ? "document" : `{ include: (${partsLike})(${JSON.stringify(fresh)}) }`;
  // The rule on regions looks at every element there is.
  const violations = await page.evaluate<Violation[]>(
    `axe.run(${scope}, { preload: false, resultTypes: ['violations'], rules: { region: { enabled: false } } })
      .then((run) => run.violations)`,
  );
  return violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html.slice(0, 160)}`);
}

/** What kind of part an element is: its name and classes, and those of what it stands in. */
const kindOf = `(one) => {
  const own = (each) => each === null ? "" : each.localName + "." + (each.getAttribute("class") ?? "");
  return own(one.parentElement) + ">" + own(one);
}`;

const kindsOfParts = `[...new Set([...document.querySelectorAll("body *")].map(${kindOf}))]`;

/** The elements of some kinds. */
const partsLike = `(kinds) => [...document.querySelectorAll("body *")].filter((one) => kinds.includes((${kindOf})(one)))`;

/**
 * Axe's time grows with the elements: of rows, entries of lists and marks of pictures, what is one more of its kinds goes, and
 * where only some kinds are looked at, what holds none of them. The headings of tables stay with what they head.
 */
const leaveAFewOf = `(kinds) => {
  const seen = new Map();
  const stays = new Set();
  for (const one of document.querySelectorAll("body *")) {
    const kind = (${kindOf})(one);
    const before = seen.get(kind) ?? 0;
    seen.set(kind, before + 1);
    if (before < ${each} && (kinds === null || kinds.includes(kind))) for (let up = one; up !== null && !stays.has(up); up = up.parentElement) stays.add(up);
  }
  for (const one of document.querySelectorAll("tbody tr, li, svg :not(title, a > *)")) if (!stays.has(one)) one.remove();
}`;

/** Pictures that are drawn alike, by class and width. */
const kindsOfPictures = `[...new Set([...document.querySelectorAll("svg.picture")].map((each) =>
  each.getAttribute("class") + " " + each.viewBox.baseVal.width))]`;

/** Between 9 and 13 pixels a text is read without effort beside that of the page; their folds are opened for it. */
const textsOutOfSize = `(() => {
  const closed = [...document.querySelectorAll("details:not([open]):has(svg.picture)")];
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

it("every page of the demonstration, opened from disk, says nothing on the console and asks for nothing off the disk", () =>
  expect(heard).toEqual([]));

describe.each(Object.entries(found))("the demonstration site on %s", (name, looks) => {
  it("sets its text in the fonts beside the pages", () => expect(looks.unset).toEqual([]));
  it("fits: no page is wider than the screen", () => expect(looks.wide).toEqual([]));
  it("sets the text of every picture between 9 and 13 pixels, at every width", () => {
    expect(looks.drawn.size).toBeGreaterThan(5);
    expect(looks.misprinted).toEqual([]);
  });
  if (name === "a dark phone")
    it("has no target that is too small for a finger", () => expect(looks.small).toEqual([]));
  it("has no accessibility fault in any kind of part that its pages are made of", () => {
    expect(examined.length).toBeGreaterThan(10);
    expect(looks.inaccessible).toEqual([]);
  });
});
