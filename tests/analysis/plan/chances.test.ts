import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { AcceptanceRegion } from "../../../src/analysis/plan/acceptance-region.ts";
import { FaultDistribution } from "../../../src/analysis/plan/fault-distribution.ts";
import {
  operatingCharacteristic,
  stateChances,
} from "../../../src/analysis/plan/operating-characteristic.ts";
import {
  faultsOfOnePass,
  fewestPairs,
  mostPairs,
  plannedState,
} from "../../../src/analysis/plan/planned-walk.ts";
import { fewestPasses, passesForChance } from "../../../src/analysis/plan/sample-size.ts";
import { intervals } from "../../../src/intervals/index.ts";
import { betaBinomialPmf } from "../../../src/statistics/beta-binomial.ts";
import { clusterSums } from "../../../src/statistics/effective-sample.ts";
import { oneTagWalk, plannedWalk } from "./planned.ts";

/** Every way in which the passes may lose tags, judged as walked logs. */
function byHand(passes: number, tags: number, missRate: number, walk: ReturnType<typeof plannedWalk>) {
  const chances = betaBinomialPmf(tags, missRate, walk.basis.missCorrelation);
  const sums = { met: 0, undecided: 0, "not-met": 0 };
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
    sums[intervals.get(walk.basis.interval).decide(counts, walk, walk.basis)] += chance;
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
    const found = stateChances(walk, 3, { faultRate });
    expect(found.layouts).toBe("exact");
    expect(found.met).toBeCloseTo(expected.met, 9);
    expect(found.notMet).toBeCloseTo(expected["not-met"], 9);
    expect(found.undecided).toBeCloseTo(expected.undecided, 9);
  });

  it("has the worked example of its documentation", () => {
    expect(stateChances(oneTagWalk(0.95), 59, { faultRate: 0.01 }).met).toBeCloseTo(0.99 ** 59, 12);
  });

  it("has the same exact layouts whenever they are asked for", () => {
    const onePass = faultsOfOnePass(plannedWalk({ trialsPerPass: 40 }), 0.02);
    const spelled = (distribution: FaultDistribution) =>
      [...distribution.rows(12)].map(({ faults, chance, fewestPairs, mostPairs, isExact, chanceBelow }) => {
        return { faults, chance, fewestPairs, mostPairs, isExact, below: chanceBelow(3) };
      });
    const grown = new FaultDistribution(onePass, 5);
    expect([...grown.rows(2)].map(({ isExact }) => isExact)).toEqual([true, true]);
    for (let pass = 5; pass < 20; pass += 1) grown.addPass();
    expect(spelled(grown)).toEqual(spelled(new FaultDistribution(onePass, 20)));
    expect(spelled(grown).every(({ isExact }) => isExact)).toBe(true);
  });

  // Against exact pairs. What these add up to is what a reader of the plan sees of the approximation.
  it.each([
    ["at-least", 0.99, 40, 56, 0.005],
    ["at-least", 0.99, 40, 56, 0.01],
    ["at-least", 0.9, 20, 30, 0.1],
    ["at-most", 0.05, 40, 20, 0.05],
  ] as const)(
    "is hardly changed by taking the pairs of many faults to be gamma distributed: %s %d",
    (sense, limit, tags, passes, faultRate) => {
      const walk = plannedWalk({ trialsPerPass: tags, sense, limit });
      const region = new AcceptanceRegion(walk, passes);
      const turnOf = (faults: number) => region.criticalPairs(faults, { from: 0, to: mostPairs(faults) });
      const full = { met: 0, notMet: 0 };
      const onePass = faultsOfOnePass(walk, faultRate);
      for (const row of new FaultDistribution(onePass, passes, 60).rows()) {
        const kind = region.stateIfSpread(row.faults);
        if (kind === "met") full.met += row.chanceBelow(turnOf(row.faults));
        if (kind === "not-met") full.notMet += row.chanceBelow(turnOf(row.faults));
      }
      const found = stateChances(walk, passes, { faultRate });
      expect(found.layouts).toBe("approximate");
      expect(Math.abs(found.met - full.met)).toBeLessThan(faultRate < 0.01 ? 0.003 : 0.0003);
      expect(Math.abs(found.notMet - full.notMet)).toBeLessThan(0.0005);
    },
  );

  it("has the same totals of faults whatever the pairs are taken to be", () => {
    const onePass = faultsOfOnePass(plannedWalk(), 0.005);
    const full = new FaultDistribution(onePass, 20, 60);
    const none = new FaultDistribution(onePass, 0, 0);
    while (none.passes < 20) none.addPass();
    for (const [i, row] of [...full.rows(26)].entries()) {
      const other = [...none.rows(26)][i]!;
      expect(other.faults).toBe(row.faults);
      expect(other.chance).toBeCloseTo(row.chance, 9);
    }
    const upTo = [...full.rows(11)].reduce((sum, { chance }) => sum + chance, 0);
    expect(full.chanceUpTo(10)).toBeCloseTo(upTo, 9);
    expect(full.chanceUpTo(-1)).toBe(0);
  });

  it("finds the verdict of every outcome without asking for each", () => {
    const walk = plannedWalk({ trialsPerPass: 6, limit: 0.8 });
    const earlier = new AcceptanceRegion(walk, 14);
    for (let faults = 0; faults <= 12; faults += 1)
      earlier.criticalPairs(faults, { from: 0, to: mostPairs(faults) });
    for (const region of [new AcceptanceRegion(walk, 15), new AcceptanceRegion(walk, 15, earlier)]) {
      for (let faults = 0; faults <= 32; faults += 1) {
        const least = fewestPairs(15, faults);
        const most = Math.min(mostPairs(faults), least + 40);
        const stateAt = (pairs: number) => plannedState(walk, { passes: 15, faults, pairs });
        const kindest = stateAt(least);
        expect(region.stateIfSpread(faults), `${faults} faults`).toBe(kindest);
        let turn = least;
        while (turn <= most && stateAt(turn) === kindest) turn += 1;
        const expected = turn <= most ? turn : Number.POSITIVE_INFINITY;
        if (kindest !== "undecided")
          expect(region.criticalPairs(faults, { from: least, to: most }), `${faults} faults`).toBe(expected);
      }
    }
    expect(new AcceptanceRegion(plannedWalk({ minimumPasses: 20 }), 19).stateIfSpread(0)).toBe("undecided");
    expect(new AcceptanceRegion(plannedWalk(), 25).stateIfSpread(1)).toBe("met");
    expect(new AcceptanceRegion(plannedWalk(), 25).stateIfSpread(2)).toBe("undecided");
  });

  it("turns against a walk whose faults pile up, never in its favour", () => {
    const walk = plannedWalk();
    fc.assert(
      fc.property(fc.integer({ min: 2, max: 80 }), fc.integer({ min: 1, max: 20 }), (passes, faults) => {
        const most = (faults * (faults - 1)) / 2;
        const states = [fewestPairs(passes, faults), most].map((pairs) =>
          plannedState(walk, { passes, faults, pairs }),
        );
        if (states[1] === "met") expect(states[0]).toBe("met");
      }),
    );
  });
});

describe("how many passes", () => {
  it("has the worked examples of its documentation", () => {
    expect(plannedState(plannedWalk(), { passes: 25, faults: 0, pairs: 0 })).toBe("met");
    expect(fewestPasses(plannedWalk(), 0)).toBe(17);
    const [first, second] = passesForChance(oneTagWalk(0.95), 0.01, [0.75, 0.85]);
    expect([first!.passes, second!.passes]).toEqual([93, 124]);
    expect(first!.reached).toBeCloseTo(0.7616, 4);
    expect(second!.reached).toBeCloseTo(0.8716, 4);
  });

  it("is the smallest number that is likely enough: one pass fewer is not", () => {
    const walk = plannedWalk({ trialsPerPass: 20, limit: 0.97 });
    for (const { chance, passes, reached } of passesForChance(walk, 0.01, [0.8, 0.9])) {
      expect(stateChances(walk, passes!, { faultRate: 0.01 }).met).toBeCloseTo(reached!, 9);
      for (let fewer = Math.max(1, passes! - 5); fewer < passes!; fewer += 1)
        expect(stateChances(walk, fewer, { faultRate: 0.01 }).met, `${fewer}`).toBeLessThan(chance);
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
    expect(stateChances(walk, 19, { faultRate: 0 })).toMatchObject({ met: 0, undecided: 1, notMet: 0 });
  });

  it("grows with the correlation of misses, and with looking again and again", () => {
    const alike = (missCorrelation: number) =>
      fewestPasses(plannedWalk({ basis: { confidence: 0.95, interval: "exact", missCorrelation } }), 0)!;
    expect([0, 0.02, 0.1].map(alike)).toEqual([10, 17, 45]);
    const basis = { confidence: 0.95, interval: "any-time" as const, missCorrelation: 0.02 };
    expect(fewestPasses(plannedWalk({ basis }), 0)).toBe(38);
  });

  it("runs out where the same few tags go through again and again", () => {
    // Ten tags alike by 0.02 are worth at most 10 / 0.02 = 500 presentations, and 99.5 % asks for 765.
    expect(fewestPasses(plannedWalk({ trialsPerPass: 10, limit: 0.995, sameTags: true }), 0)).toBeNull();
    expect(fewestPasses(plannedWalk({ trialsPerPass: 10, limit: 0.995 }), 0)).toBe(91);
  });
});

describe("what a plan risks", () => {
  it("has the worked example of its documentation", () => {
    const { wrongSignOff } = operatingCharacteristic(oneTagWalk(0.95), 59);
    expect(wrongSignOff.rate).toBe(0.95);
    expect(wrongSignOff.chance).toBeCloseTo(0.95 ** 59, 9);
  });

  it.each(["at-least", "at-most"] as const)("grows steadily with how bad the read point is: %s", (sense) => {
    const walk = plannedWalk({ trialsPerPass: 10, sense, limit: sense === "at-least" ? 0.9 : 0.1 });
    const { points, wrongSignOff } = operatingCharacteristic(walk, 30);
    const better = sense === "at-least" ? points : [...points].reverse();
    for (const [i, point] of better.entries()) {
      expect(point.met + point.undecided + point.notMet).toBeCloseTo(1, 9);
      if (i > 0) expect(point.met).toBeGreaterThanOrEqual(better[i - 1]!.met - 0.01);
      const wrong = sense === "at-least" ? point.rate <= 0.9 : point.rate >= 0.1;
      if (wrong) expect(point.met).toBeLessThanOrEqual(wrongSignOff.chance + 0.01);
    }
  });
});
