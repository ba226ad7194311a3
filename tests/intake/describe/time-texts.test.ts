import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { plainNumber, timeOf, timeStyleOf } from "../../../src/intake/reader-log/describe/time-texts.ts";

const atUs = 1_779_350_400_000_000;

describe("counts since 1970 give their unit away by their size", () => {
  it.each([
    ["1779350400", "s", 0],
    ["1779350400.25", "s", 250_000],
    ["1779350400250", "ms", 250_000],
    ["1779350400250001", "us", 250_001],
    ["1779350400250001000", "ns", 250_001],
  ] as const)("%s is in %s", (text, unit, moreUs) => {
    expect(timeStyleOf([text], ".")).toEqual({ kind: "style", style: { unit, format: null }, also: null });
    expect(timeOf(text, { unit, format: null }, ".")?.us).toBeCloseTo(atUs + moreUs, -3);
  });

  it("small numbers are none: seconds since some start say no time of day", () => {
    expect(timeStyleOf(["12.5", "13.75", "14"], ".").kind).toBe("none");
  });
});

describe("dates and times in words", () => {
  it.each([
    ["2026-05-21T08:00:00Z", null],
    ["2026-05-21 08:00:00.123456", null],
    ["2026-05-21T09:00:00+01:00", null],
    ["2026-05-21T08:00:00,5-0500", null],
    ["2026/05/21 08:00:00", "%Y/%m/%d %H:%M:%S"],
    ["21.05.2026 08:00:00.250", "%d.%m.%Y %H:%M:%S.%f"],
    ["5/21/2026 8:00:00 AM", "%m/%d/%Y %I:%M:%S %p"],
    ["21/05/2026, 08:00:00", "%d/%m/%Y, %H:%M:%S"],
    ["21 May 2026 08:00:00", "%d %b %Y %H:%M:%S"],
    ["20260521080000", "%Y%m%d%H%M%S"],
    ["20260521T080000", "%Y%m%dT%H%M%S"],
  ])("%s is read by %s", (text, format) => {
    const guess = timeStyleOf([text, text], ".");
    expect(guess).toEqual({ kind: "style", style: { unit: "iso", format }, also: null });
    const us = timeOf(text, { unit: "iso", format }, ".")!.us;
    expect(Math.abs(us - atUs)).toBeLessThanOrEqual(5 * 3600e6 + 5e5);
  });

  it("an offset is taken off: nine o'clock at +01:00 is eight", () => {
    const style = { unit: "iso", format: null } as const;
    expect(timeOf("2026-05-21T09:00:00+01:00", style, ".")).toEqual({ us: atUs, offset: true });
    expect(timeOf("2026-05-21T08:00:00", style, ".")).toEqual({ us: atUs, offset: false });
  });

  it("day and month that cannot be told apart are said, and one day above twelve settles it", () => {
    const both = timeStyleOf(["05/06/2026 08:00:00"], ".");
    expect(both).toMatchObject({
      style: { format: "%d/%m/%Y %H:%M:%S" },
      also: { format: "%m/%d/%Y %H:%M:%S" },
    });
    const settled = timeStyleOf(["05/06/2026 08:00:00", "05/13/2026 08:00:00", "05/07/2026 08:00:00"], ".");
    expect(settled).toMatchObject({ style: { format: "%m/%d/%Y %H:%M:%S" }, also: null });
  });

  it("days that no calendar has are no times", () => {
    const style = { unit: "iso", format: null } as const;
    expect(timeOf("2026-02-30T08:00:00", style, ".")).toBeNull();
    expect(timeOf("2026-13-01T08:00:00", style, ".")).toBeNull();
    expect(timeOf("2026-05-21T25:00:00", style, ".")).toBeNull();
  });

  it("noon and midnight on a clock of twelve hours are told apart", () => {
    const style = { unit: "iso", format: "%m/%d/%Y %I:%M:%S %p" } as const;
    expect(timeOf("5/21/2026 12:00:00 AM", style, ".")!.us).toBe(atUs - 8 * 3600e6);
    expect(timeOf("5/21/2026 12:00:00 PM", style, ".")!.us).toBe(atUs + 4 * 3600e6);
  });
});

it("any text is a time or none, and never a fault", () => {
  fc.assert(
    fc.property(fc.array(fc.string(), { maxLength: 5 }), fc.constantFrom(".", ","), (texts, decimal) => {
      timeStyleOf(texts, decimal as "." | ",");
    }),
  );
});

it("numbers are read as they are written, in the log's own mark", () => {
  fc.assert(
    fc.property(
      fc.integer({ min: -999_999_999, max: 999_999_999 }),
      fc.integer({ min: 0, max: 99 }),
      (whole, hundredths) => {
        const text = `${whole}.${String(hundredths).padStart(2, "0")}`;
        expect(plainNumber(text, ".")).toBe(Number(text));
        expect(plainNumber(text.replace(".", ","), ",")).toBe(Number(text));
        expect(plainNumber(text, ",")).toBeNaN();
      },
    ),
  );
  for (const none of ["", "-", ".", "1e5", "0x10", "1 000", "NaN", "Infinity"])
    expect(plainNumber(none, ".")).toBeNaN();
});
