import { expect, test } from "vitest";
import { diagnose } from "../../../src/analysis/diagnosis/diagnose.ts";
import type { RadioSettings } from "../../../src/model/radio/radio-settings.ts";
import { heardFacility } from "../diagnosis/heard.ts";
import { radioRound } from "./radio-walk.ts";

const conditions = [{ column: "speed_m_s", label: "Speed", unit: "m/s", bands: [0, 1, 5] }];

/** Passes of twenty tags: every second at 4 m/s, the others at 1 m/s; the first tags of a pass are those read. */
function timed(
  said: Partial<RadioSettings>,
  {
    readWhenFast,
    everyMs = 50,
    withSpeed = true,
  }: { readWhenFast: number; everyMs?: number; withSpeed?: boolean },
) {
  const rows = Array.from({ length: 10 * 20 }, (_, i) => {
    const pass = Math.floor(i / 20);
    const tag = i % 20;
    const isFast = pass % 2 === 1;
    return {
      pass: `${pass + 1}`,
      tag: `T${(tag + pass * 3) % 20}`,
      columns: withSpeed ? { speed_m_s: isFast ? "4" : "1" } : {},
      firstMs: tag * everyMs,
      by: !isFast || tag < readWhenFast ? { 1: -50 } : {},
    };
  });
  const depot = heardFacility({ rounds: [radioRound("as-left", said)], conditions }, rows);
  return diagnose(depot, depot.facility.readPoints[0]!);
}

test("a zone of 0.4 m at 4 m/s leaves 0.1 s, and twenty tags then need 200 a second", () => {
  const { why } = timed({ zoneM: 0.4, readerTagsPerS: 100 }, { readWhenFast: 20 });
  const own = why!.timeToAnswer!;
  expect(own.dwellS).toEqual({ min: 0.1, median: 0.25, max: 0.4 });
  expect(own.neededTagsPerS).toEqual({ min: 50, median: 125, max: 200 });
  expect(own.tooShort.map(({ pass }) => pass)).toEqual(["2", "4", "6", "8", "10"]);
  expect(own).toMatchObject({ basis: "stated", yardstickTagsPerS: 100, passes: 10, withoutSpeed: 0 });
});

test("what the log shows is new tags after the first over the time from the first to the last", () => {
  // Twenty tags, one every 50 ms: 19 in 0.95 s. Where ten are read, 9 in 0.45 s.
  const { why } = timed({ zoneM: 0.4 }, { readWhenFast: 10 });
  expect(why!.timeToAnswer!.achieved).toEqual({ passes: 10, medianTagsPerS: 20, bestTagsPerS: 20 });
  expect(why!.timeToAnswer!.behind).toEqual(["2", "4", "6", "8", "10"]);
});

test("misses in passes with too little time are said before the speed that they were walked at", () => {
  const { diagnosis, why } = timed({ zoneM: 0.4, readerTagsPerS: 100 }, { readWhenFast: 12 });
  const [first, ...others] = diagnosis!.suggestions;
  expect(first!.kind).toBe("time-to-answer");
  expect(first!.evidence).toMatchObject({
    missed: 40,
    presented: 100,
    elsewhereMissed: 0,
    elsewherePresented: 100,
  });
  expect(first!.evidence.p).toBeLessThan(0.001);
  expect(others.map(({ kind }) => kind)).not.toContain("condition");
  expect(why!.timeToAnswer!.pAdjusted).toBe(first!.evidence.p);
});

test("without a stated rate 400 tags a second are usual, and a log that shows more is believed", () => {
  const usual = timed({ zoneM: 0.4 }, { readWhenFast: 12 });
  expect(usual.why!.timeToAnswer).toMatchObject({ basis: "usual", yardstickTagsPerS: 400, tooShort: [] });
  expect(usual.diagnosis!.suggestions.map(({ kind }) => kind)).not.toContain("time-to-answer");
  // One every millisecond.
  const fast = timed({ zoneM: 0.4 }, { readWhenFast: 12, everyMs: 1 });
  expect(fast.why!.timeToAnswer!.basis).toBe("log");
  expect(fast.why!.timeToAnswer!.yardstickTagsPerS).toBeCloseTo(1000, 6);
});

test("a stated speed stands in where the log has none, and without either nothing is said", () => {
  const walk = { readWhenFast: 20, withSpeed: false };
  expect(timed({ zoneM: 0.4, speedMPerS: 2 }, walk).why!.timeToAnswer!.dwellS.max).toBeCloseTo(0.2, 10);
  expect(timed({ zoneM: 0.4 }, walk).why!.timeToAnswer).toBeUndefined();
  expect(timed({}, { readWhenFast: 20 }).why!.timeToAnswer).toBeUndefined();
});
