import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { clusteredRate } from "../../../src/analysis/estimate.ts";
import { faultLayouts } from "../../../src/analysis/plan/fault-layouts.ts";
import { fewestPasses } from "../../../src/analysis/plan/fewest-passes.ts";
import { layoutVerdicts } from "../../../src/analysis/plan/layout-verdicts.ts";
import { passesForChance } from "../../../src/analysis/plan/passes-for-chance.ts";
import { fewestPairs, plannedState } from "../../../src/analysis/plan/planned-walk.ts";
import { riskCurve } from "../../../src/analysis/plan/risk-curve.ts";
import { onePassChances, stateChances } from "../../../src/analysis/plan/state-chances.ts";
import { rateState } from "../../../src/analysis/state.ts";
import { betaBinomialPmf } from "../../../src/statistics/beta-binomial.ts";
import { clusterSums } from "../../../src/statistics/effective-sample.ts";
import { oneTagWalk, plannedWalk } from "./planned.ts";

/** Every way in which the passes may lose tags, judged as walked logs. */
function byHand(passes: number, tags: number, missRate: number, walk: ReturnType<typeof plannedWalk>) {
  const chances = betaBinomialPmf(tags, missRate, walk.basis.missCorrelation);
  const sums = { met: 0, undecided: 0, "not-met": 0, untested: 0 };
  const lay = (misses: number[], chance: number): void => {
    if (misses.length < passes) {
      for (let m = 0; m <= tags; m += 1) lay([...misses, m], chance * chances[m]!);
      return;
    }
    const missed = misses.reduce((a, b) => a + b, 0);
    const n = passes * tags;
    const k = walk.sense === "at-least" ? n - missed : missed;
    const clusters = misses.map((m) => ({ n: tags, failures: walk.sense === "at-least" ? m : tags - m }));
    const counts = { n, k, clusterings: [clusterSums(clusters)] };
    sums[rateState(clusteredRate(counts, walk.basis), walk.sense, walk.limit)] += chance;
  };
  lay([], 1);
  return sums;
}

describe("the chance of each state", () => {
  it.each([
    ["at-least", 0.6, 0.1],
    ["at-least", 0.9, 0.4],
    ["at-most", 0.5, 0.1],
    ["at-most", 0.1, 0.4],
  ] as const)("is that of judging every way the faults may lie: %s %d", (sense, limit, faultRate) => {
    const walk = plannedWalk({ trialsPerPass: 6, sense, limit });
    const expected = byHand(3, 6, faultRate, walk);
    const found = stateChances(walk, 3, faultRate);
    expect(found.layouts).toBe("exact");
    expect(found.met).toBeCloseTo(expected.met, 9);
    expect(found.notMet).toBeCloseTo(expected["not-met"], 9);
    expect(found.undecided).toBeCloseTo(expected.undecided, 9);
  });

  it("has the worked example of its documentation", () => {
    expect(stateChances(oneTagWalk(0.95), 59, 0.01).met).toBeCloseTo(0.99 ** 59, 12);
  });

  // Against layouts in full. What these add up to is what a reader of the plan sees of the approximation.
  it.each([
    ["at-least", 0.99, 40, 56, 0.005],
    ["at-least", 0.99, 40, 56, 0.01],
    ["at-least", 0.9, 20, 30, 0.1],
    ["at-most", 0.05, 40, 20, 0.05],
  ] as const)(
    "is hardly changed by taking the pairs of many faults to be spread smoothly: %s %d",
    (sense, limit, tags, passes, faultRate) => {
      const walk = plannedWalk({ trialsPerPass: tags, sense, limit });
      const full = stateChances(walk, passes, faultRate, undefined, 60);
      const found = stateChances(walk, passes, faultRate);
      expect(found.layouts).toBe("approximate");
      expect(Math.abs(found.met - full.met)).toBeLessThan(faultRate < 0.01 ? 0.003 : 0.0003);
      expect(Math.abs(found.notMet - full.notMet)).toBeLessThan(0.0005);
    },
  );

  it("is the chance of the kindest layouts where the pairs do not matter, whatever is laid out", () => {
    const onePass = onePassChances(plannedWalk(), 0.005);
    const [full, none] = [faultLayouts(onePass, 20, 60), faultLayouts(onePass, 20, 0)];
    for (const faults of [0, 3, 10]) expect(none.chanceUpTo(faults)).toBeCloseTo(full.chanceUpTo(faults), 9);
    const stepped = faultLayouts(onePass, 0, 24);
    for (let pass = 0; pass < 20; pass += 1) stepped.addPass();
    expect(stepped.passes).toBe(20);
    for (const faults of [0, 3, 10, 25])
      expect(stepped.chanceUpTo(faults)).toBeCloseTo(none.chanceUpTo(faults), 9);
  });

  it("finds the verdict of every layout without asking for each", () => {
    const walk = plannedWalk({ trialsPerPass: 6, limit: 0.8 });
    const earlier = layoutVerdicts(walk, 14);
    for (let faults = 0; faults <= 12; faults += 1) earlier.turn(faults, 0, (faults * (faults - 1)) / 2);
    for (const verdicts of [layoutVerdicts(walk, 15), layoutVerdicts(walk, 15, earlier)]) {
      for (let faults = 0; faults <= 32; faults += 1) {
        const least = fewestPairs(15, faults);
        const most = Math.min((faults * (faults - 1)) / 2, least + 40);
        const kindest = plannedState(walk, 15, faults, least);
        expect(verdicts.kindest(faults), `${faults} faults`).toBe(kindest);
        let turn = least;
        while (turn <= most && plannedState(walk, 15, faults, turn) === kindest) turn += 1;
        expect(verdicts.turn(faults, least, most), `${faults} faults`).toBe(turn);
      }
    }
    expect(layoutVerdicts(plannedWalk({ minimumPasses: 20 }), 19).kindest(0)).toBe("undecided");
    expect(layoutVerdicts(plannedWalk(), 25).kindest(1)).toBe("met");
    expect(layoutVerdicts(plannedWalk(), 25).kindest(2)).toBe("undecided");
  });

  it("turns against a walk whose faults pile up, never in its favour", () => {
    const walk = plannedWalk();
    fc.assert(
      fc.property(fc.integer({ min: 2, max: 80 }), fc.integer({ min: 1, max: 20 }), (passes, faults) => {
        const most = (faults * (faults - 1)) / 2;
        const states = [fewestPairs(passes, faults), most].map((pairs) =>
          plannedState(walk, passes, faults, pairs),
        );
        if (states[1] === "met") expect(states[0]).toBe("met");
      }),
    );
  });
});

describe("how many passes", () => {
  it("has the worked examples of its documentation", () => {
    expect(plannedState(plannedWalk(), 25, 0, 0)).toBe("met");
    expect(fewestPasses(plannedWalk(), 0)).toBe(17);
    const [first, second] = passesForChance(oneTagWalk(0.95), 0.01, [0.75, 0.85]);
    expect([first!.passes, second!.passes]).toEqual([93, 124]);
    expect(first!.reached).toBeCloseTo(0.7616, 4);
    expect(second!.reached).toBeCloseTo(0.8716, 4);
  });

  it("is the smallest number that is likely enough: one pass fewer is not", () => {
    const walk = plannedWalk({ trialsPerPass: 20, limit: 0.97 });
    for (const { chance, passes, reached } of passesForChance(walk, 0.01, [0.8, 0.9])) {
      expect(stateChances(walk, passes!, 0.01).met).toBeCloseTo(reached!, 9);
      for (let fewer = Math.max(1, passes! - 5); fewer < passes!; fewer += 1)
        expect(stateChances(walk, fewer, 0.01).met, `${fewer}`).toBeLessThan(chance);
    }
  });

  it("is none where no better is expected than asked", () => {
    expect(passesForChance(plannedWalk(), 0.01, [0.8])[0]!.passes).toBeNull();
    expect(passesForChance(plannedWalk({ sense: "at-most", limit: 0.1 }), 0.2, [0.8])[0]!.passes).toBeNull();
  });

  it("is never below the criterion's minimum", () => {
    const walk = plannedWalk({ limit: 0.8, minimumPasses: 20 });
    expect(fewestPasses(walk, 0)).toBe(20);
    expect(passesForChance(walk, 0.001, [0.8])[0]!.passes).toBe(20);
    expect(stateChances(walk, 19, 0)).toMatchObject({ met: 0, undecided: 1, notMet: 0 });
  });

  it("grows with the correlation of misses, and with looking again and again", () => {
    const alike = (missCorrelation: number) =>
      fewestPasses(plannedWalk({ basis: { confidence: 0.95, interval: "exact", missCorrelation } }), 0)!;
    expect([0, 0.02, 0.1].map(alike)).toEqual([10, 17, 45]);
    const basis = { confidence: 0.95, interval: "any-time" as const, missCorrelation: 0.02 };
    expect(fewestPasses(plannedWalk({ basis }), 0)).toBe(21);
  });

  it("runs out where the same few tags go through again and again", () => {
    // Ten tags alike by 0.02 are worth at most 10 / 0.02 = 500 presentations, and 99.5 % asks for 765.
    expect(fewestPasses(plannedWalk({ trialsPerPass: 10, limit: 0.995, sameTags: true }), 0)).toBeNull();
    expect(fewestPasses(plannedWalk({ trialsPerPass: 10, limit: 0.995 }), 0)).toBe(91);
  });
});

describe("what a plan risks", () => {
  it("has the worked example of its documentation", () => {
    const { wrongSignOff } = riskCurve(oneTagWalk(0.95), 59);
    expect(wrongSignOff.rate).toBe(0.95);
    expect(wrongSignOff.chance).toBeCloseTo(0.95 ** 59, 9);
  });

  it.each(["at-least", "at-most"] as const)("grows steadily with how bad the read point is: %s", (sense) => {
    const walk = plannedWalk({ trialsPerPass: 10, sense, limit: sense === "at-least" ? 0.9 : 0.1 });
    const { points, wrongSignOff } = riskCurve(walk, 30);
    const better = sense === "at-least" ? points : [...points].reverse();
    for (const [i, point] of better.entries()) {
      expect(point.met + point.undecided + point.notMet).toBeCloseTo(1, 9);
      if (i > 0) expect(point.met).toBeGreaterThanOrEqual(better[i - 1]!.met - 0.01);
      const wrong = sense === "at-least" ? point.rate <= 0.9 : point.rate >= 0.1;
      if (wrong) expect(point.met).toBeLessThanOrEqual(wrongSignOff.chance + 0.01);
    }
  });
});
