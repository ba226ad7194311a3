import { describe, expect, it } from "vitest";
import { makePlan } from "../../../src/analysis/plan/make-plan.ts";
import { clausesOf, takes } from "../../../src/model/conditions.ts";
import type { Plan } from "../../../src/model/facility.ts";
import { betaBinomialPmf } from "../../../src/statistics/beta-binomial.ts";
import { criterion, walkedFacility } from "../walked.ts";

const plan = (said: Partial<Plan> = {}): Plan => ({
  seed: 7,
  tagsPerPass: 40,
  manifest: null,
  sameTags: false,
  expectedRate: 0.998,
  each: [],
  readPoints: ["dock-1"],
  ...said,
});
const conditions = [
  { column: "speed", label: "Speed", unit: "m/s", bands: [0, 1, 2, 3] },
  { column: "way", label: "Way up", unit: null, bands: null },
];
const each = [
  { column: "speed", values: ["1", "1.5", "2 to 3"] },
  { column: "way", values: ["flat", "edge-on"] },
];

describe("a facility's plan", () => {
  it("is none where none is stated", () => {
    expect(makePlan(walkedFacility())).toBeNull();
  });

  it("walks so many passes that the bad kind of a criterion comes up: 183 at 99 %, half of the tags missed", () => {
    const criteria = [criterion({ limit: 0.99, worst_pass: 0.5 }), criterion({ id: "any", limit: 0.99 })];
    const [guarded, any] = makePlan(walkedFacility({ criteria, plan: plan() }))!.findings;
    expect(guarded!.fewest[0]!.passes).toBe(183);
    expect(any!.fewest[0]!.passes).toBe(17);
  });

  it("sizes every finding and shares its passes out over the combinations that count", () => {
    const criteria = [
      criterion({ id: "all", limit: 0.99 }),
      criterion({ id: "slow", limit: 0.97, where: [{ column: "speed", kind: "range", from: null, to: 2 }] }),
      criterion({ id: "each", limit: 0.95, forEach: ["way"] }),
      criterion({ id: "signal", measure: "rssi-quantile", limit: -65, quantile: 0.05 }),
    ];
    const made = makePlan(walkedFacility({ criteria, conditions, plan: plan({ each }) }))!;
    expect(made.findings.map(({ criterion: id, group, cells }) => [id, group?.way ?? null, cells])).toEqual([
      ["all", null, 6],
      ["slow", null, 4],
      ["each", "flat", 3],
      ["each", "edge-on", 3],
    ]);
    expect(made.findings[0]!.fewest[0]).toEqual({ faults: 0, passes: 17 });
    expect(made.findings[0]!.forChance.map(({ passes }) => passes)).toEqual([43, 56]);
    expect(made.findings[0]!.risk!.passes).toBe(56);
    // The curve says of the expected rate what the size says.
    const expected = made.findings[0]!.risk!.points.find(({ rate }) => Math.abs(rate - 0.998) < 1e-9);
    expect(expected!.met).toBeCloseTo(made.findings[0]!.forChance[1]!.reached!, 9);
    expect(made.unplanned).toEqual([{ criterion: "signal", measure: "rssi-quantile" }]);
    const [dock] = made.readPoints;
    expect(dock!.cells.every((cell) => cell.passes! >= Math.ceil(56 / 6))).toBe(true);
    for (const finding of made.findings) {
      const { where } = criteria.find(({ id }) => id === finding.criterion)!;
      const walkedPasses = dock!.cells
        .filter((cell) => takes(clausesOf(where, finding.group), cell.conditions, conditions))
        .reduce((sum, cell) => sum + cell.passes!, 0);
      expect(walkedPasses).toBeGreaterThanOrEqual(finding.forChance[1]!.passes!);
    }
  });

  it("asks more of each finding the more of them are to be met together", () => {
    const ways = ["a", "b", "c", "d", "e", "f"];
    const sized = (values: string[]) => {
      const criteria = [criterion({ forEach: ["way"] })];
      const planned = plan({ each: [{ column: "way", values }] });
      const site = { criteria, conditions, plan: planned, interval: "beta-binomial" };
      return makePlan(walkedFacility(site))!;
    };
    const one = sized(["a"]);
    expect(one.findingsTogether).toBe(1);
    expect(one.findings[0]!.forAll.map(({ passes }) => passes)).toEqual([60, 74]);
    const six = sized(ways);
    expect(six.findingsTogether).toBe(6);
    for (const { forChance, forAll } of six.findings) {
      expect(forChance.map(({ passes }) => passes)).toEqual([60, 74]);
      // A second computation, by a statistician, of the same sizes.
      expect(forAll.map(({ passes }) => passes)).toEqual([92, 105]);
      for (const { chance, each: asked, reached } of forAll) {
        expect(asked ** 6).toBeCloseTo(chance, 12);
        expect(reached).toBeGreaterThanOrEqual(asked);
      }
    }
  });

  it("counts only findings that planned passes count for among those that are to be met together", () => {
    const rows = [{ pass: "P1", tag: "T1", columns: { way: "upside down" } }];
    const criteria = [criterion({ forEach: ["way"] })];
    const planned = plan({ each: [{ column: "way", values: ["flat"] }] });
    expect(makePlan(walkedFacility({ criteria, conditions, plan: planned }, rows))!.findingsTogether).toBe(1);
  });

  it("expects of whole passes what follows from their tags, and of faults what is left to 1", () => {
    const criteria = [
      criterion({ id: "whole", measure: "complete-pass-rate", limit: 0.8 }),
      criterion({ id: "stray", measure: "stray-pass-rate", sense: "at-most", limit: 0.1 }),
      criterion({ id: "way", measure: "agreement-rate", limit: 0.95 }),
    ];
    const made = makePlan(walkedFacility({ criteria, plan: plan() }))!;
    const expected = made.findings.map((finding) => finding.expected);
    expect(expected[0]).toBeCloseTo(betaBinomialPmf(40, 0.002, 0.02)[0]!, 9);
    expect(expected[0]).toBeCloseTo(0.943, 3);
    expect(expected[1]).toBeCloseTo(0.002, 12);
    expect(expected[2]).toBe(0.998);
    expect(made.findings.every(({ unit }) => unit === "passes")).toBe(true);
  });

  it("says so where no better is expected than asked", () => {
    const made = makePlan(walkedFacility({ plan: plan({ expectedRate: 0.98 }) }))!;
    expect(made.findings[0]).toMatchObject({ impossible: true });
    expect(made.findings[0]!.forChance.map(({ passes }) => passes)).toEqual([null, null]);
    expect(made.readPoints[0]!.passes).toBeNull();
  });

  it("shows a value that was walked before and is not planned as one that stays untested", () => {
    const rows = [{ pass: "P1", tag: "T1", columns: { way: "upside down" } }];
    const criteria = [criterion({ forEach: ["way"] })];
    const planned = plan({ each: [{ column: "way", values: ["flat"] }] });
    const made = makePlan(walkedFacility({ criteria, conditions, plan: planned }, rows))!;
    expect(made.findings.map(({ group, cells }) => [group!.way, cells])).toEqual([
      ["upside down", 0],
      ["flat", 1],
    ]);
    expect(made.readPoints[0]!.untested).toBe(1);
  });

  it("plans a single value that a criterion lists under that value's own name, as it will be judged", () => {
    const where = [{ column: "speed", kind: "values" as const, values: ["1.5"] }];
    const criteria = [criterion({ where, forEach: ["speed"] })];
    const planned = plan({ each: [{ column: "speed", values: ["1.5"] }] });
    const made = makePlan(walkedFacility({ criteria, conditions, plan: planned }))!;
    expect(made.findings.map(({ group, cells }) => [group!.speed, cells])).toEqual([["1.5", 1]]);
  });
});
