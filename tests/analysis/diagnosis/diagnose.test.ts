import { expect, test } from "vitest";
import { diagnose } from "../../../src/analysis/diagnosis/diagnose.ts";
import { type WalkedRow, walkedFacility } from "../walked.ts";

/** Every tag through every pass; missed where the test says so. */
function walk(passes: number, tags: number, missed: (pass: number, tag: number) => boolean): WalkedRow[] {
  return Array.from({ length: passes * tags }, (_, i) => {
    const [pass, tag] = [Math.floor(i / tags) + 1, (i % tags) + 1];
    return { pass: `${pass}`, tag: `T${tag}`, read: !missed(pass, tag) };
  });
}

function diagnosed(rows: WalkedRow[]) {
  const depot = walkedFacility({}, rows);
  return diagnose(depot, depot.facility.readPoints[0]!);
}

test("where nothing was missed nothing is said", () => {
  expect(diagnosed(walk(6, 10, () => false))).toEqual({ diagnosis: null, why: null });
  expect(diagnosed([])).toEqual({ diagnosis: null, why: null });
});

test("a tag that was never read is said first, with what was missed elsewhere", () => {
  // Beside it two single misses: 12 of 14 misses fall on a tag that holds one presentation in ten.
  const { diagnosis, why } = diagnosed(walk(12, 10, (pass, tag) => tag === 4 || (pass === tag && pass < 3)));
  expect(diagnosis!.suggestions).toHaveLength(1);
  const [first] = diagnosis!.suggestions;
  expect(first!.kind).toBe("tag");
  expect(first!.subject).toEqual({ tag: "T4" });
  expect(first!.evidence).toMatchObject({
    missed: 12,
    presented: 12,
    elsewhereMissed: 2,
    elsewherePresented: 108,
  });
  // P(Bin(14, 1/10) >= 12) = 7.5e-11 times 22 tests.
  expect(first!.evidence.p).toBeCloseTo(22 * 7.498e-11, 13);
  expect(diagnosis!.sentence).toBe(
    "Tag T4 was missed in 12 of 12 passes, other tags in 2 of 108 presentations: 12 to 497 times as often.",
  );
  expect(why!.standingOut!.tags.map(({ id }) => id)).toEqual(["T4"]);
  expect(why!.standingOut!.passes).toEqual([]);
});

test("a pass that missed every tag is said, and misses here and there are not", () => {
  const { diagnosis } = diagnosed(walk(12, 10, (pass) => pass === 5));
  expect(diagnosis!.suggestions.map(({ subject }) => subject)).toEqual([{ pass: "5" }]);
  const scattered = diagnosed(walk(12, 10, (pass, tag) => pass === tag)).diagnosis!;
  expect(scattered.suggestions).toEqual([]);
  expect(scattered.sentence).toBe("The 10 misses show no pattern that the evidence carries.");
});
