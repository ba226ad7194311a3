import { describe, expect, it } from "vitest";
import { operatingCharacteristic } from "../../../src/analysis/plan/operating-characteristic.ts";
import type { Sense } from "../../../src/model/facility.ts";
import { operatingCharacteristicPicture } from "../../../src/pages/pictures/operating-characteristic.ts";
import { textWidth } from "../../../src/pages/pictures/text-fit.ts";
import { plannedWalk } from "../../analysis/plan/planned.ts";
import { hostile } from "../sample-result.ts";

const picture = (sense: Sense, limit: number, title = "Title") =>
  operatingCharacteristicPicture({
    id: "risk",
    title,
    description: "Description",
    risk: operatingCharacteristic(plannedWalk({ trialsPerPass: 10, sense, limit }), 30),
    sense,
  });

describe("the picture of what a plan risks", () => {
  it.each([
    ["at-least", 0.97, "97 % required"],
    ["at-most", 0.1, "10 % allowed"],
  ] as const)("draws the three chances, the limit and the wrong sign-off: %s", (sense, limit, words) => {
    const svg = picture(sense, limit).replace(/[\u202f\u00a0]/g, " ");
    expect(svg.match(/<path [^>]*class="interval"/g)).toHaveLength(6);
    for (const word of ["met", "undecided", "not met", words, "true rate"])
      expect(svg).toContain(`>${word}<`);
    expect(svg).toMatch(/\d % wrongly “met”/);
    expect(svg).not.toMatch(/NaN|Infinity|undefined</);
    expect(svg).toContain('<title id="risk-title">Title</title>');
  });

  it("marks the wrong sign-off on the limit itself", () => {
    const svg = picture("at-least", 0.97);
    const rule = /<line x1="([\d.]+)"[^>]*class="limit"/.exec(svg)![1];
    const mark = /<circle cx="([\d.]+)"/.exec(svg)![1];
    expect(mark).toBe(rule);
  });

  it("is drawn anew for phones, with every word inside", () => {
    const [, narrow] = picture("at-least", 0.97).split("</svg>");
    expect(narrow).toContain('class="picture chances narrow"');
    expect(narrow).toContain('<title id="risk-narrow-title">');
    const width = Number(/ width="(\d+)"/.exec(narrow!)![1]);
    const starts = [...narrow!.matchAll(/<text x="([\d.]+)"[^>]*font-size="13"[^>]*>([^<]+)</g)];
    expect(starts.map(([, , word]) => word)).toEqual(["met", "undecided", "not met"]);
    for (const [, x, word] of starts) expect(Number(x) + textWidth(word!, 13)).toBeLessThanOrEqual(width);
  });

  it("shows hostile text as text", () => {
    expect(picture("at-least", 0.97, hostile.markup)).not.toContain(hostile.markup);
  });
});
