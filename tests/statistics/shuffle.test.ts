import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { neighbourTest, shuffled } from "../../src/statistics/numerics/shuffle.ts";

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

describe("large counts beside each other", () => {
  /** Every order of the counts, equally likely, which chance alone would bring. */
  function exactShare(counts: number[]): number {
    const product = (order: number[]) => order.slice(1).reduce((sum, count, i) => sum + count * order[i]!, 0);
    const orders = (rest: number[]): number[][] =>
      rest.length === 0
        ? [[]]
        : rest.flatMap((first, i) => orders(rest.toSpliced(i, 1)).map((order) => [first, ...order]));
    const all = orders(counts).map(product);
    return all.filter((one) => one >= product(counts)).length / all.length;
  }

  it.each([
    [[0, 0, 1, 2, 1, 0, 0]],
    [[1, 0, 2, 0, 3, 0, 0]],
    [[0, 3, 3, 0, 1, 0, 0, 0]],
    [[2, 1, 1, 0, 0, 0, 0]],
  ])("are as rare among drawn orders as among all of them: %j", (counts) => {
    const exact = exactShare(counts);
    const p = neighbourTest(counts);
    // Drawing may end once p is sure to exceed 0.05.
    if (exact < 0.04) expect(Math.abs(p - exact)).toBeLessThan(4 * Math.sqrt(exact / 9999) + 1e-4);
    else expect(p).toBeGreaterThan(0.03);
  });

  it("are certain where nothing stands beside anything, and rarest where ten stand in a row of forty", () => {
    expect(neighbourTest([])).toBe(1);
    expect(neighbourTest([3])).toBe(1);
    expect(neighbourTest([1, 0, 2, 0, 3])).toBe(1);
    const row = [
      ...new Array<number>(15).fill(0),
      ...new Array<number>(10).fill(2),
      ...new Array<number>(15).fill(0),
    ];
    expect(neighbourTest(row)).toBe(1e-4);
    expect(neighbourTest(row)).toBe(neighbourTest(row));
  });

  it("are tested by as many orders where hundreds stand above none", () => {
    const row = [...new Array<number>(400).fill(0), ...new Array<number>(301).fill(1)];
    expect(neighbourTest(row)).toBe(1e-4);
    expect(neighbourTest(shuffled(row, 1, "order"))).toBeGreaterThan(0.03);
  });

  it("are seldom called rare where the order is random: at most as often as p says", () => {
    const base = [...new Array<number>(24).fill(0), 1, 1, 1, 2, 2, 5];
    const ps = Array.from({ length: 300 }, (_, i) => neighbourTest(shuffled(base, i, "order")));
    const rare = ps.filter((p) => p <= 0.025).length / ps.length;
    expect(rare).toBeLessThan(0.025 + 3 * Math.sqrt((0.025 * 0.975) / 300));
  });
});
