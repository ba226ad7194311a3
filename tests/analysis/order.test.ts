import { describe, expect, it } from "vitest";
import { byCodePoint, byNaturalOrder } from "../../src/model/order.ts";

describe("the order of texts", () => {
  it("by code point puts capitals before small letters and astral characters last", () => {
    expect(["b", "a", "B", "\u{1F600}", "\uFFFD", "ab"].sort(byCodePoint)).toEqual([
      "B",
      "a",
      "ab",
      "b",
      "\uFFFD",
      "\u{1F600}",
    ]);
  });

  it("by natural order counts: P9 before P10, and P01 apart from P1", () => {
    expect(["P10", "P9", "P1", "P01", "P"].sort(byNaturalOrder)).toEqual(["P", "P01", "P1", "P9", "P10"]);
  });

  it("holds for numbers too long for a number", () => {
    expect(byNaturalOrder("T308300000000000000000002", "T308300000000000000000010")).toBeLessThan(0);
  });
});

describe("the machine that runs these tests", () => {
  it("is not in UTC, so nothing may lean on its clock", () => {
    expect(new Date(Date.UTC(2026, 0, 15)).getTimezoneOffset()).not.toBe(0);
  });
});
