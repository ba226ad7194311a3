import { expect, test } from "vitest";
import { diagnose } from "../../../src/analysis/diagnosis/diagnose.ts";
import type { RadioSettings } from "../../../src/model/radio/radio-settings.ts";
import { walkedFacility } from "../walked.ts";
import { radioRound } from "./radio-walk.ts";

const conditions = [{ column: "distance_m", label: "Distance", unit: "m", bands: null }];

/** Passes of ten tags at each of some distances, of which so many are missed. */
function walkedOut(missedAt: Record<string, number>, said: Partial<RadioSettings> = {}) {
  const depot = walkedFacility(
    { rounds: [radioRound("as-left", said)], conditions },
    Object.entries(missedAt).flatMap(([distance_m, missed], group) =>
      Array.from({ length: 40 }, (_, i) => ({
        pass: `${group * 4 + Math.floor(i / 10) + 1}`,
        tag: `T${(i * 7) % 10}`,
        read: i >= missed,
        columns: distance_m === "?" ? {} : { distance_m },
      })),
    ),
  );
  return diagnose(depot, depot.facility.readPoints[0]!);
}

test("settings that reach 16.7 m on paper and half of that in the hall point at a cable, a polarisation or a tag", () => {
  const { diagnosis, why } = walkedOut({ 2: 0, 4: 1, 8: 12, 11: 38 });
  const own = why!.reach!;
  expect(own.rangeM).toBeCloseTo(16.74, 2);
  expect(own.distances.map(({ short }) => short)).toEqual([false, false, false, true]);
  expect(own.reachedM).toBe(8);
  const [first] = diagnosis!.suggestions;
  expect(first).toMatchObject({ kind: "reach", subject: { distance: "11 m" } });
  expect(first!.evidence).toMatchObject({
    missed: 38,
    presented: 40,
    elsewhereMissed: 13,
    elsewherePresented: 120,
  });
  expect(first!.evidence.p).toBeLessThan(1e-6);
  expect(diagnosis!.suggestions.map(({ subject }) => subject)).not.toContainEqual({ distance_m: "11" });
});

test("tags missed where there is little to spare are no shortfall", () => {
  const { diagnosis, why } = walkedOut({ 2: 0, 4: 1, 8: 2, 15: 30 });
  expect(diagnosis!.suggestions.map(({ kind }) => kind)).not.toContain("reach");
  expect(diagnosis!.suggestions[0]).toMatchObject({ kind: "condition", subject: { distance_m: "15" } });
  expect(why!.reach!.distances[3]!.spareDb).toBeCloseTo(0.95, 2);
});

test("a stated distance stands in where the log has none", () => {
  const { diagnosis } = walkedOut({ "?": 35 }, { distanceM: 2 });
  expect(diagnosis!.suggestions[0]).toMatchObject({ kind: "reach", subject: { distance: "2 m" } });
  expect(walkedOut({ "?": 35 }).why!.reach).toBeUndefined();
});

test("a tag that needs more is not expected to be read so far away", () => {
  const far = walkedOut({ 2: 0, 11: 38 }, { tagThresholdDbm: -15 }).why!.reach!;
  expect(far.rangeM).toBeCloseTo(16.74 / 10 ** (3 / 20), 2);
  expect(far.isTagStated).toBe(true);
  expect(far.distances[1]!.short).toBe(false);
});
