import { describe, expect, it } from "vitest";
import { planResult } from "../../../src/analysis/plan/plan-result.ts";
import type { Facility, Plan } from "../../../src/model/facility.ts";
import { indexRows } from "../../../src/model/rows.ts";
import { criterion, facility, type WalkedRow, walked } from "../walked.ts";

const conditions = [
  { column: "speed", label: "Speed", unit: "m/s", bands: [0, 1, 2, 3] },
  { column: "way", label: "Way up", unit: null, bands: null },
];
const each = [
  { column: "speed", values: ["1", "2"] },
  { column: "way", values: ["flat", "edge-on"] },
];

function planned(rows: WalkedRow[], said: Partial<Plan> = {}, more: Partial<Facility> = {}) {
  const plan: Plan = {
    seed: 7,
    tagsPerPass: 4,
    manifest: null,
    sameTags: false,
    expectedRate: 0.995,
    each,
    readPoints: ["dock-1"],
    ...said,
  };
  // 15 passes of 4 tags without a miss show 93 %; over four combinations that is a few each.
  const asked = facility({ conditions, criteria: [criterion({ limit: 0.9 })], plan, ...more });
  const log = walked(rows);
  return planResult({ facility: asked, log, index: indexRows(log) }, null)!;
}

/** A pass of so many tags, all under one speed and one way up. */
function pass(id: string, speed: string, way: string, tags = 4, more: Partial<WalkedRow> = {}): WalkedRow[] {
  return Array.from({ length: tags }, (_, i) => ({
    pass: id,
    tag: `T${i}`,
    columns: { speed, way },
    ...more,
  }));
}

describe("the passes of a plan", () => {
  it("hold every combination as often as it is planned, in an order that the seed alone decides", () => {
    const { walks, readPoints } = planned([]);
    const [route] = walks;
    expect(route!.passes).toHaveLength(readPoints[0]!.passes!);
    expect(route!.passes.map((one) => one.pass).slice(0, 3)).toEqual(["w01", "w02", "w03"]);
    for (const cell of route!.cells) {
      const own = route!.passes.filter(
        ({ conditions: { speed, way } }) => speed === cell.conditions.speed && way === cell.conditions.way,
      );
      expect(own).toHaveLength(cell.planned!);
    }
    const listed = route!.cells.flatMap((cell) =>
      Array.from({ length: cell.planned! }, () => cell.conditions),
    );
    expect(route!.passes.map((one) => one.conditions)).not.toEqual(listed);
    expect(planned([], { seed: 8 }).walks[0]!.passes).not.toEqual(route!.passes);
  });

  it("do not change with what was walked, not even where a criterion holds for each value of what is not planned", () => {
    const criteria = [criterion({ limit: 0.9, forEach: ["way"] })];
    const speeds = { each: [{ column: "speed", values: ["1", "2"] }] };
    const before = planned([], speeds, { criteria });
    const after = planned([...pass("P1", "1", "flat"), ...pass("P2", "1", "edge-on")], speeds, { criteria });
    expect(before.walks[0]!.passes.length).toBeGreaterThan(0);
    expect(after.walks[0]!.passes).toEqual(before.walks[0]!.passes);
    expect(before.findings).toHaveLength(0);
    expect(after.findings).toHaveLength(2);
  });

  it("are logged under the read point's own round, and are none where no number will do", () => {
    const readPoints = [{ ...facility().readPoints[0]!, signOffRound: "again" }];
    expect(planned([], {}, { readPoints }).walks[0]!.round).toBe("again");
    const hopeless = planned([], { expectedRate: 0.8 }).walks[0]!;
    expect(hopeless.passes).toEqual([]);
    expect(hopeless.cells.map(({ planned: passes, state }) => [passes, state])).toEqual(
      Array.from({ length: 4 }, () => [null, "out-of-reach"]),
    );
  });
});

describe("planned against done", () => {
  const statesOf = (rows: WalkedRow[], more: Partial<Facility> = {}) =>
    planned(rows, {}, more).walks[0]!.cells.map(({ done, tagsDone, state }) => [done, tagsDone, state]);
  const enough = planned([]).walks[0]!.cells[0]!.planned!;
  const many = (speed: string, way: string, count: number, tags = 4) =>
    Array.from({ length: count }, (_, i) => pass(`${speed}${way}${i}`, speed, way, tags)).flat();

  it("is missing where nothing was walked, short where too little was, done where enough was", () => {
    const rows = [...many("1", "flat", enough), ...many("1", "edge-on", enough - 1)];
    expect(statesOf(rows)).toEqual([
      [enough, enough * 4, "done"],
      [enough - 1, (enough - 1) * 4, "short"],
      [0, 0, "missing"],
      [0, 0, "missing"],
    ]);
  });

  it("takes a speed by its band, and knows a pass that lies in none of the planned ones to be none of them", () => {
    const rows = [...pass("P1", "0.8", "flat"), ...pass("P2", "1.2", "flat"), ...pass("P3", "2.5", "flat")];
    expect(statesOf(rows).map(([done]) => done)).toEqual([1, 0, 1, 0]);
  });

  it("counts no void pass, no pass of another round and no tag that was only near by", () => {
    const rows = [
      ...pass("P1", "1", "flat", 4, { void: "dropped" }),
      ...pass("P2", "1", "flat", 4, { round: "as-found" }),
      ...pass("P3", "1", "flat", 3),
      { pass: "P3", tag: "T9", role: "notPresented" as const, columns: { speed: "1", way: "flat" } },
    ];
    expect(statesOf(rows)[0]).toEqual([1, 3, "short"]);
  });

  it("is short with passes enough that carried too few tags", () => {
    expect(statesOf(many("1", "flat", enough, 3))[0]).toEqual([enough, enough * 3, "short"]);
  });

  it("counts a pass under each condition that its tags sat in", () => {
    const rows = [...pass("P1", "1", "flat", 2), ...pass("P1", "1", "edge-on", 2)];
    expect(statesOf(rows).slice(0, 2)).toEqual([
      [1, 2, "short"],
      [1, 2, "short"],
    ]);
  });

  it("asks nothing of a combination that no criterion counts", () => {
    const where = [{ column: "speed", kind: "range" as const, from: null, to: 1 }];
    const cells = statesOf(pass("P1", "2", "flat"), { criteria: [criterion({ limit: 0.9, where })] });
    expect(cells.map(([, , state]) => state)).toEqual(["missing", "missing", "not-asked", "not-asked"]);
  });
});

it("a facility that plans nothing has no plan", () => {
  const log = walked([]);
  expect(planResult({ facility: facility(), log, index: indexRows(log) }, null)).toBeNull();
});

it("a load is named with its tags", () => {
  const log = walked([]);
  const plan = { ...planned([]), manifest: "pallet" };
  const asked = facility({
    conditions,
    plan: {
      seed: plan.seed,
      tagsPerPass: 2,
      manifest: "pallet",
      sameTags: true,
      expectedRate: 0.998,
      each: [],
      readPoints: ["dock-1"],
    },
  });
  const load = { tags: ["A", "B"], columns: { way: ["flat", "edge-on"] } };
  expect(planResult({ facility: asked, log, index: indexRows(log) }, load)!.load).toEqual({
    manifest: "pallet",
    tags: ["A", "B"],
    columns: ["way"],
  });
});
