import fc from "fast-check";
import { expect, test } from "vitest";
import { bandName, bandNames, bandOf } from "../../src/model/bands.ts";

test("a band is called by its edges", () => {
  expect(bandName(1, 2)).toBe("1 to 2");
  expect(bandNames([-1, 0.5, 2])).toEqual(["-1 to 0.5", "0.5 to 2"]);
});

test("the first band holds both its edges, later ones exclude the lower", () => {
  const bands = [0, 1, 2];
  expect([0, 0.5, 1, 1.0001, 2].map((value) => bandOf(bands, value))).toEqual([0, 0, 0, 1, 1]);
  expect([-0.1, 2.1, Number.NaN].map((value) => bandOf(bands, value))).toEqual([-1, -1, -1]);
});

test("every value between the outermost edges has exactly one band", () => {
  const edges = fc.uniqueArray(fc.integer({ min: -100, max: 100 }), { minLength: 2, maxLength: 6 });
  fc.assert(
    fc.property(edges, fc.double({ min: -120, max: 120, noNaN: true }), (unsorted, value) => {
      const bands = unsorted.toSorted((a, b) => a - b);
      const band = bandOf(bands, value);
      const inside = value >= bands[0]! && value <= bands.at(-1)!;
      expect(band >= 0).toBe(inside);
      if (band > 0) expect(value > bands[band]! && value <= bands[band + 1]!).toBe(true);
      if (band === 0) expect(value >= bands[0]! && value <= bands[1]!).toBe(true);
    }),
  );
});
