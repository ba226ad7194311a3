import { describe, expect, test } from "vitest";
import { diagnose } from "../../../src/analysis/diagnosis/diagnose.ts";
import type { Condition } from "../../../src/model/facility.ts";
import { criterion, type WalkedRow, walkedFacility } from "../walked.ts";

const condition = (column: string): Condition => ({ column, label: column, unit: null, bands: null });

/** Every tag through every pass, a pass a minute; missed, and lying, as the test says. */
function walk(
  [passes, tags]: [number, number],
  missed: (pass: number, tag: number) => boolean,
  columns: (pass: number, tag: number) => Record<string, string> = () => ({}),
): WalkedRow[] {
  return Array.from({ length: passes * tags }, (_, i) => {
    const [pass, tag] = [Math.floor(i / tags) + 1, (i % tags) + 1];
    return {
      pass: `${pass}`,
      startedAt: `2026-05-21T10:${String(pass).padStart(2, "0")}:00Z`,
      tag: `T${tag}`,
      read: !missed(pass, tag),
      columns: columns(pass, tag),
    };
  });
}

function diagnosed(rows: WalkedRow[], columns: string[] = []) {
  const depot = walkedFacility({ conditions: columns.map(condition) }, rows);
  return diagnose(depot, depot.facility.readPoints[0]!);
}

describe("the miss map", () => {
  test("puts tags of one place together, the place and the tag missed most first, and leaves what was not presented open", () => {
    const side = (_: number, tag: number) => ({ side: tag < 3 ? "left" : "right" });
    const rows = walk([3, 4], (pass, tag) => tag === 4 || (tag === 1 && pass === 2), side).filter(
      ({ pass, tag }) => !(pass === "3" && tag === "T3"),
    );
    expect(diagnosed(rows, ["side"]).why!.map).toEqual({
      tags: ["T4", "T3", "T1", "T2"],
      passes: ["1", "2", "3"],
      cells: ["mmm", "rr.", "rmr", "rrr"],
      leftOut: { tags: 0, passes: 0 },
    });
  });

  test("shows 400 tags at most, those that were missed among them", () => {
    const { map } = diagnosed(walk([2, 405], (_, tag) => tag === 405)).why!;
    expect([map!.tags.length, map!.leftOut]).toEqual([400, { tags: 5, passes: 0 }]);
    expect(map!.tags[0]).toBe("T405");
  });
});

describe("the shares of the misses", () => {
  test("are those of tags where the same tags are missed in every pass, of passes where passes miss all", () => {
    expect(diagnosed(walk([6, 10], (_, tag) => tag < 3)).diagnosis!.missShares).toEqual({
      tags: 1,
      passes: 0,
      rest: 0,
    });
    const { passes, tags } = diagnosed(walk([6, 10], (pass) => pass < 3)).diagnosis!.missShares!;
    expect([passes, tags]).toEqual([1, 0]);
  });

  test("are unknown below three passes, three tags or two misses, and where no tag repeats", () => {
    const shares = (rows: WalkedRow[]) => diagnosed(rows).diagnosis!.missShares;
    expect(shares(walk([2, 9], (_, tag) => tag < 3))).toBeNull();
    expect(shares(walk([9, 2], (pass) => pass < 3))).toBeNull();
    expect(shares(walk([6, 10], (pass, tag) => pass + tag === 2))).toBeNull();
    const once = walk([6, 10], (pass) => pass < 3).map((row) => ({ ...row, tag: `${row.pass}-${row.tag}` }));
    expect(shares(once)).toBeNull();
  });
});

describe("a run of passes", () => {
  test("is named by its first and last pass, with what it missed and what the others missed", () => {
    const { diagnosis, why } = diagnosed(
      walk([24, 10], (pass, tag) => pass >= 9 && pass <= 13 && (pass + tag) % 3 === 0),
    );
    expect(why!.runOfPasses!.run).toEqual({
      from: "9",
      to: "13",
      passes: 5,
      missed: 16,
      presented: 50,
      elsewhereMissed: 0,
      elsewherePresented: 190,
    });
    expect(diagnosis!.suggestions[0]).toMatchObject({
      kind: "run-of-passes",
      subject: { from: "9", to: "13" },
    });
  });

  test("is not looked for where the misses lie far apart", () => {
    const { why } = diagnosed(walk([24, 10], (pass, tag) => pass % 4 === 0 && tag === 1 + pass / 4));
    expect(why!.runOfPasses!.run).toBeNull();
    expect(why!.runOfPasses!.p).toBeGreaterThan(0.05);
  });
});

describe("drivers", () => {
  const lying = (pass: number, tag: number) => ({
    orientation: tag % 2 === 0 ? "flat" : "edge-on",
    speed: pass % 2 === 0 ? "slow" : "fast",
  });

  test("say of each value how much more often it is missed, and one of two that does not matter that it does not", () => {
    const rows = walk([20, 10], (pass, tag) => tag % 2 === 1 && (pass + tag) % 4 === 0, lying);
    const { drivers } = diagnosed(rows, ["orientation", "speed"]).why!;
    const [orientation] = drivers!.drivers;
    expect(orientation!.levels.map(({ value, missed, presented }) => [value, missed, presented])).toEqual([
      ["edge-on", 25, 100],
      ["flat", 0, 100],
    ]);
    // Edge-on is walked as often and comes first: flat is held against it, and its odds stay finite without a miss.
    const flat = orientation!.levels[1]!;
    expect(orientation!.reference).toBe("edge-on");
    expect(flat.odds!.value).toBeGreaterThan(0);
    expect(flat.odds!.upper).toBeLessThan(0.2);
    expect(flat.p).toBeLessThan(1e-6);
  });

  test("are not told apart where their values go together, which is said", () => {
    const together = (_: number, tag: number) => {
      const isOdd = tag % 2 === 1;
      return { orientation: isOdd ? "edge-on" : "flat", height: isOdd ? "top" : "bottom" };
    };
    const rows = walk([20, 10], (pass, tag) => tag % 2 === 1 && (pass + tag) % 4 === 0, together);
    const { drivers } = diagnosed(rows, ["orientation", "height"]).why!;
    expect(drivers!.notToldApart).toEqual([{ columns: ["orientation", "height"] }]);
    expect(drivers!.drivers[1]!.levels.every(({ odds }) => odds === null)).toBe(true);
  });

  test("are not what the read point reported, which is an outcome", () => {
    const rows = walk(
      [20, 10],
      (pass, tag) => tag % 2 === 1 && (pass + tag) % 4 === 0,
      (pass, tag) => ({ ...lying(pass, tag), seen: pass % 2 === 0 ? "in" : "out" }),
    );
    const agreement = criterion({ measure: "agreement-rate", observed: "seen", expected: "speed" });
    const depot = walkedFacility({ conditions: [condition("orientation")], criteria: [agreement] }, rows);
    const { drivers } = diagnose(depot, depot.facility.readPoints[0]!).why!;
    expect(drivers!.drivers.map(({ column }) => column)).toEqual(["orientation", "speed"]);
  });

  test("are not worked out below three misses", () => {
    const rows = walk([20, 10], (pass, tag) => pass < 3 && tag === 1, lying);
    expect(diagnosed(rows, ["orientation", "speed"]).why!.drivers).toBeNull();
  });
});
