import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { BuiltSite } from "./built-site.ts";
import { openBrowser } from "./chromium.ts";
import { demonstrationSite } from "./demonstration-site.ts";
import { pdfPages } from "./pdf-text.ts";

let browser: Browser;
let site: BuiltSite;
let page: Page;

beforeAll(async () => {
  [browser, site] = await Promise.all([openBrowser(), demonstrationSite()]);
  page = await browser.newPage({ viewport: { width: 1280, height: 900 } });
}, 120_000);
afterAll(async () => {
  await page.close();
});

const open = (path: string) => page.goto(site.url(`fennick-wash-plant/${path}`));
const door = () => site.results[0]!.readPoints.find(({ id }) => id === "dock-2")!;
const judged = () => door().rounds.find(({ id }) => id === door().signOffRound)!;
/** The names of the rows of a table that are seen, from the top. */
const rows = (table: string) =>
  page
    .locator(`${table} tbody th`)
    .evaluateAll((cells) =>
      cells
        .filter((cell) => (cell as unknown as { offsetHeight: number }).offsetHeight > 0)
        .map(
          (cell) =>
            (cell as unknown as { querySelector(q: string): { textContent: string } }).querySelector("bdi")
              .textContent,
        ),
    );

describe("the passes of a read point", () => {
  const table = "table.passes";
  const column = (name: string) => page.locator(`${table} thead th`, { hasText: name });

  it("are sorted by a heading, by mouse or key: rising, falling, and as they were walked", async () => {
    await open("read-points/dock-2.html");
    await page.locator("details", { has: page.locator(table) }).evaluate((fold) => {
      (fold as unknown as { open: boolean }).open = true;
    });
    const walked = judged().passList.map(({ id }) => id);
    expect(await rows(table)).toEqual(walked);
    const heading = column("Tags read").getByRole("button");
    await heading.click();
    expect(await column("Tags read").getAttribute("aria-sort")).toBe("ascending");
    const share = (id: string) => {
      const { tagsRead, tagsPresented } = judged().passList.find((pass) => pass.id === id)!;
      return tagsRead / tagsPresented;
    };
    const rising = (await rows(table)).map(share);
    expect(rising).toEqual(rising.toSorted((a, b) => a - b));
    expect(rising[0]).toBeLessThan(rising.at(-1)!);
    await heading.press("Enter");
    expect(await column("Tags read").getAttribute("aria-sort")).toBe("descending");
    expect((await rows(table)).map(share)).toEqual(rising.toReversed());
    await heading.press("Enter");
    expect(await column("Tags read").getAttribute("aria-sort")).toBeNull();
    expect(await rows(table)).toEqual(walked);
  });

  it("are found by the end of a tag's code; the count is said, and paper keeps all of them", async () => {
    const tag = judged().missedTags[0]!;
    const field = page.getByLabel("Find a pass or a tag");
    await field.fill(tag.tag.slice(-8).toLowerCase());
    const found = judged().passList.filter(({ missedTags }) => (missedTags ?? []).includes(tag.tag));
    expect(found.length).toBeGreaterThan(1);
    expect(await rows(table)).toEqual(found.map(({ id }) => id));
    const said = page.locator("[data-search]:visible output");
    expect(await said.textContent()).toBe(`${found.length} of ${judged().passList.length} passes`);
    expect(await said.getAttribute("aria-live")).toBe("polite");
    await page.emulateMedia({ media: "print" });
    expect(await rows(table)).toHaveLength(judged().passList.length);
    expect(await field.isVisible()).toBe(false);
    await page.emulateMedia({ media: null });
    await field.fill("");
    expect(await said.textContent()).toBe("");
  });

  it("of the whole facility are found over all its tables, which unfold where something is found", async () => {
    await open("passes.html");
    const all = site.results[0]!.readPoints.flatMap(({ rounds }) =>
      rounds.flatMap(({ passList }) => passList),
    );
    expect(await page.locator("details.passes-of[open]").count()).toBe(0);
    const reason = all.find(({ voidReason }) => voidReason !== null)!.voidReason!;
    await page.getByLabel("Find a pass or a tag").fill(`void: ${reason}`);
    const found = all.filter(({ voidReason }) => voidReason === reason);
    expect(await rows(table)).toEqual(found.map(({ id }) => id));
    expect(await page.locator("[data-search] output").textContent()).toBe(
      `${found.length} of ${all.length} passes`,
    );
  });
});

it("a row of a picture of intervals leads to its finding, and unfolds the table that it is in", async () => {
  await open("index.html");
  const findings = site.results[0]!.findings.filter(({ readPoint }) => readPoint === "dock-2");
  await page.locator(".picture.wide a[href*='dock-2.html#finding-']").first().click();
  await page.waitForURL(/#finding-/);
  const target = page.locator(":target");
  expect(await target.isVisible()).toBe(true);
  expect(findings.map(({ criterion }) => criterion).some((id) => page.url().includes(id))).toBe(true);
});

it("a region is a stop of the Tab key only where it scrolls, and never on paper", async () => {
  await open("index.html");
  const stops = () =>
    page.locator(".scroll:visible, .drawing:visible").evaluateAll((all) =>
      all.map((each) => {
        const { scrollWidth, clientWidth, tabIndex } = each as unknown as Record<string, number>;
        return { scrolls: scrollWidth! > clientWidth!, isStop: tabIndex === 0 };
      }),
    );
  const settled = async () => {
    await page.evaluate("new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))");
    return stops();
  };
  const wide = await settled();
  expect(wide.length).toBeGreaterThan(4);
  expect(wide.filter(({ isStop }) => isStop)).toEqual([]);
  // Where tables are not yet blocks, and the page is too narrow for some.
  await page.setViewportSize({ width: 745, height: 900 });
  const narrow = await settled();
  expect(narrow.some(({ scrolls }) => scrolls)).toBe(true);
  expect(narrow.filter(({ scrolls, isStop }) => scrolls !== isStop)).toEqual([]);
});

it("that can be sorted says its headings on every sheet of paper that it goes over", async () => {
  await page.emulateMedia({ media: null });
  await page.goto(site.url("ternhaven-depot/why/door-a.html"));
  expect(await page.locator("thead button").count()).toBeGreaterThan(0);
  const sheets = await pdfPages(await page.pdf({ format: "A4" }));
  const levels = sheets.filter((text) =>
    /(Antenna \d|m\/s|full|edge-on|bottom|top) \d+ −\d+\.\d −/.test(text),
  );
  expect(levels.length).toBeGreaterThan(1);
  for (const sheet of levels) expect(sheet).toContain("Strongest, dBm");
});
