import fc from "fast-check";
import { expect, it } from "vitest";
import { shuffled } from "../../src/statistics/shuffle.ts";

const letters = ["a", "b", "c", "d"];

it("is the same for the same seed and label, and another for another of either", () => {
  const long = Array.from({ length: 40 }, (_, i) => i);
  expect(shuffled(["a", "b", "c", "d", "e"], 7, "dock-1").join("")).toBe("ceabd");
  expect(shuffled(long, 7, "dock-1")).toEqual(shuffled(long, 7, "dock-1"));
  expect(shuffled(long, 7, "dock-1")).not.toEqual(shuffled(long, 8, "dock-1"));
  expect(shuffled(long, 7, "dock-1")).not.toEqual(shuffled(long, 7, "dock-2"));
});

it("loses and adds nothing, and leaves the list it was given alone", () => {
  fc.assert(
    fc.property(fc.array(fc.integer()), fc.nat(), fc.string(), (list, seed, label) => {
      const before = [...list];
      const order = shuffled(list, seed, label);
      const rising = (numbers: number[]) => numbers.toSorted((a, b) => a - b);
      expect(rising(order)).toEqual(rising(list));
      expect(list).toEqual(before);
    }),
  );
});

it("gives every order as often as the others, within what chance allows", () => {
  const counts = new Map<string, number>();
  for (let seed = 0; seed < 24_000; seed += 1) {
    const order = shuffled(letters, seed, "dock-1").join("");
    counts.set(order, (counts.get(order) ?? 0) + 1);
  }
  expect(counts.size).toBe(24);
  // Chi-squared with 23 degrees of freedom stays below 49.7 in 999 of 1000 cases.
  const chiSquared = [...counts.values()].reduce((sum, count) => sum + (count - 1000) ** 2 / 1000, 0);
  expect(chiSquared).toBeLessThan(49.7);
});
