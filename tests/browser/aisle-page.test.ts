import { mkdtemp, readFile } from "node:fs/promises";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Browser, BrowserContext, BrowserContextOptions, Page } from "playwright-core";
import { beforeAll, describe, expect, it } from "vitest";
import type { Problem } from "../../src/model/problem.ts";
import { ended } from "../commands/ended.ts";
import { cage, judged, walkFacility } from "../pages/aisle/walk-facility.ts";
import { type BuiltSite, brokenLinks, buildSite } from "./built-site.ts";
import { openBrowser } from "./chromium.ts";
import { hostileTexts } from "./hostile-facility.ts";

const phone: BrowserContextOptions = {
  viewport: { width: 390, height: 844 },
  hasTouch: true,
  timezoneId: "Europe/Dublin",
};

let data: string;
let site: BuiltSite;
let counted: BuiltSite;
let browser: Browser;

beforeAll(async () => {
  data = await walkFacility({ load: true });
  const countedData = await walkFacility({ load: false });
  [site, browser] = await Promise.all([buildSite(data), openBrowser()]);
  counted = await buildSite(countedData);
}, 120_000);

/** What the page says amiss: on the console, by dialogs, or in any request that leaves the disk. */
function listenTo(page: Page): string[] {
  const heard: string[] = [];
  page.on("console", (message) => heard.push(message.text()));
  page.on("pageerror", (fault) => heard.push(fault.message));
  page.on("dialog", (dialog) => {
    heard.push(`dialog: ${dialog.message()}`);
    void dialog.dismiss();
  });
  page.on("request", (request) => {
    if (!/^(file|blob):/.test(request.url())) heard.push(request.url());
  });
  return heard;
}

async function openPage(context: BrowserContext, of = site): Promise<{ page: Page; heard: string[] }> {
  const page = await context.newPage();
  const heard = listenTo(page);
  await page.clock.install({ time: "2026-05-21T09:00:00Z" });
  await page.goto(of.url("yard/aisle.html"));
  return { page, heard };
}

interface Walked {
  missed?: string[];
  strays?: "Looked, none read" | "Strays were read";
  codes?: string;
  reason?: string;
  note?: string;
}

const tag = (code: string) => `[data-tag="${code}"]`;

async function start(page: Page): Promise<void> {
  await page.clock.fastForward(20_000);
  await page.tap("#main");
}

async function stop(page: Page): Promise<void> {
  await page.clock.fastForward(7_000);
  await page.tap("#main");
}

/** What is tapped and typed about a pass that was stopped, and the saving of it. */
async function tell(page: Page, { missed = [], strays, codes, reason, note }: Walked): Promise<void> {
  await page.clock.fastForward(5_000);
  const speed = page.locator("#walked-0");
  if ((await speed.inputValue()) === "") await speed.fill("1.4");
  for (const code of missed) await page.tap(tag(code));
  if (strays) await page.locator("#after label", { hasText: new RegExp(`^ ?${strays}$`) }).tap();
  if (codes) await page.fill("#stray-codes", codes);
  if (note) await page.fill("#note", note);
  if (reason) {
    await page.tap("#is-void");
    await page.locator("#void-reasons button", { hasText: reason }).tap();
  }
  await page.tap("#main");
}

async function walk(page: Page, walked: Walked = {}): Promise<void> {
  await start(page);
  await stop(page);
  await tell(page, walked);
}

async function saveFile(page: Page, folder: string): Promise<string> {
  const [download] = await Promise.all([page.waitForEvent("download"), page.tap("#save-file")]);
  const path = join(folder, download.suggestedFilename());
  await download.saveAs(path);
  return path;
}

const text = (page: Page, selector: string) => page.locator(selector).textContent();

describe("a walk of twelve passes, logged by touch on a phone", () => {
  let file = "";
  it("outlives reloads, also within a running pass, and is all there in the end", async () => {
    const context = await browser.newContext(phone);
    const { page, heard } = await openPage(context);
    await page.selectOption("#read-point", "dock-1");
    await page.fill("#walked-by", "Ada Invented");
    expect(await page.locator("#cautions").getAttribute("open")).not.toBeNull();
    const isAbove = () =>
      page.evaluate(
        "document.getElementById('stage').getBoundingClientRect().top < document.getElementById('cautions').getBoundingClientRect().top",
      );
    expect(await isAbove()).toBe(false);
    await page.tap("#cautions-read");
    expect(await isAbove()).toBe(true);
    expect(await page.locator("#cautions").getAttribute("open")).toBeNull();
    expect(await text(page, "#walk")).toContain("Two phones do not know of each other");

    await walk(page, { missed: [cage[0]!, cage[7]!], strays: "Looked, none read" });
    expect(await page.locator("#cautions").getAttribute("open")).toBeNull();
    await start(page);
    await page.reload();
    expect(await text(page, "#stage-word")).toBe("Running: w02");
    await stop(page);
    // A tag tapped twice was not missed after all.
    await tell(page, { missed: [cage[3]!, cage[3]!], note: hostileTexts.markup });
    await walk(page, { missed: [cage[1]!], reason: "Load slipped" });
    expect(await text(page, "#stage-word")).toBe("Next: w03-2");
    await walk(page, { strays: "Strays were read", codes: "AB12, CD34" });

    await page.reload();
    expect(await text(page, "#stage-line")).toMatch(/^3 of 12 passes done at Dock door 1; \d of 3 in/);
    expect(await page.inputValue("#walked-by")).toBe("Ada Invented");
    await walk(page, { missed: [cage[2]!] });
    await page.tap("#undo");
    expect(await text(page, "#stage-word")).toBe("Walked: w04");
    await page.fill("#find-tag", cage[19]!.slice(-4).toLowerCase());
    await page.press("#find-tag", "Enter");
    await tell(page, { note: hostileTexts.formula });
    // Started too early: the start is taken back, and the pass walked anew.
    await start(page);
    await page.tap("#undo");
    expect(await text(page, "#stage-word")).toBe("Next: w05");
    for (let i = 0; i < 8; i += 1) await walk(page);
    expect(await text(page, "#stage-word")).toBe("All planned passes are walked");
    expect(await text(page, "#done-line")).toBe("12 of 12 passes done at Dock door 1.");

    file = await saveFile(page, join(data, "yard", "passes"));
    expect(heard).toEqual([]);
    await context.close();
  }, 60_000);

  it("is a log that the tool takes without an error, and that says what was tapped", async () => {
    const { status, out } = await ended("check", "--data", data, "--json");
    expect(status).toBe(0);
    const { problems } = JSON.parse(out) as { problems: Problem[] };
    expect(problems.filter(({ severity }) => severity === "error")).toEqual([]);

    const result = await judged(data);
    const round = result.readPoints.find(({ id }) => id === "dock-1")!.rounds[1]!;
    expect(round).toMatchObject({ passes: 12, voidPasses: 1, tagsPresented: 240, tagsRead: 236 });
    expect(round.missedTags.map(({ tag: code }) => code).sort()).toEqual(
      [cage[0], cage[2], cage[7], cage[19]].sort(),
    );
    const passes = new Map(round.passList.map((pass) => [pass.id, pass]));
    expect([...passes.keys()]).toHaveLength(13);
    expect(passes.get("w03")).toMatchObject({ voidReason: "Load slipped", missedTags: [cage[1]] });
    expect(passes.get("w03-2")).toMatchObject({ voidReason: null, strayTags: ["AB12", "CD34"] });
    expect(passes.get("w01")).toMatchObject({ strayTags: [], strays: 0, walkedBy: ["Ada Invented"] });
    expect(passes.get("w02")).toMatchObject({ missedTags: [], strays: 0, notes: [hostileTexts.markup] });
    expect(passes.get("w04")!.notes).toEqual([hostileTexts.formula]);
    expect(passes.get("w01")!.startedAtLocal).toMatch(/^2026-05-21 10:00:2\d$/);
    expect(await readFile(file, "utf8")).toMatch(/,2026-05-21T10:00:2\d\+01:00,2026-05-21T10:00:2\d\+01:00,/);
    expect(
      result
        .plan!.walks[0]!.cells.map(({ state }) => state)
        .concat(result.plan!.walks[1]!.cells.map(({ state }) => state)),
    ).toEqual([...Array(4).fill("not-asked"), ...Array(4).fill("done")]);
  }, 60_000);
});

describe("a browser that keeps nothing", () => {
  const blocked = `Object.defineProperty(window, "localStorage", {
    get() { throw new DOMException("denied", "SecurityError"); },
  })`;

  it("is told of before anything is typed, and the log is to be had as a file and as text all the same", async () => {
    const context = await browser.newContext(phone);
    await context.addInitScript(blocked);
    const { page, heard } = await openPage(context, counted);
    expect(await text(page, "#notice")).toMatch(/^This browser keeps nothing/);
    await start(page);
    await stop(page);
    await page.locator(".stepper", { hasText: "Tags missed" }).locator("button").last().tap();
    await page.locator(".stepper", { hasText: "Tags missed" }).locator("button").last().tap();
    await tell(page, { strays: "Looked, none read" });
    const folder = await mkdtemp(join(tmpdir(), "proofwalk-aisle-"));
    const [header, row] = (await readFile(await saveFile(page, folder), "utf8")).split("\r\n");
    expect(header).toMatch(/^round,pass,read_point,.*,tags_presented,tags_read,stray_tags,void_reason,/);
    expect(row).toMatch(/^as-left,w01,dock-1,.*,20,18,0,,,$/);
    await page.tap("#show-text");
    expect((await page.inputValue("#as-text textarea")).split("\n")).toEqual([header, row, ""]);
    expect(await text(page, "#notice")).toMatch(/^This browser keeps nothing/);
    expect(heard).toEqual([]);
    await context.close();
  });

  it("that fills up in the middle of a walk is told of at once, and nothing logged so far is gone from the page", async () => {
    const context = await browser.newContext(phone);
    const { page } = await openPage(context);
    await page.selectOption("#read-point", "dock-1");
    await walk(page);
    expect(await page.locator("#notice").isVisible()).toBe(false);
    await page.evaluate(
      'Storage.prototype.setItem = () => { throw new DOMException("full", "QuotaExceededError"); }',
    );
    await walk(page);
    expect(await text(page, "#notice")).toMatch(/^This browser keeps nothing/);
    expect(await text(page, "#log-line")).toBe("2 passes, none of them void; the latest first.");
    await context.close();
  });
});

describe("two tabs with the same page", () => {
  it("show the same log, and neither writes over the other's silently", async () => {
    const context = await browser.newContext(phone);
    const { page: one } = await openPage(context);
    await one.selectOption("#read-point", "dock-1");
    const { page: two } = await openPage(context);
    await walk(one, { missed: [cage[4]!] });
    await two.locator("#notice").waitFor();
    expect(await text(two, "#notice")).toMatch(/^This log was changed in another tab/);
    expect(await text(two, "#log")).toContain(cage[4]);
    await walk(two);
    await one.locator("#notice").waitFor();
    expect(await text(one, "#log-line")).toMatch(/^2 passes/);
    expect(await text(one, "#stage-word")).toBe("Next: w03");
    // What is typed in one of them stands in the other's fields too, so that typing on there does not undo it.
    await start(one);
    await stop(one);
    await one.fill("#note", "typed in the first");
    await expect.poll(() => two.inputValue("#note")).toBe("typed in the first");
    await two.fill("#note", "typed in the first, and in the second");
    await expect.poll(() => one.inputValue("#note")).toBe("typed in the first, and in the second");
    await context.close();
  });
});

describe("the log on the page", () => {
  it("can be put right afterwards, takes extra passes, and is cleared only once it was handed over, after one question", async () => {
    const context = await browser.newContext(phone);
    const { page, heard } = await openPage(context);
    await page.selectOption("#read-point", "dock-1");
    await walk(page);
    await page.tap("#log li button");
    await page.tap(tag(cage[5]!));
    await page.tap("#is-void");
    await page.clock.fastForward(1000);
    await page.tap("#main");
    expect(await text(page, ".field:has(#void-reason) .fault")).toBe("Say why the pass does not count.");
    expect(await page.evaluate("document.activeElement.id")).toBe("void-reason");
    await page.tap("#is-void");
    await page.clock.fastForward(1000);
    await page.tap("#main");
    expect(await text(page, "#log")).toContain(`Missed: ${cage[5]}`);

    await page.tap("#others summary");
    await page.fill("#extra-0", "9");
    await page.tap("#take-extra");
    expect(await text(page, "#extra-fault")).toBe("Speed: a value from 0 to 2.");
    await page.fill("#extra-0", "0.7");
    await page.fill("#extra-1", "on its side");
    await page.tap("#take-extra");
    expect(await text(page, "#stage-word")).toBe("Extra pass: x01");
    await walk(page);
    expect(await text(page, "#done-line")).toBe("1 of 12 passes done at Dock door 1.");

    expect(await page.locator("#clear").isDisabled()).toBe(true);
    await page.tap("#show-text");
    const lines = (await page.inputValue("#as-text textarea")).trim().split("\n");
    expect(lines).toHaveLength(3);
    expect(lines[2]).toMatch(/,x01,dock-1,.*,0\.7,on its side,/);
    await page.tap("#clear");
    await page.tap("#clear-no");
    expect(await text(page, "#log-line")).toMatch(/^2 passes/);
    await page.tap("#clear");
    await page.tap("#clear-yes");
    expect(await text(page, "#log-line")).toBe("Nothing yet.");
    await page.reload();
    expect(await text(page, "#log-line")).toBe("Nothing yet.");
    expect(heard).toEqual([]);
    await context.close();
  });

  it("is not stopped by a glove that taps twice", async () => {
    const context = await browser.newContext(phone);
    const { page } = await openPage(context);
    await page.evaluate("for (let i = 0; i < 3; i += 1) document.getElementById('main').click()");
    expect(await text(page, "#stage-word")).toMatch(/^Running/);
    await stop(page);
    await page.evaluate("document.getElementById('main').click()");
    expect(await text(page, "#stage-word")).toMatch(/^Walked/);
    await context.close();
  });

  it("that cannot be read is shown and set aside, not written over", async () => {
    const context = await browser.newContext(phone);
    const { page } = await openPage(context);
    const key = await page.evaluate<string>(
      'JSON.parse(document.getElementById("walk-data").textContent).key',
    );
    await page.evaluate(`localStorage.setItem(${JSON.stringify(key)}, "{ broken")`);
    await page.reload();
    expect(await text(page, "#notice")).toMatch(/cannot be read/);
    expect(await page.inputValue("#notice textarea")).toBe("{ broken");
    await start(page);
    expect(await page.evaluate(`localStorage.getItem(${JSON.stringify(`${key} set aside 1`)})`)).toBe(
      "{ broken",
    );
    await context.close();
  });
});

describe("the page itself", () => {
  const screens: [string, BrowserContextOptions][] = [
    ["a narrow phone", { viewport: { width: 320, height: 640 }, hasTouch: true, colorScheme: "light" }],
    ["a phone at night", { viewport: { width: 390, height: 844 }, hasTouch: true, colorScheme: "dark" }],
    // The look is the same on it: only its size is looked at.
    ["a tablet held wide", { viewport: { width: 1180, height: 820 }, hasTouch: true, colorScheme: "light" }],
  ];

  it.each(screens)(
    "fits %s, with targets for a glove and without an accessibility fault, at every stage",
    async (_name, screen) => {
      const axe = await readFile(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
      const context = await browser.newContext({ ...screen, bypassCSP: true });
      const amiss: string[] = [];
      const { page } = await openPage(context);
      const isPhone = screen.viewport!.width < 1000;
      if (isPhone) await page.evaluate(axe);
      const look = async (stage: string) => {
        amiss.push(...(await faultsAt(page, { withAxe: isPhone })).map((fault) => `${stage}: ${fault}`));
      };
      await page.selectOption("#read-point", "dock-1");
      await page.tap("#others summary");
      await look("ready");
      await start(page);
      await look("running");
      await stop(page);
      await page.tap("#is-void");
      await page.locator("#after label", { hasText: /^ ?Strays were read$/ }).tap();
      await page.clock.fastForward(1000);
      await page.tap("#main");
      await look("stopped");
      await page.fill("#stray-codes", "AB12");
      await page.locator("#void-reasons button").first().tap();
      await page.clock.fastForward(1000);
      await page.tap("#main");
      await page.tap("#show-text");
      await look("saved");
      expect(amiss).toEqual([]);
      await context.close();
    },
    60_000,
  );

  it("says with scripts switched off that it needs them, and leads to the walk sheets", async () => {
    const context = await browser.newContext({ javaScriptEnabled: false });
    const page = await context.newPage();
    await page.goto(site.url("yard/aisle.html"));
    expect(await page.locator("#without-script").isVisible()).toBe(true);
    expect(await page.locator("#walk").isVisible()).toBe(false);
    expect(await text(page, "#on-paper")).toContain("Walk sheet, Dock door 1");
    await context.close();
  });

  it("leads on paper to the walk sheets, and prints no buttons", async () => {
    const context = await browser.newContext(phone);
    const { page } = await openPage(context);
    expect(await page.locator("#on-paper").isVisible()).toBe(false);
    await page.emulateMedia({ media: "print" });
    expect(await page.locator("#on-paper").isVisible()).toBe(true);
    expect(await page.locator("#main").isVisible()).toBe(false);
    await context.close();
  });

  it("has no link that leads nowhere", async () => {
    expect(await brokenLinks(site, "yard/aisle.html")).toEqual([]);
  });

  it("shows names as text, whatever they are", async () => {
    const context = await browser.newContext(phone);
    const { page, heard } = await openPage(context);
    await page.fill("#walked-by", hostileTexts.markup);
    await walk(page, {
      note: hostileTexts.quotes,
      strays: "Strays were read",
      codes: `<b>${hostileTexts.markup}`,
    });
    expect(await text(page, "#log")).toContain(hostileTexts.quotes);
    expect(await page.evaluate("globalThis.struck ?? null")).toBeNull();
    expect(heard).toEqual([]);
    await context.close();
  });
});

/** Wider than the screen, a target too small for a glove, or what axe finds. */
async function faultsAt(page: Page, { withAxe }: { withAxe: boolean }): Promise<string[]> {
  const wide = await page.evaluate<number>("document.documentElement.scrollWidth - innerWidth");
  const small = await page.evaluate<string[]>(`[...document.querySelectorAll(
    "#walk button, #walk select, #walk summary, #walk textarea, #walk label:has(input), #walk input[type=text]",
  )]
    .filter((each) => each.checkVisibility() && each.getBoundingClientRect().height < 47.5)
    .map((each) => each.outerHTML.slice(0, 90))`);
  const violations = await page.evaluate<{ id: string; nodes: { html: string }[] }[]>(
    withAxe
      ? "axe.run(document, { preload: false, resultTypes: ['violations'] }).then((run) => run.violations)"
      : "[]",
  );
  return [
    ...(wide > 0 ? [`${wide} px too wide`] : []),
    ...small.map((html) => `small: ${html}`),
    ...violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html.slice(0, 160)}`),
  ];
}
