import { describe, expect, test } from "vitest";
import { instantText, secondText, ZoneClock } from "../../src/model/instants.ts";

const day = 86_400_000;

describe("instants as text", () => {
  test("every day of two centuries is the calendar's own, at any second of it", () => {
    const wrong: number[] = [];
    for (let ms = Date.UTC(1896, 0, 1), n = 0; ms < Date.UTC(2104, 0, 1); ms += day, n += 1) {
      const at = ms + ((n * 7919) % 86_400) * 1000;
      if (secondText(at, "T") !== new Date(at).toISOString().slice(0, 19)) wrong.push(at);
    }
    expect(wrong).toEqual([]);
  });

  test.each([
    [-1, "1969-12-31T23:59:59.999999Z"],
    [0, "1970-01-01T00:00:00Z"],
    [951_782_400_000_000, "2000-02-29T00:00:00Z"],
    [1e15, "2001-09-09T01:46:40Z"],
    [1e15 + 7000, "2001-09-09T01:46:40.007Z"],
    [1e15 + 120_034, "2001-09-09T01:46:40.120034Z"],
    [1e15 + 5, "2001-09-09T01:46:40.000005Z"],
    [-62_135_596_800_000_000, "0001-01-01T00:00:00Z"],
    [253_402_300_799_000_000, "9999-12-31T23:59:59Z"],
    [253_402_300_800_000_000, "+010000-01-01T00:00:00Z"],
  ])("%d microseconds are %s", (us, text) => {
    expect(instantText(us)).toBe(text);
  });

  test("what is no time has no text", () => {
    expect(() => secondText(Number.NaN, " ")).toThrow(RangeError);
  });
});

describe("the clock on a wall", () => {
  test("changes with its zone, to the second, in either direction of time", () => {
    const clock = new ZoneClock("Europe/Dublin");
    const spring = Date.UTC(2026, 2, 29, 1) * 1000;
    const seen = [spring - 1e6, spring, spring - 1e6].map((us) => clock.textAt(us));
    expect(seen).toEqual(["2026-03-29 00:59:59", "2026-03-29 02:00:00", "2026-03-29 00:59:59"]);
  });

  test("keeps one offset where its zone never changes it", () => {
    expect(new ZoneClock("UTC").stretchAt(0)).toEqual({ from: -Infinity, to: Infinity, offsetMs: 0 });
  });
});
