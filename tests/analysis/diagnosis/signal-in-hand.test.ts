import { expect, test } from "vitest";
import { diagnose } from "../../../src/analysis/diagnosis/diagnose.ts";
import { type WalkedRow, walkedFacility } from "../walked.ts";
import { heardFacility } from "./heard.ts";

const orientation = { column: "orientation", label: "Orientation", unit: null, bands: null };

/** Ten passes of eight tags at -51 to -58 dBm, all read but the weakest, which is missed in every second pass; and a stray at -78. */
const rows: WalkedRow[] = Array.from({ length: 80 }, (_, i) => {
  const [pass, tag] = [Math.floor(i / 8), (i % 8) + 1];
  const read = tag < 8 || pass % 2 === 0;
  const columns = { orientation: tag < 5 ? "flat" : "edge-on" };
  return {
    pass: `${pass}`,
    tag: `T${tag}`,
    read,
    columns,
    ...(read ? { rssiDbm: -50 - tag, antenna: "1" } : {}),
  };
});
rows.push({ pass: "3", tag: "X", role: "stray", rssiDbm: -78, antenna: "1", columns: {} });

function signal(walk: WalkedRow[]) {
  const depot = walkedFacility({ conditions: [orientation] }, walk);
  return diagnose(depot, depot.facility.readPoints[0]!).why?.signal ?? null;
}

test("the signal in hand is the 5 % quantile above the weakest that was decoded, with its order-statistic bound", () => {
  const found = signal(rows)!;
  expect(found.weakestDecodedDbm).toBe(-78);
  // 75 levels, five of -58: position 0.05 x 74 = 3.7 lies among these; from 72 on the smallest one is a bound.
  expect(found.all).toEqual({ n: 75, minDbm: -58, q05Dbm: -58, medianDbm: -54, maxDbm: -51 });
  expect(found.q05LowerDbm).toBe(-58);
  expect(found.inHandDb).toBe(20);
});

test("the weakest decoded is the weakest of every read in the readers' logs, not the strongest of a tag in a pass", () => {
  const walk = heardFacility({ conditions: [] }, [
    { pass: "1", tag: "T1", by: { "1": -55 } },
    { pass: "1", tag: "T2", by: { "1": -60 } },
  ]);
  walk.log.heard!.weakest = [
    { readPoint: "other", dbm: -90 },
    { readPoint: walk.facility.readPoints[0]!.id, dbm: -81.5 },
  ];
  const found = diagnose(walk, walk.facility.readPoints[0]!).why!.signal!;
  expect(found.weakestDecodedDbm).toBe(-81.5);
  expect(found.inHandDb).toBe(found.all.q05Dbm! + 81.5);
});

test("fewer than 72 reads have no bound at 95 %", () => {
  expect(signal(rows.slice(0, 40))!.q05LowerDbm).toBeNull();
});

test("antennas and conditions have their own distributions", () => {
  const found = signal(rows)!;
  expect(found.byAntenna).toMatchObject([{ antenna: "1", n: 75, minDbm: -58 }]);
  expect(found.byCondition).toMatchObject([
    { column: "orientation", value: "edge-on", n: 35, minDbm: -58, medianDbm: -56 },
    { column: "orientation", value: "flat", n: 40, minDbm: -54, medianDbm: -52.5 },
  ]);
});

test("the share read is told by how strong tags usually are", () => {
  // A step holds its lower end: T8 at -58 alone, T5 to T7, T2 to T4, and T1 at -51 alone.
  expect(signal(rows)!.readByLevel).toEqual([
    { fromDbm: -60, toDbm: -57, presented: 10, read: 5 },
    { fromDbm: -57, toDbm: -54, presented: 30, read: 30 },
    { fromDbm: -54, toDbm: -51, presented: 30, read: 30 },
    { fromDbm: -51, toDbm: -48, presented: 10, read: 10 },
  ]);
});

test("without levels there is no signal to speak of", () => {
  expect(signal(rows.map(({ rssiDbm: _, ...row }) => row))).toBeNull();
});
