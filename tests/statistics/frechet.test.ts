import { expect, test } from "vitest";
import { chainBounds } from "../../src/statistics/frechet.ts";

test("the bounds of several events hold however they depend on each other", () => {
  const { lower, upper } = chainBounds([0.99, 0.98, 0.97]);
  expect(lower).toBeCloseTo(0.94, 12);
  expect(upper).toBe(0.97);
  expect(chainBounds([0.4])).toEqual({ lower: 0.4, upper: 0.4 });
  expect(chainBounds([0.3, 0.4])).toEqual({ lower: 0, upper: 0.3 });
});
