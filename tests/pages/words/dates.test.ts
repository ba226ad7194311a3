import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { clockOf, minutesOf } from "../../../src/pages/words/dates.ts";

describe("a moment in minutes", () => {
  it("is read from both forms that a pass has, and from nothing else", () => {
    expect(minutesOf("1970-01-01T00:00Z")).toBe(0);
    expect(minutesOf("2026-05-21T08:00:30Z")).toBe(Date.UTC(2026, 4, 21, 8) / 60_000 + 0.5);
    expect(minutesOf("2026-05-21 09:00:00")).toBe(Date.UTC(2026, 4, 21, 9) / 60_000);
    expect(minutesOf("2026-05-21T08:00:00.250Z")).toBeCloseTo(
      Date.UTC(2026, 4, 21, 8) / 60_000 + 0.25 / 60,
      9,
    );
    for (const other of [null, "", "yesterday", "2026-05-21"]) expect(minutesOf(other)).toBeNull();
  });
  it("goes to a date and a clock and back, through leap days and turns of the century", () => {
    fc.assert(
      fc.property(fc.integer({ min: -26_000_000, max: 40_000_000 }), (minutes) => {
        const iso = new Date(minutes * 60_000).toISOString();
        expect(clockOf(minutes)).toEqual({ date: iso.slice(0, 10), clock: iso.slice(11, 16) });
        expect(minutesOf(`${iso.slice(0, 16)}Z`)).toBe(minutes);
      }),
      { numRuns: 2000 },
    );
  });
});
