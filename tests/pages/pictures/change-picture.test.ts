import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { rateFigures } from "../../../src/measures/scales.ts";
import type { Change } from "../../../src/model/result/comparison.ts";
import { differenceAxis } from "../../../src/pages/pictures/axis.ts";
import type { ChangeRow } from "../../../src/pages/pictures/change-picture.ts";
import { changePicture } from "../../../src/pages/pictures/change-picture.ts";
import { changeMark, changeSign } from "../../../src/pages/pictures/signs.ts";
import { changeOrder, changeWords } from "../../../src/pages/words/comparisons.ts";
import { pointFigures } from "../../../src/pages/words/figures.ts";
import { hostile, sampleEstimate } from "../sample-result.ts";

function rowOf(change: Change, lower: number, value: number, upper: number, label = "Dock door"): ChangeRow {
  const line = (k: number, n: number, earlier: boolean) => ({
    label: earlier ? "As found" : "As left",
    estimate: sampleEstimate(k, n),
    count: `${k} of ${n}`,
    figures: rateFigures(sampleEstimate(k, n), "at-least"),
    earlier,
    emptyWord: "walked in one round only",
  });
  if (change === "not-comparable") return { label, change, lines: [line(0, 0, false)], difference: null };
  const difference = { value, lower, upper };
  return {
    label,
    change,
    lines: [line(190, 200, true), line(198, 200, false)],
    difference: { ...difference, figures: pointFigures(difference) },
  };
}

const draw = (rows: ChangeRow[], smallest = 0.005) =>
  changePicture({
    id: "p",
    title: "Title",
    description: "Description",
    before: "As found",
    after: "As left",
    smallestChangeThatMatters: smallest,
    rows,
  });

const texts = (svg: string) =>
  [...svg.matchAll(/<text[^>]*>([^<]*)<\/text>/g)].map((match) => match[1] as string);

/** The places of a kind of line in a picture, left to right. */
function linesOf(svg: string, pattern: RegExp): { x1: number; x2: number }[] {
  return [...svg.matchAll(/<line ([^>]*)\/>/g)]
    .map(([, attributes]) => attributes!)
    .filter((attributes) => pattern.test(attributes))
    .map((attributes) => ({
      x1: Number(/x1="([^"]+)"/.exec(attributes)?.[1]),
      x2: Number(/x2="([^"]+)"/.exec(attributes)?.[1]),
    }));
}

describe("the axis of differences", () => {
  const reach = fc
    .tuple(fc.double({ min: -1, max: 1, noNaN: true }), fc.double({ min: -1, max: 1, noNaN: true }))
    .map(([a, b]) => ({ lower: Math.min(a, b), upper: Math.max(a, b) }));

  it("holds everything shown, 0 and the band, in rising order, whatever the differences", () => {
    fc.assert(
      fc.property(
        fc.array(reach, { maxLength: 8 }),
        fc.double({ min: 0, max: 0.5, noNaN: true }),
        (reaches, smallest) => {
          const axis = differenceAxis(reaches, smallest);
          const values = [...reaches.flatMap(({ lower, upper }) => [lower, upper]), -smallest, 0, smallest];
          for (const value of values) {
            expect(value).toBeGreaterThanOrEqual(axis.from - 1e-12);
            expect(value).toBeLessThanOrEqual(axis.to + 1e-12);
          }
          const places = [axis.from, 0, axis.to].map(axis.position);
          expect(places[0]).toBeCloseTo(0, 9);
          expect(places[2]).toBeCloseTo(1, 9);
          expect(places[1]).toBeGreaterThan(0);
          expect(places[1]).toBeLessThan(1);
          const ticks = axis.ticks.map(({ value }) => value);
          expect(ticks).toEqual([...new Set(ticks)].sort((a, b) => a - b));
          expect(axis.ticks.some(({ label }) => label === "0")).toBe(true);
        },
      ),
    );
  });

  it("runs in round and equal steps up to ten points, and says so where it is drawn out", () => {
    const even = differenceAxis([{ lower: -0.032, upper: 0.057 }], 0.005);
    expect(even.ticks.map(({ label }) => label)).toEqual(["−4", "−2", "0", "2", "4", "6"]);
    expect(even.note).toBe("");
    const drawn = differenceAxis([{ lower: -0.118, upper: 0.127 }], 0.005);
    expect(drawn.ticks.map(({ label }) => label)).toEqual([
      "−20",
      "−10",
      "−5",
      "−2",
      "−1",
      "0",
      "1",
      "2",
      "5",
      "10",
      "20",
    ]);
    expect(drawn.note).toBe("The scale is stretched near 0.");
    expect(drawn.position(0)).toBeCloseTo(0.5, 12);
  });
});

describe("the picture of before and after", () => {
  const rows = [
    rowOf("worse", -0.05, -0.03, -0.01, "Dock door 2"),
    rowOf("not-comparable", 0, 0, 0, "Ceiling readers"),
    rowOf("no-change-shown", -0.012, 0.01, 0.03, "Exit"),
    rowOf("no-change-that-matters", -0.003, 0, 0.004, "Desk"),
    rowOf("better", 0.0072, 0.04, 0.0786, "Dock door 1"),
  ];
  const [wide = "", narrow = ""] = draw(rows).split(/(?=<svg[^>]*class="picture narrow")/);

  it("says every change in a word, with a shape that differs for each, in both forms", () => {
    for (const form of [wide, narrow]) {
      for (const change of changeOrder) expect(texts(form)).toContain(changeWords[change]);
    }
    const shapes = changeOrder.map((change) =>
      changeSign(change).replace(/#[0-9a-f]{6}|change [a-z-]+/g, ""),
    );
    expect(new Set(shapes).size).toBe(changeOrder.length);
    expect(changeMark("worse", 0, 12)).toContain(">worse</text>");
  });

  it("gives counts, rates and the three figures of every difference as text", () => {
    for (const form of [wide, narrow]) {
      expect(texts(form)).toEqual(expect.arrayContaining(["−5.0", "−3.0", "−1.0", "0.7", "4.0", "7.9"]));
      expect(form).toContain("190 of 200");
      expect(form).toContain("198 of 200");
      expect(form).toContain("walked in one round only");
    }
  });

  it("keeps every difference on the side of the rule at 0 on which it lies", () => {
    const zero = linesOf(wide, /class="limit"/)[0]!.x1;
    const drawn = linesOf(wide, /class="change-stroke".*stroke-width="3.5"/);
    expect(drawn).toHaveLength(4);
    const [worse, open, same, better] = drawn;
    expect(worse!.x2).toBeLessThan(zero);
    expect(open!.x1).toBeLessThan(zero);
    expect(open!.x2).toBeGreaterThan(zero);
    expect(better!.x1).toBeGreaterThan(zero);
    const band = /<rect x="([^"]+)"[^>]*?width="([^"]+)"[^>]*class="band"/.exec(wide)!;
    expect(same!.x1).toBeGreaterThan(Number(band[1]));
    expect(same!.x2).toBeLessThan(Number(band[1]) + Number(band[2]));
  });

  it("tells the earlier round thin and open from the later one full", () => {
    expect(linesOf(wide, /class="interval".*stroke-width="1.25"/).length).toBe(5);
    expect(wide.match(/class="interval-open"/g)).toHaveLength(5);
  });

  it("has a title and a description, ids of its own in every part, and shows hostile text as text", () => {
    const long = draw(Array.from({ length: 30 }, () => rowOf("better", 0.01, 0.02, 0.03, hostile.markup)));
    const ids = [...long.matchAll(/\sid="([^"]+)"/g)].map((match) => match[1]);
    expect(new Set(ids).size).toBe(ids.length);
    expect(ids).toContain("p-1-wide-title");
    expect(long).toContain("Title, part 1 of");
    expect(long).not.toContain("<script");
    expect(long).not.toMatch(/NaN|Infinity|undefined|null/);
  });
});

describe("the key of the rounds", () => {
  const key = (before: string, after: string) =>
    texts(changePicture({ ...bare, before, after })).filter((text) => /^(A|B)-/.test(text));
  const bare = {
    id: "p",
    title: "Title",
    description: "Description",
    smallestChangeThatMatters: 0.005,
    rows: [rowOf("better", 0.01, 0.02, 0.03)],
  };
  const long = "words and more words that go on and on beyond all that anybody would read";

  it("gives a long title the room that a short one leaves, and cuts two long ones alike", () => {
    const [whole] = key("A-short", "B-words that do not fit in half of it").filter((text) => /^B/.test(text));
    expect(whole).toBe("B-words that do not fit in half of it");
    const cut = key(`A-${long}`, `B-${long}`);
    expect(cut.every((text) => text.endsWith("…"))).toBe(true);
  });
});
