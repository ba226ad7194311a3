import { expect, test } from "vitest";
import { ratioRange, timesAsOften } from "../../src/measures/rounding.ts";

test("a ratio is rounded outwards to two figures, and to five decimals at most", () => {
  expect(ratioRange([12.9, 41.2])).toBe("12 to 42");
  expect(ratioRange([3.19, 9.41])).toBe("3.1 to 9.5");
  expect(ratioRange([0.419, 0.901])).toBe("0.41 to 0.91");
  expect(ratioRange([0.0049, 0.0521])).toBe("0.0049 to 0.053");
  expect(ratioRange([0.000041, 0.5])).toBe("0.00004 to 0.50");
});

test("a ratio without an upper end, or with one that tells nothing, is at least its lower one; none is below 0", () => {
  expect(timesAsOften([154.8, null])).toBe("at least 154 times as often");
  expect(timesAsOften([154.8, 1250])).toBe("at least 154 times as often");
  expect(timesAsOften([0, 3.2])).toBe("0 to 3.2 times as often");
});
