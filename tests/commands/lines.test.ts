import { describe, expect, it } from "vitest";
import { entryLines, nameColumn } from "../../src/commands/lines.ts";

const said = {
  head: "  met  ",
  text: "240 of 240 tags read: 100\u202f%; 99\u202f% asked.",
  below: ["Under it."],
};

describe("an entry in the terminal", () => {
  it("stands beside its name, and what belongs to it under the name", () => {
    expect(entryLines({ ...said, name: "Gate" }, 6, 42)).toEqual([
      "  met  Gate    240 of 240 tags read:",
      "       100\u202f%; 99\u202f% asked.",
      "       Under it.",
    ]);
  });

  it("starts under a name that is longer than the column, and no line is longer than asked", () => {
    const name = "Tunnel reader between the hall and cage lane 14b";
    const lines = entryLines({ ...said, name }, nameColumn(["Gate", name]), 42);
    expect(lines).toEqual([
      "  met  Tunnel reader between the hall and",
      "       cage lane 14b",
      "       240 of 240 tags read: 100\u202f%; 99\u202f%",
      "       asked.",
      "       Under it.",
    ]);
  });

  it("has a column as wide as the longest name, up to what leaves room for a sentence", () => {
    expect(nameColumn(["Gate", "Shelf room"])).toBe(10);
    expect(nameColumn(["Gate", "x".repeat(80)])).toBe(28);
    expect(nameColumn([])).toBe(0);
  });
});
