import { describe, expect, it } from "vitest";
import type { InputFile } from "../../src/model/record/input-file.ts";
import type { Result } from "../../src/model/result/result.ts";
import { keptInputs } from "../../src/pages/parts/archive.ts";
import { pageOf, renderPage, wordsOf } from "./render-page.ts";
import { hostile, sampleResult } from "./sample-result.ts";

const original = (path: string, more: Partial<NonNullable<InputFile["picture"]>> = {}): InputFile => ({
  ...{ path, sha256: "a".repeat(64), bytes: 30e6, rows: null, used: null, void: null },
  picture: { kind: "jpeg", width: 4000, height: 3000, orientation: 1, holds: [], leftOut: [], ...more },
});

const attachment = (name: string, more: object = {}) => ({
  ...{ file: `attachments/${name}`, caption: name, readPoint: "dock-1", openPoint: null, taken: null },
  ...more,
});

const result: Result = {
  ...sampleResult,
  attachments: [
    attachment("a.jpg", { caption: hostile.markup, taken: "2026-05-21" }),
    attachment("b.jpg", { caption: null }),
    attachment("c.jpg"),
    attachment("d.jpg"),
    attachment("p.svg", { readPoint: null, openPoint: "P1" }),
    attachment("loose.jpg", { readPoint: null }),
  ],
  inputs: [
    ...sampleResult.inputs,
    original("attachments/a.jpg", { holds: ["place", "preview"] }),
    ...["b", "c", "d", "loose"].map((name) => original(`attachments/${name}.jpg`)),
    original("attachments/p.svg", { kind: "svg", width: 40, height: 20, leftOut: ["foreignObject"] }),
    original("plan.png", { kind: "png" }),
  ],
  facility: {
    ...sampleResult.facility,
    floorPlan: { widthMetres: 40, depthMetres: 30, areas: [], image: "plan.png" },
  },
};

describe("photographs and drawings", () => {
  const readPoint = renderPage(pageOf(result, "read-point"));

  it("stand on the page of their read point as copies, three in the open and the others folded", () => {
    const open = readPoint.replace(/<details[\s\S]*?<\/details>/g, "");
    expect(open.match(/<img /g)).toHaveLength(3);
    expect(readPoint.match(/<img /g)).toHaveLength(4);
    expect(readPoint).toContain('src="../pictures/a.jpg" width="1200" height="900"');
    expect(wordsOf(readPoint)).toContain("One more photograph or drawing");
  });

  it("have their caption as text, and say where none was written and what the original holds", () => {
    expect(readPoint).not.toContain(hostile.markup);
    const words = wordsOf(readPoint);
    expect(words).toContain("No caption was written.");
    expect(words).toContain("Taken 21 May 2026. The original also holds a place; this copy does not.");
  });

  it("of an open point stand on the overview with its id, beside a plan that is a picture", () => {
    const overview = renderPage(pageOf(result, "overview"));
    expect(overview).toMatch(/<b><bdi>P1<\/bdi>:<\/b> <bdi>p\.svg/);
    expect(overview).toContain('<image href="pictures/plan.png"');
  });

  it("are listed on the inputs page, which shows those that belong nowhere else", () => {
    const inputs = renderPage(pageOf(result, "inputs"));
    expect(inputs.match(/<img /g)).toHaveLength(1);
    expect(inputs).toContain('src="pictures/loose.jpg"');
    expect(wordsOf(inputs)).toContain("The copy leaves out foreignObject.");
  });

  it("leave no heading behind where there are none", () => {
    for (const template of ["read-point", "overview", "inputs"] as const)
      expect(renderPage(pageOf(sampleResult, template))).not.toContain('id="photographs"');
  });

  it("stay out of the site as originals once all inputs pass 50 MB, as readers' logs do", () => {
    const kept = keptInputs(result, "small");
    expect(kept.some(({ picture, reader }) => picture !== undefined || reader !== undefined)).toBe(false);
    expect(keptInputs(result, "all")).toEqual(result.inputs);
  });
});
