import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { setImmediate as nextTurn } from "node:timers/promises";
import { describe, expect, it } from "vitest";
import { facilityPages, templateNames } from "../../src/pages/facility-pages.ts";
import { indexEntry, indexPage, journeyEntry } from "../../src/pages/index-page.ts";
import { journeyPages } from "../../src/pages/journey/journey-pages.ts";
import { noArchive } from "../../src/pages/parts/archive.ts";
import type { Page } from "../../src/pages/parts/page.ts";
import { templateEnvironment } from "../../src/site/engine/template-environment.ts";
import { templatesFolder } from "../../src/site/package/package-folders.ts";
import { emptyJourney, sampleJourney } from "./journey/sample-journey.ts";
import { renderPage } from "./render-page.ts";
import { plannedSample } from "./sample-plan.ts";
import { bareResult, cleanResult, hostile, sampleResult } from "./sample-result.ts";
import { sampleDiagnosis, sampleWhy } from "./sample-why.ts";

const hopeless = plannedSample([], { expectedRate: 0.9 });
const told = sampleResult.readPoints.map((point) => ({
  ...point,
  ...(point.id === "dock-2" ? { why: sampleWhy, diagnosis: sampleDiagnosis } : {}),
}));
const results = [
  { ...sampleResult, readPoints: told },
  bareResult,
  cleanResult,
  plannedSample(),
  { ...hopeless, facility: { ...hopeless.facility, id: "hopeless-plant" } },
];
const journeys = [sampleJourney, emptyJourney];
const legs = [{ journey: "crates", title: hostile.markup, leg: "left", facility: "", readPoint: "dock-1" }];
const pages = [
  indexPage(results.map(indexEntry), journeys.map(journeyEntry)),
  ...results.flatMap((result) => facilityPages(result, { ...noArchive, journeys: legs }).pages),
  ...journeys.flatMap((journey) => journeyPages(journey).pages),
];

describe("the list of pages", () => {
  it("names every template there is, and no other", () => {
    const files = readdirSync(join(templatesFolder, "pages"), { recursive: true, encoding: "utf8" })
      .filter((file) => file.endsWith(".njk"))
      .map((file) => file.replaceAll("\\", "/").replace(/\.njk$/, ""));
    expect([...templateNames].sort()).toEqual(files.sort());
    expect(new Set(templateNames).size).toBe(templateNames.length);
  });
  it("is walked by the samples whole, so that every template is rendered here", () => {
    expect(new Set(pages.map(({ template }) => template))).toEqual(new Set(templateNames));
  });
});

it("the templates serve one site after the other, all day, without a word of Node's", async () => {
  const warnings: Error[] = [];
  const note = (warning: Error) => warnings.push(warning);
  process.on("warning", note);
  for (let sites = 0; sites < 20; sites += 1) templateEnvironment();
  await nextTurn();
  process.off("warning", note);
  expect(warnings).toEqual([]);
});

describe("a view", () => {
  /** A template with all that it extends, imports and includes. */
  const whole = (template: string): string => {
    const source = readFileSync(join(templatesFolder, template), "utf8");
    const parts = [...source.matchAll(/\{%-? (?:extends|import|include) "([^"]+)"/g)];
    return source + parts.map(([, part]) => whole(part!)).join("");
  };

  // That a template asks for nothing that its view lacks is what every page rendered below proves.
  it.each(templateNames)("holds nothing that its template does not show: %s", (template) => {
    const shown = new Set(
      [...whole(`pages/${template}.njk`).matchAll(/\bview\.(\w+)/g)].map(([, field]) => field),
    );
    for (const { view } of pages.filter((page) => page.template === template)) {
      expect(Object.keys(view).filter((field) => !shown.has(field))).toEqual([]);
    }
  });
});

describe("every page", () => {
  const rendered = pages.map((page) => ({ page, html: renderPage(page) }));

  it("renders without a field missing, whatever the facility leaves out", () => {
    for (const { page, html } of rendered) {
      expect(html, page.path).toContain("</html>");
      expect(html, page.path).not.toMatch(/>\s*(undefined|NaN|null|\[object Object\])\s*</);
    }
  });
  it("shows hostile text as text", () => {
    for (const { page, html } of rendered) {
      expect(html, page.path).not.toContain("<script>alert");
      expect(html, page.path).not.toContain("<b>bold</b>");
      expect(html, page.path).not.toContain("49 <b>");
    }
  });
  it("keeps to its content security policy: no inline script, style or handler", () => {
    for (const { page, html } of rendered) {
      expect(html, page.path).toContain("default-src 'none'");
      expect(html, page.path).not.toMatch(/<[a-z][^<>]*\sstyle="/);
      expect(html, page.path).not.toMatch(/<[a-z][^<>]*\son[a-z]+="/);
      expect(html, page.path).not.toContain("<style");
      expect(html, page.path).not.toMatch(/<script(?![^>]*(src=|type="application\/json"))/);
    }
  });
  it("has one heading of the first order, one main landmark and no id twice", () => {
    for (const { page, html } of rendered) {
      expect(html.match(/<h1[ >]/g), page.path).toHaveLength(1);
      expect(html.match(/<main[ >]/g), page.path).toHaveLength(1);
      const ids = [...html.matchAll(/\sid="([^"]+)"/g)].map((match) => match[1]);
      expect(new Set(ids).size, page.path).toBe(ids.length);
    }
  });
  it("asks for nothing off the disk", () => {
    for (const { page, html } of rendered) {
      for (const [, address] of html.matchAll(/\s(?:href|src)="([^"]+)"/g)) {
        expect(address, page.path).not.toMatch(/^(\/|[a-z]+:)/);
      }
    }
  });
});

describe("the verdict of a facility", () => {
  it("reads the same on the index, the overview and the sheet", () => {
    const sentence =
      "Of six read points one meets its criteria, one does not, two are undecided and two untested.";
    for (const path of ["index.html", "sample-plant/index.html", "sample-plant/sign-off-sheet.html"]) {
      const page = pages.find((entry) => entry.path === path) as Page;
      expect(renderPage(page), path).toContain(sentence);
    }
  });
});
