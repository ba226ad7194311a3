import { copyFile, mkdtemp, writeFile } from "node:fs/promises";
import type { AddressInfo } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, expect, it } from "vitest";
import { SiteServer } from "../../src/site/serve/site-server.ts";
import { openBrowser } from "./chromium.ts";

let site: string;
let served: SiteServer;
let browser: Browser;
let page: Page;

const write = (name: string, body: string, kind = "page") =>
  writeFile(
    join(site, name),
    `<!doctype html><html><head><meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'self'; script-src 'self'"><title>x</title></head><body class="${kind}">${body}</body></html>`,
  );

beforeAll(async () => {
  site = await mkdtemp(join(tmpdir(), "proofwalk-served-"));
  served = new SiteServer(site);
  await new Promise<void>((ready) => served.server.listen(0, "127.0.0.1", ready));
  browser = await openBrowser();
  page = await browser.newPage();
}, 60_000);

afterAll(async () => {
  await page.close();
  served.server.closeAllConnections();
  served.server.close();
});

const open = (name: string) =>
  page.goto(`http://127.0.0.1:${(served.server.address() as AddressInfo).port}/${name}`);

it("an open page shows each new build by itself, keeps what was unfolded, and says when a build failed", async () => {
  await write("index.html", "<main>first</main><details><summary>More</summary>rows</details>");
  await open("index.html");
  await page.click("summary");
  await write("index.html", "<main>second</main><details><summary>More</summary>rows</details>");
  served.built(null);
  await page.locator("main", { hasText: "second" }).waitFor();
  await page.locator("details[open]").waitFor();
  served.built({ builtAt: "12:59:03", text: "dock-2.csv:53: found maybe; expected yes or no" });
  await page.waitForSelector(".not-built");
  expect(await page.locator(".not-built").textContent()).toMatch(/Not built since 12:59:03.+dock-2\.csv:53/s);
  expect(await page.locator("main").textContent()).toBe("second");
  served.built(null);
  await page.waitForSelector(".not-built", { state: "detached" });
});

it("the button of a sheet shows where there are scripts, and prints", async () => {
  await copyFile("dist/src/assets/page.js", join(site, "page.js"));
  await write("sheet.html", '<button class="print" hidden>Print</button><script src="page.js"></script>');
  await page.addInitScript("globalThis.print = () => { globalThis.printed = true; }");
  await open("sheet.html");
  await page.click("button.print");
  expect(await page.evaluate("globalThis.printed")).toBe(true);
});

it("a page on which a walk is logged is not loaded anew by itself, but says that it can be", async () => {
  await write("aisle.html", "<main>log</main>", "aisle");
  await open("aisle.html");
  await page.evaluate("globalThis.kept = true");
  served.built(null);
  await page.waitForSelector(".rebuilt");
  expect(await page.evaluate("globalThis.kept")).toBe(true);
});
