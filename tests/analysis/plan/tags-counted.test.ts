import { describe, expect, it } from "vitest";
import { tagsCounted } from "../../../src/analysis/plan/criterion-size.ts";
import { makePlan } from "../../../src/analysis/plan/make-plan.ts";
import type { Plan } from "../../../src/model/facility.ts";
import { criterion, walkedFacility } from "../walked.ts";

const plan: Plan = {
  seed: 1,
  tagsPerPass: 20,
  manifest: null,
  sameTags: false,
  expectedRate: 0.999,
  each: [],
  readPoints: ["dock-1"],
};
const conditions = [
  { column: "speed", label: "Speed", unit: "m/s", bands: [0, 1, 2, 3] },
  { column: "way", label: "Way up", unit: null, bands: null },
];
const ways = { column: "way", kind: "values", values: ["facing", "flat", "edge-on"] } as const;
const anyWay = { ...ways, values: [...ways.values] };
const load = {
  tags: ["A", "B", "C", "D", "E", "F"],
  columns: { way: ["flat", "flat", "edge-on", "flat", "facing", null] },
};

describe("the tags of a planned pass that a criterion counts", () => {
  it("are all of them where it asks for no value on its own", () => {
    expect(tagsCounted(criterion({}), { plan, load: null, conditions })).toBe(20);
    expect(tagsCounted(criterion({ where: [anyWay] }), { plan, load: null, conditions })).toBe(20);
  });

  it("are shared by the values that nobody says otherwise of", () => {
    const each = criterion({ where: [anyWay], forEach: ["way"] });
    expect(tagsCounted(each, { plan, load: null, conditions })).toBe(6);
    const byBand = criterion({
      where: [{ column: "speed", kind: "range", from: null, to: 2 }],
      forEach: ["speed"],
    });
    expect(tagsCounted(byBand, { plan, load: null, conditions })).toBe(10);
    expect(tagsCounted(each, { plan: { ...plan, tagsPerPass: 2 }, load: null, conditions })).toBe(1);
  });

  it("are all of them where the plan varies the column, or only a walk will show its values", () => {
    const each = criterion({ where: [anyWay], forEach: ["way"] });
    const varied = { ...plan, each: [{ column: "way", values: ["flat", "edge-on"] }] };
    expect(tagsCounted(each, { plan: varied, load: null, conditions })).toBe(20);
    expect(tagsCounted(criterion({ forEach: ["way"] }), { plan, load: null, conditions })).toBe(20);
  });

  it("are those of the load that it takes: of values on their own, the rarest", () => {
    const some = criterion({ where: [{ column: "way", kind: "values", values: ["flat", "edge-on"] }] });
    expect(tagsCounted(some, { plan, load, conditions })).toBe(4);
    expect(tagsCounted(criterion({ where: [anyWay], forEach: ["way"] }), { plan, load, conditions })).toBe(1);
    const missing = criterion({
      where: [{ column: "way", kind: "values", values: ["flat", "upside down"] }],
      forEach: ["way"],
    });
    expect(tagsCounted(missing, { plan, load, conditions })).toBe(0);
  });
});

describe("a plan whose passes share their tags among three orientations", () => {
  const criteria = [
    criterion({ id: "all", limit: 0.97 }),
    criterion({ id: "each", limit: 0.97, where: [anyWay], forEach: ["way"] }),
  ];
  it("takes more passes for each of them than for all together", () => {
    const made = makePlan(walkedFacility({ criteria, conditions, plan }))!;
    const [all, each] = made.findings.map(({ fewest }) => fewest[0]!.passes!);
    // 3 % below the limit: 125 independent presentations without a miss (Wilson, two-sided 95 %), at correlation 0.02.
    expect([all, each]).toEqual([9, 23]);
    expect(made.findings.map((finding) => finding.tagsCounted)).toEqual([20, 6, 6, 6]);
    expect(made.readPoints[0]!.passes).toBeGreaterThanOrEqual(23);
  });

  it("leaves a value untested that the load has no tag of", () => {
    const flat = { tags: ["A", "B"], columns: { way: ["flat", "flat"] } };
    const made = makePlan(walkedFacility({ criteria, conditions, plan: { ...plan, tagsPerPass: 2 } }), flat)!;
    expect(made.findings.filter(({ criterion: id }) => id === "each").map(({ cells }) => cells)).toEqual([
      0, 0, 0,
    ]);
    expect(made.readPoints[0]!.untested).toBe(3);
  });
});
