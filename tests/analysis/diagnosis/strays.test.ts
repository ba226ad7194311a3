import { expect, test } from "vitest";
import { diagnose } from "../../../src/analysis/diagnosis/diagnose.ts";
import type { ReadPoint } from "../../../src/model/facility.ts";
import { type HeardRow, heardFacility } from "./heard.ts";

const readPoints = ["dock-1", "dock-2"].map(
  (id): ReadPoint => ({
    id,
    name: `Dock ${id.at(-1)}`,
    kind: null,
    at: null,
    equipment: {},
    signOffRound: "as-left",
  }),
);

/** Ten passes at dock 1 with its load; M of dock 2's load is read in four of them, S in two, and A, staged, in one. */
function twoDocks(): HeardRow[] {
  const rows: HeardRow[] = [];
  for (let pass = 0; pass < 10; pass += 1) {
    const at = { pass: `${pass}`, startedAt: `2026-05-21T10:0${pass}:00Z` };
    for (const tag of ["A", "B", "C"]) {
      if (pass === 9 && tag === "A") continue;
      rows.push({ ...at, tag, by: { 1: -50 } });
    }
    if (pass < 4)
      rows.push({
        ...at,
        tag: "M",
        role: "stray",
        by: { 1: -70, 2: -68 + pass },
        firstMs: 100 * (pass + 1),
      });
    if (pass === 1 || pass === 2) rows.push({ ...at, tag: "S", role: "stray", by: { 2: -75 } });
    if (pass === 9) rows.push({ ...at, tag: "A", role: "stray", by: { 1: -60 } });
  }
  rows.push({ readPoint: "dock-2", pass: "n", startedAt: "2026-05-21T10:01:30Z", tag: "M", by: { 3: -40 } });
  rows.push({ readPoint: "dock-2", pass: "n", tag: "T", by: { 3: -40 } });
  rows.push({ readPoint: "dock-2", pass: "n", tag: "S", role: "stray", by: { 3: -72 } });
  return rows;
}

test("a code is told as the job's, a neighbour's or a stranger's by whose load presents it", () => {
  const depot = heardFacility({ readPoints }, twoDocks());
  const { strays } = diagnose(depot, readPoints[0]!).why!;
  expect(strays).toMatchObject({ passes: 5, ofPasses: 10, minutes: null, leftOut: 0 });
  expect(strays!.bySource).toEqual([
    { source: "neighbour", readPoint: "dock-2", tags: 1, passes: 4, reads: 8 },
    { source: "stranger", readPoint: null, tags: 1, passes: 2, reads: 2 },
    { source: "this-job", readPoint: "dock-1", tags: 1, passes: 1, reads: 1 },
  ]);
});

test("how often, how strongly, by which antenna, when and where else a code was heard", () => {
  const depot = heardFacility({ readPoints }, twoDocks());
  const [neighbour, stranger] = diagnose(depot, readPoints[0]!).why!.strays!.tags;
  expect(neighbour).toMatchObject({
    tag: "M",
    passes: 4,
    reads: 8,
    strongestDbm: -65,
    antennas: ["1", "2"],
    firstMs: 250,
  });
  // Dock 2 presents it, and heard it in the minute of pass 1.
  expect(neighbour!.where).toEqual([
    { readPoint: "dock-2", round: "as-left", manifest: null, minute: null },
    { readPoint: "dock-2", round: "as-left", manifest: null, minute: "2026-05-21T10:01Z" },
  ]);
  // Nobody presents it, and dock 2 heard it in the same minute.
  expect(stranger!.tag).toBe("S");
  expect(stranger!.where).toEqual([
    { readPoint: "dock-2", round: "as-left", manifest: null, minute: "2026-05-21T10:01Z" },
  ]);
});

test("sources that are read in more than one pass in a hundred are said, singly or rarely read ones are not", () => {
  const depot = heardFacility({ readPoints }, twoDocks());
  const { diagnosis } = diagnose(depot, readPoints[0]!);
  // P(Bin(10, 1/100) >= 4) = 2.0e-6; >= 2: 0.0043; >= 1: 0.096. With three tags and ten passes that were tried: 16 tests at most.
  expect(diagnosis!.suggestions.map(({ kind, subject }) => [kind, subject])).toEqual([
    ["stray-source", { source: "neighbour", readPoint: "dock-2" }],
    ["stray-source", { source: "stranger" }],
  ]);
  expect(diagnosis!.suggestions[0]!.sentence).toBe(
    "1 code of the loads of Dock 2 was read in 4 of 10 passes that did not present it. Shield, turn or weaken what looks towards it, or keep its loads away.",
  );
});

test("codes heard between passes are told apart in the same way", () => {
  const depot = heardFacility({ readPoints }, twoDocks());
  depot.log.heard!.idle = [
    {
      readPoint: "dock-1",
      round: "as-left",
      minutes: 12,
      heard: [],
      clockMinutes: 12,
      stays: { tags: 2, squares: 2, longestMinutes: 1 },
      tags: [
        { tag: "T", reads: 3, rssiDbm: -71, antennas: ["2"] },
        { tag: "Z", reads: 9, rssiDbm: -66, antennas: ["1"] },
      ],
    },
  ];
  const { idleTags } = diagnose(depot, readPoints[0]!).why!;
  expect(idleTags!.tags.map(({ tag, source, reads }) => [tag, source, reads])).toEqual([
    ["Z", "stranger", 9],
    ["T", "neighbour", 3],
  ]);
  expect(idleTags).toMatchObject({ minutes: 12, passes: null, ofPasses: null });
});

test("a code that two neighbours present is told as that of the one whose loads know most of the codes heard", () => {
  const three = [...readPoints, { ...readPoints[1]!, id: "dock-3", name: "dock-3" }];
  const rows: HeardRow[] = ["1", "2", "3"].map((pass) => ({ pass, tag: "A", by: { 1: -50 } }));
  rows.push(
    { pass: "1", tag: "M", role: "stray", by: { 1: -70 } },
    { pass: "2", tag: "N", role: "stray", by: { 1: -70 } },
    { readPoint: "dock-2", pass: "n", tag: "M", by: { 1: -50 } },
    { readPoint: "dock-3", pass: "n", tag: "M", by: { 1: -50 } },
    { readPoint: "dock-3", pass: "n", tag: "N", by: { 1: -50 } },
  );
  const depot = heardFacility({ readPoints: three }, rows);
  expect(diagnose(depot, three[0]!).why!.strays!.bySource).toEqual([
    { source: "neighbour", readPoint: "dock-3", tags: 2, passes: 2, reads: 2 },
  ]);
});
