import { expect, test } from "vitest";
import type { Files } from "../intake/folder.ts";
import { judged } from "./chain-folder.ts";
import { facility, journeyAt } from "./passing-door.ts";

const idleOf = async (files: Files, only: string[] = []) => {
  const { facilities, journeys } = await judged(files, only);
  const [hall] = facilities;
  const idle = hall!.readPoints[0]!.rounds[0]!.heard!.idle!;
  return { events: hall!.findings[0]!.estimate.k, minutes: idle.minutes, journeys, hall: hall! };
};

test("a journey's reads are no idle reads of its read points, and the time stays idle", async () => {
  const alone = await idleOf(facility);
  // A1 at 10:05; C1 at 10:10, 10:15, 10:20 (twice in a minute, one of them after the run) and 10:25; B1 at 10:15.
  expect([alone.events, alone.minutes]).toEqual([6, 29]);
  const both = await idleOf({ ...facility, ...journeyAt("door") });
  // What is left: A1 at 10:05, C1 at 10:20:01 and at 10:25. The carrier counts as the item does, a minute around the run.
  expect([both.events, both.minutes]).toEqual([3, 29]);
});

test("at a read point of no leg, what is heard of a travelling tag is idle", async () => {
  expect((await idleOf({ ...facility, ...journeyAt("side") })).events).toBe(6);
});

test("a tag on a journey that a pass hears is heard by the pass all the same", async () => {
  const [alone, both] = [await idleOf(facility), await idleOf({ ...facility, ...journeyAt("door") })];
  const strays = ({ hall }: typeof alone) =>
    hall.readPoints[0]!.rounds[0]!.passList.map(({ strayTags }) => strayTags);
  expect(strays(both)).toEqual([[], ["3034257BF7194E40000000C1"]]);
  expect(strays(both)).toEqual(strays(alone));
});

test("readers' logs tell of a journey's sightings by the same reading", async () => {
  const { journeys } = await idleOf({ ...facility, ...journeyAt("door") });
  expect(journeys[0]!.legs[0]).toMatchObject({ k: 1, n: 1 });
  expect(journeys[0]!.items[0]!.legs[0]).toMatchObject({
    at: "2026-06-15T10:10:00Z",
    carrier: { heard: false, at: "2026-06-15T10:15:20Z", apartS: 320 },
  });
  expect(journeys[0]!.items[0]!.sightings).toBe(3);
});

test("of a row with a first and a last read only the minutes wholly on the journey are not idle", async () => {
  const spans = {
    ...facility,
    "hall/facility.yaml": String(facility["hall/facility.yaml"]).replace(
      "columns: { time: time, epc: epc }",
      "columns: { time: time, last_time: last, epc: epc }",
    ),
    // Within the run; from the run into the time after it; before the run, of the carrier, whose minute is not over yet; of the load.
    "hall/reads.csv": `time,last,epc
2026-06-15T10:00:30Z,2026-06-15T10:00:40Z,3034257BF7194E40000000A1
2026-06-15T10:12:10Z,2026-06-15T10:15:50Z,3034257BF7194E40000000C1
2026-06-15T10:18:30Z,2026-06-15T10:22:10Z,3034257BF7194E40000000C1
2026-06-15T10:08:30Z,2026-06-15T10:09:30Z,3034257BF7194E40000000B1
2026-06-15T10:14:30Z,2026-06-15T10:15:30Z,3034257BF7194E40000000A1
2026-06-15T10:30:30Z,2026-06-15T10:30:40Z,3034257BF7194E40000000A1
`,
  };
  const alone = await idleOf(spans);
  // C1 in four minutes and in five, B1 in two, A1 in two.
  expect([alone.events, alone.minutes]).toEqual([13, 29]);
  const both = await idleOf({ ...spans, ...journeyAt("door") });
  // C1 from 10:20, when the run ends, to 10:22; B1 at 10:08, of 10:09 the half minute belongs to the run's carrier; A1 in two.
  expect([both.events, both.minutes]).toEqual([6, 29]);
  expect(both.journeys[0]!.items[0]!).toMatchObject({ sightings: 3 });
  expect(both.journeys[0]!.items[0]!.legs[0]!.at).toBe("2026-06-15T10:12:10Z");
});
