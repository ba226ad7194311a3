import { decodeQR } from "qr/decode.js";
import { describe, expect, it } from "vitest";
import type { Result } from "../../src/model/result/result.ts";
import { type FacilityTemplate, facilityPages } from "../../src/pages/facility-pages.ts";
import { type InputChoice, keptInputs } from "../../src/pages/parts/archive.ts";
import { markCode } from "../../src/pages/pictures/mark-code.ts";
import { renderPage, wordsOf } from "./render-page.ts";
import { sampleResult } from "./sample-result.ts";

const mark = "0123456789abcdef".repeat(4);
const grouped = "0123 4567 89ab cdef 0123 4567 89ab cdef";

function archived(result: Result, inputs: InputChoice) {
  const { pages, files } = facilityPages(result, { mark, inputs });
  const html = (template: FacilityTemplate) => renderPage(pages.find((page) => page.template === template)!);
  return { pages, files, html };
}

/** The same with readers' logs that fill a disk. */
const large: Result = {
  ...sampleResult,
  inputs: sampleResult.inputs.map((input) =>
    input.reader === undefined ? input : { ...input, bytes: 60e6 },
  ),
};
const readerLog = large.inputs.find(({ reader }) => reader !== undefined)!;

describe("the evidence mark", () => {
  const { pages, files, html } = archived(sampleResult, "small");

  it("stands on the sheet and at the foot of every page: 32 digits in groups of four", () => {
    const withFoot = pages.filter(({ template }) => template !== "walk-sheet" && template !== "aisle");
    expect(withFoot.length).toBeGreaterThan(8);
    for (const page of withFoot) expect(wordsOf(renderPage(page)), page.path).toContain(grouped);
    expect(wordsOf(html("sign-off-sheet"))).toContain(`Evidence mark ${grouped}`);
  });

  it("is printed at the foot of every sheet of paper by a style sheet that all pages have", () => {
    const style = files.find(({ path }) => path === "sample-plant/mark.css");
    expect(style?.text).toContain(`content: "Evidence mark ${grouped}"`);
    for (const page of pages)
      expect(renderPage(page), page.path).toMatch(/href="(\.\.\/)*mark\.css" media="print"/);
  });

  it("is whole in the code on the sheet, as a reader of QR codes finds it", () => {
    expect(html("sign-off-sheet")).toContain(markCode(mark));
    expect(decodeQR(pixels(markCode(mark)))).toBe(mark);
    const other = "fedcba9876543210".repeat(4);
    expect(decodeQR(pixels(markCode(other)))).toBe(other);
  });

  it("is on no page that was made without a site", () => {
    const { pages: bare } = facilityPages(sampleResult);
    for (const page of bare) expect(wordsOf(renderPage(page)), page.path).not.toContain("Evidence mark");
  });
});

describe("the input files in a site", () => {
  it("are linked from the inputs page, with names that a browser finds", () => {
    const [first, ...others] = sampleResult.inputs;
    const odd = { ...first!, path: "passes/half #1 100%.csv" };
    const page = archived({ ...sampleResult, inputs: [odd, ...others] }, "all").html("inputs");
    expect(page).toContain('<a href="inputs/passes/half%20%231%20100%25.csv">');
    for (const { path } of others) expect(page).toContain(`<a href="inputs/${path}">`);
  });

  it("are all there up to 50 MB, and beyond that all but the readers' logs", () => {
    expect(keptInputs(sampleResult, "small")).toEqual(sampleResult.inputs);
    expect(keptInputs(large, "small")).toEqual(large.inputs.filter(({ reader }) => reader === undefined));
    expect(keptInputs(large, "all")).toEqual(large.inputs);
    expect(keptInputs(large, "none")).toEqual([]);
  });

  it("that are left out are named with their hash, on the inputs page and on the sheet", () => {
    const hash = readerLog.sha256.slice(0, 32).replace(/(.{4})(?=.)/g, "$1 ");
    const said = `Not in this site, and to be kept elsewhere: ${readerLog.path} (${hash})`;
    const { html } = archived(large, "small");
    for (const page of ["inputs", "sign-off-sheet"] as const) expect(wordsOf(html(page))).toContain(said);
    expect(html("inputs")).not.toContain(`href="inputs/${readerLog.path}"`);
    expect(wordsOf(html("inputs"))).toContain(readerLog.sha256);
    const none = archived(large, "none");
    for (const page of ["inputs", "sign-off-sheet"] as const)
      expect(wordsOf(none.html(page))).toContain(
        "The input files are not in this site: keep them elsewhere.",
      );
  });
});

describe("a sheet for paper", () => {
  it("has a button that prints it, which only its script shows and paper does not have", () => {
    const page = archived(sampleResult, "small").html("sign-off-sheet");
    expect(page).toMatch(
      /<p class="screen-only[^>]*><button type="button" class="print" hidden>Print<\/button>/,
    );
    expect(page).toContain('<script src="../assets/page.js"></script>');
  });
});

describe("the inputs page", () => {
  it("says in three steps how the archive is checked: mark, result, files", () => {
    const words = wordsOf(archived(sampleResult, "small").html("inputs"));
    expect(words).toMatch(/three steps.+ The mark\. .+ result\.json\. .+ The files\. /);
    expect(words).toContain(mark);
    expect(words).toContain("sha256sum -c contents.sha256");
  });
});

/** The picture as a camera would see it, four dots a module. */
function pixels(svg: string) {
  const size = Number(/viewBox="0 0 (\d+) /.exec(svg)![1]);
  const dots = 4;
  const width = size * dots;
  const data = new Uint8ClampedArray(width * width * 4).fill(255);
  for (const [, x, y, length] of svg.matchAll(/M(\d+) (\d+)h(\d+)v1/g)) {
    for (let dy = 0; dy < dots; dy += 1)
      for (let dx = 0; dx < Number(length) * dots; dx += 1) {
        const at = ((Number(y) * dots + dy) * width + Number(x) * dots + dx) * 4;
        data.fill(0, at, at + 3);
      }
  }
  return { width, height: width, data };
}
