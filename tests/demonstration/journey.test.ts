import { readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import type { JourneyResult } from "../../src/model/journey/journey-result.ts";
import { journeyFolder } from "../../src/pages/journey/journey-context.ts";
import { demonstrationSite } from "../browser/demonstration-site.ts";

/*
 * The counts were made by a script of its own, in another language and without this tool, from the files in data/journeys, and what was planted
 * was followed by hand.
 */

const { folder } = await demonstrationSite();
const journey: JourneyResult = JSON.parse(
  readFileSync(join(folder, journeyFolder("crate-to-depot"), "result.json"), "utf8"),
);
const counts = (criterion: string) =>
  journey.findings
    .filter((finding) => finding.criterion === criterion)
    .map(({ estimate }) => [estimate.k, estimate.n]);
const item = (serial: string) => journey.items.find(({ tag }) => tag.endsWith(serial))!;
const states = (serial: string) => item(serial).legs.map(({ state }) => state);

test("the chain's counts are those of an independent recount", () => {
  expect(counts("whole")).toEqual([[113, 120]]);
  expect(counts("legs")).toEqual([
    [120, 120],
    [120, 120],
    [117, 120],
    [115, 120],
    [114, 120],
  ]);
  expect(counts("order")).toEqual([[117, 120]]);
  expect(counts("who")).toEqual([[344, 352]]);
  expect(counts("lag")).toEqual([[871, 871]]);
  expect(journey.legs.map(({ late }) => late)).toEqual([0, 0, 1, 1, 0]);
  expect(journey.roundResults[0]).toMatchObject({ runs: 5, items: 120, voidRuns: 1, voidItems: 24 });
});

test("the lost crate was last seen where it left, though a receipt said that it arrived until it was withdrawn", () => {
  const [lost, ...others] = journey.lost;
  expect(others).toEqual([]);
  expect(journey.items[lost!.item]!.tag).toBe("331645AA3C0019400009C485");
  expect(lost).toMatchObject({
    missing: ["carried", "arrived"],
    lastSeen: { leg: "left", readPoint: "dock-1" },
  });
});

test("the late crate, the porter's and the one that skipped the lorry are found", () => {
  expect(states("C4A8")).toEqual(["seen", "seen", "seen", "late", "seen"]);
  expect(item("C4D1").legs.map(({ carrier }) => carrier?.heard ?? null)).toEqual([
    null,
    false,
    true,
    false,
    null,
  ]);
  expect(states("C468")).toEqual(["seen", "seen", "not-seen", "seen", "seen"]);
  expect(journey.wrongPlaces.map((one) => [journey.items[one.item]!.tag.slice(-4), one.readPoint])).toEqual([
    ["C468", "lorry-1"],
  ]);
});
