import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  type Combination,
  clausesOf,
  columnValues,
  combinationKey,
  crossed,
  includes,
  namesOf,
  takes,
  valuesOf,
} from "../../src/model/conditions.ts";
import type { WhereClause } from "../../src/model/facility.ts";

const speed = { column: "speed", label: "Speed", unit: "m/s", bands: [0, 1, 2, 3] };
const way = { column: "way", label: "Way up", unit: null, bands: null };
const conditions = [speed, way];
const banded = (bands: number[]) => valuesOf({ bands });

describe("numbers in bands", () => {
  test("a band is called by its edges", () => {
    expect(banded([1, 2]).names).toEqual(["1 to 2"]);
    expect(banded([-1, 0.5, 2]).names).toEqual(["-1 to 0.5", "0.5 to 2"]);
  });

  test("the first band holds both its edges, later ones exclude the lower", () => {
    const { nameOf } = banded([0, 1, 2]);
    expect(["0", "0.5", "1", "1.0001", "2"].map(nameOf)).toEqual([
      "0 to 1",
      "0 to 1",
      "0 to 1",
      "1 to 2",
      "1 to 2",
    ]);
    expect(["-0.1", "2.1", "fast", ""].map(nameOf)).toEqual([null, null, null, null]);
  });

  test("every value between the outermost edges has exactly one band", () => {
    const edges = fc.uniqueArray(fc.integer({ min: -100, max: 100 }), { minLength: 2, maxLength: 6 });
    fc.assert(
      fc.property(edges, fc.double({ min: -120, max: 120, noNaN: true }), (unsorted, value) => {
        const bands = unsorted.toSorted((a, b) => a - b);
        const { names, nameOf } = banded(bands);
        const band = names!.indexOf(nameOf(String(value)) ?? "");
        const inside = value >= bands[0]! && value <= bands.at(-1)!;
        expect(band >= 0).toBe(inside);
        if (band > 0) expect(value > bands[band]! && value <= bands[band + 1]!).toBe(true);
        if (band === 0) expect(value >= bands[0]! && value <= bands[1]!).toBe(true);
      }),
    );
  });

  test("a band's name is a name and no value, and bands are in rising order", () => {
    const { isRange, nameOf, order } = banded([0, 2, 10, 20]);
    expect(isRange("2 to 10")).toBe(true);
    expect(isRange("5")).toBe(false);
    expect(nameOf("2 to 10")).toBe("2 to 10");
    expect(["10 to 20", "2 to 10", "0 to 2"].sort(order)).toEqual(["0 to 2", "2 to 10", "10 to 20"]);
  });

  test("a range reaches the bands that it leaves anything of", () => {
    const { names, reaches } = banded([0, 1, 2]);
    const reached = (from: number | null, to: number | null) =>
      names!.filter((name) => reaches({ column: "speed", kind: "range", from, to }, name));
    expect(reached(null, null)).toEqual(["0 to 1", "1 to 2"]);
    expect(reached(null, 1)).toEqual(["0 to 1"]);
    expect(reached(1, null)).toEqual(["0 to 1", "1 to 2"]);
    expect(reached(1.5, null)).toEqual(["1 to 2"]);
    expect(reached(null, 0)).toEqual(["0 to 1"]);
    expect(reached(3, null)).toEqual([]);
  });
});

test("texts stand for themselves, and only a walk shows which there are", () => {
  const values = columnValues(conditions, "way");
  expect(values.names).toBeNull();
  expect(values.nameOf("edge-on")).toBe("edge-on");
  expect(values.isRange("1 to 2")).toBe(false);
});

test("a column that nobody declares holds texts", () => {
  expect(columnValues(conditions, "badge").nameOf("1")).toBe("1");
});

describe("combinations", () => {
  const each = [
    { column: "speed", values: ["1", "1.5", "2 to 3"] },
    { column: "way", values: ["flat", "edge-on"] },
  ];

  test("are all there are, the last column varying fastest", () => {
    const all = crossed(each);
    expect(all).toHaveLength(6);
    expect(all.slice(0, 3).map(({ speed, way }) => `${speed} ${way}`)).toEqual([
      "1 flat",
      "1 edge-on",
      "1.5 flat",
    ]);
    expect(crossed([])).toEqual([{}]);
  });

  test("have one key whatever the order of their columns, and no other combination has it", () => {
    expect(combinationKey({ way: "flat", speed: "1" })).toBe(combinationKey({ speed: "1", way: "flat" }));
    const others: Record<string, string | null>[] = [
      { speed: "1" },
      { speed: "1", way: null },
      { speed: "flat", way: "1" },
      { 'speed":"1","way': "flat" },
      { speed: '1","way":"flat' },
    ];
    const keys = others.map(combinationKey);
    expect(new Set([...keys, combinationKey({ speed: "1", way: "flat" })]).size).toBe(others.length + 1);
  });

  test("are called by the names of their values", () => {
    expect(namesOf({ speed: "1.5", way: "flat" }, conditions)).toEqual({ speed: "1 to 2", way: "flat" });
  });

  test("count where the criterion would take their rows", () => {
    const speeds = (where: WhereClause[], group: Combination | null = null) =>
      ["0.5", "1", "1.5", "2 to 3"].filter((speed) => takes(clausesOf(where, group), { speed }, conditions));
    expect(speeds([])).toHaveLength(4);
    expect(speeds([{ column: "speed", kind: "range", from: 1, to: 2 }])).toEqual(["1", "1.5"]);
    expect(speeds([{ column: "speed", kind: "range", from: null, to: 3 }])).toHaveLength(4);
    expect(speeds([{ column: "speed", kind: "values", values: ["0 to 1"] }])).toEqual(["0.5", "1"]);
    expect(speeds([{ column: "speed", kind: "values", values: ["1.5"] }])).toEqual(["1.5"]);
    expect(speeds([{ column: "speed", kind: "values", values: ["1.50"] }])).toEqual(["1.5"]);
    expect(speeds([], { speed: "1 to 2" })).toEqual(["1.5"]);
    // What the plan does not vary is walked as the criterion asks.
    expect(speeds([{ column: "way", kind: "values", values: ["flat"] }])).toHaveLength(4);
  });

  test("are included in a pass that was walked under each of their values", () => {
    const walked = { speed: ["0 to 1", "1 to 2"], way: ["flat"] };
    expect(includes(walked, { speed: "1 to 2", way: "flat" })).toBe(true);
    expect(includes(walked, { speed: "2 to 3", way: "flat" })).toBe(false);
    expect(includes(walked, { speed: "1 to 2", load: "full" })).toBe(false);
  });
});
