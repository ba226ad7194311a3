import { mkdtempSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Browser } from "playwright-core";
import { beforeAll, describe, expect, it } from "vitest";
import { benchSheets } from "../../bench/sheet/print.ts";
import { draws } from "../draws.ts";
import { openBrowser } from "./chromium.ts";
import { demonstrationSite } from "./demonstration-site.ts";

let browser: Browser;

beforeAll(async () => {
  browser = await openBrowser();
});

describe("the sign-off sheet in print, at three lengths and on both papers", () => {
  it("has no page of a stray row, ends with its reserve, and takes two pages for a usual facility", async () => {
    const { results: bases } = await demonstrationSite();
    const folder = mkdtempSync(join(tmpdir(), "proofwalk-sheets-"));
    const seeds = Array.from({ length: draws(3) }, (_, i) => i + 1);
    const bench = await benchSheets(browser, { folder, bases, seeds });
    expect(bench.prints).toBe(2 * seeds.length);
    expect(bench.usual).toBeGreaterThan(0);
    expect(bench.byPages.size).toBeGreaterThan(1);
    expect(bench.faults).toEqual([]);
    expect(bench.usualOverTwo).toEqual([]);
  }, 180_000);
});
