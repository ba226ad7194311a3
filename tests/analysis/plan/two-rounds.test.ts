import { describe, expect, it } from "vitest";
import { sidesOf } from "../../../bench/simulation/false-changes.ts";
import { seededStream } from "../../../bench/simulation/walk-model.ts";
import { changeOf, differenceBetween } from "../../../src/analysis/comparison/difference.ts";
import { betterChance, twoRounds } from "../../../src/analysis/plan/two-rounds.ts";
import type { Plan } from "../../../src/model/facility.ts";
import { betaBinomialPmf } from "../../../src/statistics/beta-binomial.ts";

const basis = { confidence: 0.95, interval: "wilson", missCorrelation: 0.02 };
const rounds = { tagsPerPass: 20, sameTags: false, before: 0.96, after: 0.99, basis };
const plan: Plan = {
  seed: 1,
  tagsPerPass: 40,
  manifest: null,
  sameTags: false,
  expectedRate: 0.99,
  each: [],
  readPoints: [],
};

/** Misses of one pass, drawn so that they are correlated as the plan assumes. */
function misses(rate: number, random: () => number): () => number {
  const chances = betaBinomialPmf(rounds.tagsPerPass, 1 - rate, basis.missCorrelation);
  return () => {
    let rest = random();
    let missed = 0;
    while (missed < rounds.tagsPerPass && rest >= chances[missed]!) {
      rest -= chances[missed]!;
      missed += 1;
    }
    return missed;
  };
}

describe("how often two rounds of a planned length show a gain", () => {
  it("is what walking them shows", () => {
    const passes = 25;
    const random = seededStream(11);
    const [drawBefore, drawAfter] = [misses(rounds.before, random), misses(rounds.after, random)];
    const model = { passes, tags: 20, trueRate: 0.99, passScatter: 0, tagScatter: 0 };
    // Which tags were missed tells nothing where each is presented once.
    const walk = (draw: () => number) =>
      Array.from({ length: passes }, () => Array.from({ length: draw() }, (_, tag) => tag));
    let shown = 0;
    const walks = 600;
    for (let i = 0; i < walks; i += 1) {
      const { sides } = sidesOf(walk(drawBefore), walk(drawAfter), { model, shared: "nothing" });
      const [before, after] = [sides.before, sides.after].map(({ counts, ...side }) => ({
        ...side,
        counts: { ...counts, clusterings: [counts.byPass], byTag: null },
      }));
      const { difference } = differenceBetween({ before: before!, after: after!, pairs: null }, basis);
      if (changeOf(difference!, 0) === "better") shown += 1;
    }
    // Three standard errors of the simulation, and a point for the layouts that stand for all.
    expect(Math.abs(shown / walks - betterChance(rounds, passes))).toBeLessThan(0.06 + 0.01);
  });

  it("grows with the passes, and shrinks with the correlation and where the same tags go through again", () => {
    const chances = [5, 10, 20, 40].map((passes) => betterChance(rounds, passes));
    expect(chances).toEqual(chances.toSorted((a, b) => a - b));
    const alike = { ...rounds, basis: { ...basis, missCorrelation: 0.1 } };
    expect(betterChance(alike, 20)).toBeLessThan(betterChance(rounds, 20));
    expect(betterChance({ ...rounds, sameTags: true }, 20)).toBeLessThan(betterChance(rounds, 20));
  });
});

describe("the size of two rounds", () => {
  it("is reached at the number given and not a pass before", () => {
    const sized = twoRounds(plan, 0.03, basis)!;
    expect(sized).toMatchObject({ before: 0.96, after: 0.99 });
    expect(sized.forChance.map(({ passes }) => passes)).toEqual([22, 30]);
    for (const { chance, passes, reached } of sized.forChance) {
      const at = (count: number) => betterChance({ ...rounds, tagsPerPass: 40 }, count);
      expect(reached).toBe(at(passes!));
      expect(reached).toBeGreaterThanOrEqual(chance);
      expect(at(passes! - 1)).toBeLessThan(chance);
    }
  });

  it("is none where no number of passes shows the change, or no rate is so much lower", () => {
    const unseen = twoRounds({ ...plan, tagsPerPass: 1, expectedRate: 0.9 }, 0.001, basis)!;
    expect(unseen.forChance.map(({ passes }) => passes)).toEqual([null, null]);
    expect(twoRounds({ ...plan, expectedRate: 0.01 }, 0.02, basis)).toBeNull();
  });
});
