import { beforeAll, describe, expect, it } from "vitest";
import type { Result } from "../../../src/model/result/result.ts";
import { walkData } from "../../../src/pages/aisle/walk-data.ts";
import { cautions } from "../../../src/pages/parts/cautions.ts";
import { pageOf, pagesOf, renderPage, wordsOf } from "../render-page.ts";
import { hostile } from "../sample-result.ts";
import { cage, judged, walkFacility } from "./walk-facility.ts";

const criteria = `
  - { id: cover, title: Cover, measure: tag-read-rate, at_least: 0.8, read_points: [dock-1], where: { cover: [on, off] } }
  - { id: way, title: Way, measure: agreement-rate, at_least: 0.8, read_points: [dock-1], observed: way_seen, expected: way_walked }`;

let listed: Result;
let counted: Result;
beforeAll(async () => {
  listed = await judged(await walkFacility({ load: true, criteria }));
  counted = await judged(await walkFacility({ load: false }));
});

describe("the page for the aisle", () => {
  it("is there only where something is planned", () => {
    expect(pagesOf({ ...listed, plan: null }, "aisle")).toEqual([]);
    expect(pagesOf(listed, "aisle").map(({ path }) => path)).toEqual(["yard/aisle.html"]);
  });

  it("gives the cautions, once, and the walk sheets for those whose scripts are off", () => {
    const html = renderPage(pageOf(listed, "aisle"));
    for (const { text } of cautions) expect(wordsOf(html).split(text)).toHaveLength(2);
    expect(html).toContain('href="walk-sheets/dock-1.html"');
    // Nothing asks for a pass at the desk, so there is no sheet to lead to.
    expect(html).not.toContain("walk-sheets/desk-1.html");
  });

  it("has tags to tap where the plan names its load, and only counts where it does not", () => {
    expect(renderPage(pageOf(listed, "aisle"))).toContain('id="find-tag"');
    expect(renderPage(pageOf(counted, "aisle"))).not.toContain('id="find-tag"');
  });

  it("shows hostile names as text, and none of them closes the data it carries", () => {
    const named = listed.readPoints.map((point) => ({ ...point, name: hostile.markup }));
    const html = renderPage(pageOf({ ...listed, readPoints: named }, "aisle"));
    expect(html).not.toContain(hostile.markup);
    const island = /<script type="application\/json" id="walk-data">(.*?)<\/script>/s.exec(html)![1]!;
    expect(JSON.parse(island).routes[0].name).toBe(hostile.markup);
  });

  it("carries no script or style of its own, since its policy allows none", () => {
    const html = renderPage(pageOf(listed, "aisle"));
    expect(html).not.toMatch(/<script(?![^>]*(?:src=|application\/json))|<style|\son[a-z]+=|\sstyle=/);
  });
});

describe("what its script knows of the walk", () => {
  it("is kept apart for each facility, report and revision", () => {
    const keyOf = (result: Result) => walkData(result, result.plan!).key;
    const revised = { ...listed, report: { ...listed.report!, revision: "B" } };
    const other = { ...listed, facility: { ...listed.facility, id: "yard-2" } };
    expect(new Set([listed, revised, other, { ...listed, report: null }].map(keyOf)).size).toBe(4);
  });

  it("is every planned pass in its order, the load, and the conditions that a log will need", () => {
    const data = walkData(listed, listed.plan!);
    expect(data.load).toEqual({ manifest: "cage", tags: cage, columns: [] });
    expect(data.columns.map(({ column }) => column)).toEqual([
      "speed_m_s",
      "orientation",
      "cover",
      "way_walked",
      "way_seen",
    ]);
    const dock = data.routes.find(({ readPoint }) => readPoint === "dock-1")!;
    expect(dock.needed).toEqual(["speed_m_s", "orientation", "cover"]);
    expect(dock.columns).toEqual(["speed_m_s", "orientation", "cover", "way_walked", "way_seen"]);
    const walk = listed.plan!.walks.find(({ readPoint }) => readPoint === "dock-1")!;
    expect(dock.passes.map(({ pass, cell }) => [pass, dock.cells[cell]!.conditions])).toEqual(
      walk.passes.map(({ pass, conditions }) => [pass, conditions]),
    );
  });

  it("offers measured values to tap, never the name of a band", () => {
    const [speed, orientation, cover] = walkData(listed, listed.plan!).columns;
    expect(speed).toMatchObject({ bands: [0, 1, 2], numeric: true, values: ["1"] });
    expect(orientation).toMatchObject({ bands: null, numeric: false, values: ["edge-on", "flat"] });
    expect(cover!.values).toEqual(["off", "on"]);
  });
});
