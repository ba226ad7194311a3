import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { eventEstimate } from "../../src/measures/evidence/events.ts";
import {
  dbm,
  expectedText,
  figuresOf,
  intervalPhrase,
  percent,
  rateFigures,
  tagsAMinute,
} from "../../src/measures/scales.ts";
import { sampleEstimate, sampleResult } from "../pages/sample-result.ts";

/** Thin spaces made plain, so that the expected text can be typed. */
const plain = (text: string) => text.replace(/[\u202f\u00a0]/g, " ");

const signalAt = (readPoint: string) =>
  sampleResult.findings.find((one) => one.criterion === "signal" && one.readPoint === readPoint)!.estimate;

describe("printed rates", () => {
  it("are rounded down where at least a limit is asked", () => {
    expect(rateFigures(sampleEstimate(598, 600), "at-least")).toMatchObject({ value: "99.6", lower: "98.7" });
  });
  it("are rounded up where at most a limit is allowed", () => {
    expect(rateFigures(sampleEstimate(1, 24), "at-most")).toMatchObject({ value: "4.2", upper: "20.3" });
  });
  it("say 57 % for 57 of 100, whatever binary arithmetic makes of it", () => {
    expect(rateFigures(sampleEstimate(57, 100), "at-least").value).toBe("57.0");
    expect(rateFigures(sampleEstimate(29, 100), "at-most").value).toBe("29.0");
  });
  it("take a second decimal where the first would hide how near the edge they are", () => {
    expect(rateFigures(sampleEstimate(1999, 2000), "at-least").value).toBe("99.95");
    expect(rateFigures(sampleEstimate(999, 1000), "at-least").value).toBe("99.9");
  });
  it("take as many decimals as the limit has, so that a rate below it never looks equal to it", () => {
    const estimate = { ...sampleEstimate(99, 100), value: 0.99849 };
    expect(figuresOf(estimate, { scale: percent, sense: "at-least", limit: 0.9985 }).value).toBe("99.84");
  });
  it("say 100 only where nothing was missed and 0 only where nothing was heard", () => {
    const count = fc.integer({ min: 1, max: 2_000_000 });
    fc.assert(
      fc.property(count, fc.nat(), fc.constantFrom("at-least", "at-most"), (n, seed, sense) => {
        const k = seed % (n + 1);
        const { value, lower, upper } = rateFigures(sampleEstimate(k, n), sense as "at-least" | "at-most");
        expect(Number(value) === 100).toBe(k === n);
        expect(Number(value) === 0).toBe(k === 0);
        expect(Number(lower)).toBeLessThanOrEqual(Number(value));
        expect(Number(upper)).toBeGreaterThanOrEqual(Number(value));
      }),
    );
  });
  it("never claim more than the number they stand for", () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 1, noNaN: true }), (value) => {
        const estimate = { ...sampleEstimate(1, 2), value };
        expect(Number(rateFigures(estimate, "at-least").value)).toBeLessThanOrEqual(value * 100 + 1e-8);
        expect(Number(rateFigures(estimate, "at-most").value)).toBeGreaterThanOrEqual(value * 100 - 1e-8);
      }),
    );
  });
  it("do not drag eight decimals along because a bound of a tiny sample all but reaches 0 or 100", () => {
    const estimate = { ...sampleEstimate(4, 6), lower: 1e-9, upper: 1 - 1e-9 };
    expect(rateFigures(estimate, "at-least")).toMatchObject({
      value: "66.6",
      lower: "0.0000001",
      upper: "99.9",
    });
    expect(rateFigures(estimate, "at-most")).toMatchObject({
      value: "66.7",
      lower: "0.1",
      upper: "99.9999999",
    });
  });

  it("say in words that there is no figure", () => {
    expect(rateFigures(sampleEstimate(0, 0), "at-least").value).toBe("none");
  });
  it("round dBm against the claimant and name a bound that falls on a missed tag", () => {
    const figures = figuresOf(signalAt("dock-1"), { scale: dbm, sense: "at-least" });
    expect(figures.value).toBe("\u221262.8");
    expect(figuresOf(signalAt("dock-2"), { scale: dbm, sense: "at-least" }).lower).toBe("missed");
  });
  it("name one bound where the other says nothing", () => {
    expect(intervalPhrase(rateFigures(sampleEstimate(1200, 1200), "at-least"), percent)).toBe(
      "at least 99.6",
    );
    expect(intervalPhrase(rateFigures(sampleEstimate(0, 48), "at-most"), percent)).toBe("at most 7.5");
    expect(plain(dbm.stated(-70))).toBe("\u221270 dBm");
  });
});

describe("an expected rate", () => {
  it("is printed as it was stated, and rounded against the claimant where it was worked out", () => {
    expect(plain(expectedText(0.9995, "at-least", 0.99))).toBe("99.95 %");
    expect(plain(expectedText(0.99157, "at-least", 0.8))).toBe("99.157 %");
    expect(plain(expectedText(0.9915704, "at-least", 0.8))).toBe("99.1 %");
    expect(plain(expectedText(0.9915704, "at-least", 0.9995))).toBe("99.15 %");
    expect(plain(expectedText(0.0314159, "at-most", 0.05))).toBe("3.2 %");
    expect(plain(expectedText(1 - 0.9995, "at-most", 0.1))).toBe("0.05 %");
  });
});

describe("tags a minute", () => {
  const hour = (tags: number, minutes = 60) =>
    eventEstimate(
      {
        events: tags,
        minutes,
        byMinute: new Array<number>(Math.ceil(minutes)).fill(tags / minutes),
        stays: { squares: tags, longest: 1 },
      },
      0.95,
    );

  it("carry two figures of the value and are rounded up, against the claimant", () => {
    expect(figuresOf(hour(3), { scale: tagsAMinute, sense: "at-most" })).toEqual({
      value: "0.050",
      lower: "0.011",
      upper: "0.147",
      unit: "tags a minute",
    });
    expect(figuresOf(hour(740), { scale: tagsAMinute, sense: "at-most" })).toMatchObject({
      value: "12.4",
      lower: "11.5",
    });
    expect(figuresOf(hour(3), { scale: tagsAMinute, sense: "at-most", limit: 0.0625 })).toMatchObject({
      value: "0.0500",
    });
  });
  it("are 0 only where nothing was heard", () => {
    expect(figuresOf(hour(0), { scale: tagsAMinute, sense: "at-most" })).toMatchObject({
      value: "0",
      lower: "0",
      upper: "0.062",
    });
    expect(figuresOf(hour(1, 100_000), { scale: tagsAMinute, sense: "at-most" }).lower).not.toMatch(
      /^0(\.0*)?$/,
    );
    expect(figuresOf(hour(0, 0), { scale: tagsAMinute, sense: "at-most" }).value).toBe("none");
  });
  it("have a limit in the same unit", () => {
    expect(tagsAMinute.stated(0.25)).toBe("0.25 tags a minute");
    expect(tagsAMinute.stated(1)).toBe("1 tag a minute");
    expect(tagsAMinute.statedBriefly?.(0.25)).toBe("0.25/min");
  });
});
