import { readdir, readFile } from "node:fs/promises";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { type BuiltSite, brokenLinks, buildSite } from "./built-site.ts";
import { openBrowser } from "./chromium.ts";
import { hostileData, hostileTexts } from "./hostile-facility.ts";
import { foldSpaces } from "./pdf-text.ts";

let site: BuiltSite;
let texts: Map<string, string>;
const struck: string[] = [];

beforeAll(async () => {
  site = await buildSite(await hostileData());
  const browser = await openBrowser();
  texts = new Map();
  const page = await browser.newPage({ viewport: { width: 390, height: 844 } });
  page.on("dialog", (dialog) => struck.push(dialog.message()));
  page.on("console", (message) => struck.push(message.text()));
  page.on("pageerror", (fault) => struck.push(fault.message));
  for (const path of site.pages) {
    await page.goto(site.url(path));
    struck.push(...(await page.evaluate<string[]>("globalThis.struck ? [globalThis.struck] : []")));
    const width = await page.evaluate<number>("document.documentElement.scrollWidth");
    if (width > 390) struck.push(`${path} is ${width} px wide`);
    texts.set(path, foldSpaces(await page.evaluate<string>("document.body.textContent")));
  }
  await page.close();
}, 120_000);

describe("hostile text in every free field", () => {
  it("runs nothing, breaks no page and widens none", () => expect(struck).toEqual([]));

  it.each(Object.entries(hostileTexts))("%s shows as text on the pages that name it", (_kind, text) => {
    for (const page of ["index.html", "rounds.html", "passes.html", "sign-off-sheet.html"]) {
      expect(texts.get(`yard/${page}`), page).toContain(foldSpaces(text));
    }
    const readPoints = [...texts].filter(([path]) => path.includes("/read-points/"));
    expect(readPoints.some(([, shown]) => shown.includes(foldSpaces(text)))).toBe(true);
  });

  it("leaves every link whole", async () => {
    const broken = await Promise.all(site.pages.map((page) => brokenLinks(site, page)));
    expect(broken.flat()).toEqual([]);
  });

  it("is no formula in any table, and every table keeps its columns", async () => {
    const { parse } = await import("csv-parse/sync");
    const folder = join(site.folder, "yard", "tables");
    for (const name of await readdir(folder)) {
      const records: string[][] = parse(await readFile(join(folder, name), "utf8"), { bom: true });
      for (const field of records.flat()) {
        if (/^[=+@\t\r]|^-(?!\d)/.test(field)) expect.fail(`${name}: ${field}`);
      }
    }
  });
});
