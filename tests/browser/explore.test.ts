import type { Browser, Page } from "playwright-core";
import { beforeAll, describe, expect, it } from "vitest";
import type { BuiltSite } from "./built-site.ts";
import { openBrowser } from "./chromium.ts";
import { demonstrationSite } from "./demonstration-site.ts";
import { chartDrawn } from "./drawn-chart.ts";

let browser: Browser;
let site: BuiltSite;

beforeAll(async () => {
  [browser, site] = await Promise.all([openBrowser(), demonstrationSite()]);
});

const door = () => site.url("fennick-wash-plant/read-points/dock-2.html");
const chosen = (page: Page) =>
  page
    .locator("#explore select")
    .evaluateAll((all) => all.map((one) => (one as unknown as { value: string }).value));

describe("the panel to explore the passes of a read point", () => {
  it("loads its drawing code only where it is opened", async () => {
    const page = await browser.newPage();
    const loaded = () => page.locator('script[src$="chart.js"]').count();
    await page.goto(door());
    expect(await loaded()).toBe(0);
    await page.locator("#explore > summary").click();
    await chartDrawn(page);
    expect(await loaded()).toBe(1);
    await page.close();
  });

  it("holds its choice in the address, which shows the same to whoever opens it", async () => {
    const page = await browser.newPage();
    await page.goto(`${door()}#explore`);
    await chartDrawn(page);
    await page.locator('select[name="x"]').selectOption("condition-load");
    await page.locator('select[name="y"]').selectOption("condition-level");
    await page.locator('select[name="colour"]').selectOption("nothing");
    const address = page.url();
    expect(address).toMatch(/#explore&x=condition-load&y=condition-level&colour=nothing$/);
    const other = await browser.newPage();
    await other.goto(address);
    await chartDrawn(other);
    expect(await chosen(other)).toEqual(["condition-load", "condition-level", "nothing"]);
    // An address that somebody mistyped shows what is there.
    await other.goto("about:blank");
    await other.goto(`${door()}#explore&x=no-such-thing&y=condition-level`);
    await chartDrawn(other);
    expect((await chosen(other)).slice(0, 2)).toEqual(["order", "condition-level"]);
    await Promise.all([page.close(), other.close()]);
  });

  it("names the tags missed of the pass that the arrow keys reach, and leads to it", async () => {
    const page = await browser.newPage();
    await page.goto(`${door()}#explore`);
    await chartDrawn(page);
    const passes = site.results
      .flatMap(({ readPoints }) => readPoints)
      .find(({ id, name }) => id === "dock-2" && name === "Dock door 2")!;
    const valid = passes.rounds
      .find(({ id }) => id === passes.signOffRound)!
      .passList.filter(({ voidReason }) => voidReason === null);
    const place = valid.findIndex(({ missedTags }) => (missedTags ?? []).length > 0);
    await page.locator("canvas").focus();
    for (let i = 0; i <= place; i += 1) await page.keyboard.press("ArrowRight");
    const said = await page.locator("#explore output").textContent();
    expect(said).toContain(`${valid[place]!.id}, `);
    expect(said).toContain(valid[place]!.missedTags![0]);
    await page.keyboard.press("Enter");
    await page.waitForURL((url) => url.hash.toLowerCase().endsWith(valid[place]!.id.toLowerCase()));
    await page.close();
  });
});
