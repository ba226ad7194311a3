import { quantileSorted } from "simple-statistics";
import { expect, test } from "vitest";
import { seededStream } from "../../bench/simulation/walk-model.ts";
import { quantileOfRising, risingOrder, sortedGroups } from "../../src/statistics/numerics/sorted-groups.ts";

test("places stand in the rising order of their values, and equal values keep their order", () => {
  expect([...risingOrder(Float64Array.of(3, 1, 3, 2))]).toEqual([1, 3, 0, 2]);
  expect([...risingOrder(new Float64Array())]).toEqual([]);
  expect([...risingOrder(Float64Array.of(-60.25, Number.NEGATIVE_INFINITY, -61.5, -60.25))]).toEqual([
    1, 2, 0, 3,
  ]);
  // Finer than hundredths, and larger than any level.
  expect([...risingOrder(Float64Array.of(-60.125, 1e9, -61.5, -60.125))]).toEqual([2, 0, 3, 1]);
});

test("each group has its own values in rising order, and a value without a group is in none", () => {
  const values = Float64Array.of(3, 1, 3, 2);
  const order = risingOrder(values);
  const own = sortedGroups(values, { order, groupOf: Int32Array.of(0, 0, 1, -1), groups: 3 });
  expect([0, 1, 2].map((group) => [...own(group)])).toEqual([[1, 3], [3], []]);
});

test("groups of many values are those that sorting each of them gives", () => {
  const random = seededStream(1);
  const values = Float64Array.from({ length: 1000 }, () => Math.floor(random() * 200) / 10 - 70);
  const groupOf = Int32Array.from(values, () => Math.floor(random() * 6) - 1);
  const own = sortedGroups(values, { order: risingOrder(values), groupOf, groups: 5 });
  for (let group = 0; group < 5; group += 1) {
    expect([...own(group)]).toEqual([...values.filter((_, i) => groupOf[i] === group).sort()]);
  }
});

test("quantiles of rising values are those of the library, to the last bit", () => {
  const random = seededStream(2);
  for (const length of [1, 2, 7, 72]) {
    const rising = Float64Array.from({ length }, () => -50 - 20 * random()).sort();
    for (const q of [0, 0.05, 0.5, 0.9, 1]) {
      expect(quantileOfRising(rising, q)).toBe(quantileSorted([...rising], q));
    }
  }
  expect(quantileOfRising([1, 2, 4, 8], 0.5)).toBe(3);
});
