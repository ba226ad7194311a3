import { expect, test } from "vitest";
import { diagnose } from "../../../src/analysis/diagnosis/diagnose.ts";
import type { Facility } from "../../../src/model/facility.ts";
import { criterion, walkedFacility } from "../walked.ts";
import { type HeardRow, heardFacility, twoRounds } from "./heard.ts";

function diagnosed(rows: readonly HeardRow[], said: Partial<Facility> = {}) {
  const depot = heardFacility(said, rows);
  return diagnose(depot, depot.facility.readPoints[0]!);
}

/** Ten passes of ten tags; who hears which is up to the test. */
function walk(
  by: (pass: number, tag: number) => Record<string, number>,
  round = "as-left",
  passes = 10,
): HeardRow[] {
  return Array.from({ length: passes * 10 }, (_, i) => {
    const [pass, tag] = [Math.floor(i / 10), i % 10];
    return { round, pass: `${pass + 1}`, tag: `T${tag}`, by: by(pass, tag) };
  });
}

test("what an antenna heard alone would be lost without it, in tags and in the verdict", () => {
  // Antenna 1 hears all, antenna 2 the even tags: 50 of 100 presentations are heard by antenna 1 alone, none by antenna 2 alone.
  const { why } = diagnosed(
    walk((_, tag) => (tag % 2 === 0 ? { 1: -50, 2: -60 } : { 1: -54 })),
    { criteria: [criterion({ limit: 0.9 })] },
  );
  expect(why!.antennas).toEqual([
    {
      antenna: "1",
      heard: 100,
      reads: 100,
      alone: 50,
      silent: false,
      stateWithout: "not-met",
      medianDbm: -52,
      change: null,
    },
    {
      antenna: "2",
      heard: 50,
      reads: 50,
      alone: 0,
      silent: false,
      stateWithout: "met",
      medianDbm: -60,
      change: null,
    },
  ]);
});

test("an antenna that heard tags in the round before and none now is silent, and is said first", () => {
  const rows = [
    ...walk((_, tag) => (tag < 5 ? { 1: -50 } : { 2: -50 }), "as-found"),
    ...walk((_, tag): Record<string, number> => (tag < 5 ? { 1: -50 } : tag === 5 ? { 1: -60 } : {})),
  ];
  const { diagnosis, why } = diagnosed(rows, { rounds: twoRounds });
  expect(why!.antennas!.map(({ antenna, heard, silent }) => [antenna, heard, silent])).toEqual([
    ["1", 60, false],
    ["2", 0, true],
  ]);
  const said = diagnosis!.suggestions.find(({ kind }) => kind === "antenna")!;
  expect(said.subject).toEqual({ antenna: "2" });
  expect(said.evidence.p).toBeNull();
  expect(said.sentence).toBe(
    "Antenna 2 heard none of 100 presentations, and 50 of 100 in round as-found. Look at its cable, port and aim, with the transmitter off.",
  );
});

test("an antenna that the equipment lists and no log names is silent", () => {
  const depot = heardFacility(
    {},
    walk(() => ({ 1: -50, 2: -52, 4: -55 })),
  );
  const readPoint = { ...depot.facility.readPoints[0]!, equipment: { antennas: "four on two posts" } };
  const { diagnosis, why } = diagnose(depot, readPoint);
  expect(why!.antennas!.map(({ antenna, silent }) => [antenna, silent])).toEqual([
    ["1", false],
    ["2", false],
    ["3", true],
    ["4", false],
  ]);
  expect(diagnosis!.suggestions.map(({ subject }) => subject)).toEqual([{ antenna: "3" }]);
});

test("an antenna whose signal fell by more than its scatter is said; one that only scatters is not", () => {
  // Pass medians of antenna 2: -50 and -52 in turn, then -56 and -58: 6 dB down, with a deviation of 1.05 dB.
  const rows = [
    ...walk((pass) => ({ 1: -50 - (pass % 3), 2: -50 - 2 * (pass % 2) }), "as-found"),
    ...walk((pass) => ({ 1: -50 - ((pass + 1) % 3), 2: -56 - 2 * (pass % 2) })),
  ];
  const { diagnosis, why } = diagnosed(rows, { rounds: twoRounds });
  const [first, second] = why!.antennas!;
  expect(first!.change).toMatchObject({ round: "as-found", weaker: false });
  expect(second!.change!.changeDb).toBeCloseTo(-6, 12);
  // Ten values at a distance of 1 from their mean: sqrt(20 / 18).
  expect(second!.change!.scatterDb).toBeCloseTo(Math.sqrt(20 / 18), 12);
  expect(second!.change!.weaker).toBe(true);
  expect(diagnosis!.suggestions.map(({ kind, subject }) => [kind, subject])).toEqual([
    ["antenna", { antenna: "2" }],
  ]);
  expect(diagnosis!.sentence).toContain("fell by 6.0 dB since round as-found");
});

test("where all antennas fell alike none of them is at fault", () => {
  const rows = [
    ...walk((pass) => ({ 1: -50 - (pass % 3), 2: -50 - (pass % 2) }), "as-found"),
    ...walk((pass) => ({ 1: -56 - (pass % 3), 2: -56 - (pass % 2) })),
  ];
  expect(diagnosed(rows, { rounds: twoRounds }).diagnosis).toBeNull();
});

test("an antenna that hears less than half as much as the others in every pass is said where tags were missed", () => {
  const by = (pass: number, tag: number): Record<string, number> => {
    if (tag === 9 && pass % 2 === 0) return {};
    return tag < 2 ? { 1: -50, 2: -51, 3: -52 } : { 1: -50, 2: -51 };
  };
  const { diagnosis } = diagnosed(walk(by, "as-left", 20));
  const said = diagnosis!.suggestions.find(({ kind }) => kind === "antenna")!;
  expect(said.subject).toEqual({ antenna: "3" });
  expect(said.sentence).toContain("Antenna 3 heard 40 of 200 presentations, the others 190 in the median.");
});

test("where nothing was missed an antenna is said that hears less than a quarter of what the others hear", () => {
  const heardOfTen = (tags: number) =>
    diagnosed(
      walk(
        (_, tag): Record<string, number> => (tag < tags ? { 1: -50, 2: -51, 3: -52 } : { 1: -50, 2: -51 }),
      ),
    ).diagnosis;
  expect(heardOfTen(3)).toBeNull();
  expect(heardOfTen(2)!.suggestions.map(({ subject }) => subject)).toEqual([{ antenna: "3" }]);
  expect(heardOfTen(2)!.suggestions[0]!.evidence.missed).toBeNull();
});

test("a pass log names the antenna of the strongest read only, so nothing is known of what others heard", () => {
  const rows = Array.from({ length: 20 }, (_, i) => ({
    pass: `${i}`,
    tag: "T1",
    antenna: i % 2 === 0 ? "1" : "2",
    rssiDbm: -50,
  }));
  const depot = walkedFacility({}, rows);
  const { why } = diagnose(depot, depot.facility.readPoints[0]!);
  expect(why!.antennas!.map(({ heard, alone, stateWithout }) => [heard, alone, stateWithout])).toEqual([
    [10, null, null],
    [10, null, null],
  ]);
});
