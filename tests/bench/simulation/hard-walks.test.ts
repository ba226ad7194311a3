import { describe, expect, it } from "vitest";
import { metAtLimit, passesUntilMet } from "../../../bench/simulation/hard-walks.ts";
import { stayShare } from "../../../bench/simulation/idle-stays.ts";
import { alike, type PassesModel, passesWalker } from "../../../bench/simulation/pass-by-pass.ts";

const models: PassesModel[] = [
  { sizes: alike(20, 40), trueRate: 0.97, scatter: { kind: "logit", deviation: 1.5 } },
  { sizes: alike(20, 40), trueRate: 0.97, scatter: { kind: "beta-binomial", correlation: 0.1 } },
  { sizes: [200, ...alike(19, 10)], trueRate: 0.95, scatter: { kind: "logit", deviation: 1 } },
  { sizes: alike(20, 40), trueRate: 0.97, scatter: { kind: "drift", logits: 3 } },
];

describe("a walk whose passes are drawn one by one", () => {
  it.each(models)("reads what it is said to in the long run: $scatter", (model) => {
    const walk = passesWalker(model, 3);
    const of = model.sizes.reduce((sum, size) => sum + size, 0);
    let misses = 0;
    for (let i = 0; i < 2000; i += 1) misses += walk().reduce((sum, one) => sum + one, 0);
    expect(Math.abs(misses / (2000 * of) - (1 - model.trueRate))).toBeLessThan(0.0025);
  });

  it("misses more and more where misses rise, and as much as before where they do not", () => {
    const halves = (model: PassesModel) => {
      const walk = passesWalker(model, 5);
      const sums = [0, 0];
      for (let i = 0; i < 500; i += 1)
        walk().forEach((misses, pass) => {
          sums[pass < 10 ? 0 : 1]! += misses;
        });
      return sums[1]! / sums[0]!;
    };
    expect(halves(models[3]!)).toBeGreaterThan(3);
    expect(halves(models[0]!)).toBeCloseTo(1, 0);
  });
});

// Bounds leave three standard errors of the simulation; `npm run bench -- simulation` does it at length.
describe("a read point at its limit", () => {
  it.each(models)("is seldom signed off by beta-binomial: $scatter", (model) => {
    const met = metAtLimit("beta-binomial", model, { walks: 400, seed: 11, isAtEveryPass: false });
    expect(met / 400).toBeLessThan(0.05 + 0.033);
  });

  it("is seldom signed off by any-time at any of 120 looks, and much more often by wilson", () => {
    const model: PassesModel = {
      sizes: alike(120, 40),
      trueRate: 0.99,
      scatter: { kind: "beta-binomial", correlation: 0.1 },
    };
    const looked = (rule: string) =>
      metAtLimit(rule, model, { walks: 100, seed: 4, isAtEveryPass: true }) / 100;
    expect(looked("any-time")).toBeLessThan(0.03 + 0.05);
    expect(looked("wilson")).toBeGreaterThan(0.2);
  });

  it("is met by a very good read point sooner or later", () => {
    const model: PassesModel = {
      sizes: alike(200, 40),
      trueRate: 0.998,
      scatter: { kind: "beta-binomial", correlation: 0.02 },
    };
    const until = passesUntilMet("any-time", model, { limit: 0.99, walks: 60, seed: 1 });
    expect(Math.min(...until.map((passes) => passes ?? 200))).toBeGreaterThanOrEqual(38);
    expect(until.filter((passes) => passes !== null).length).toBeGreaterThan(50);
  });
});

describe("idle reads at their limit, of tags that stay", () => {
  it.each([
    { stay: 1, heard: 1 },
    { stay: 5, heard: 0.5 },
    { stay: 10, heard: 1 / 3 },
  ])("are seldom met: $stay minutes, heard in $heard of them", (model) => {
    const { wronglyMet } = stayShare({ ...model, minutes: 240 }, 600, 7);
    expect(wronglyMet).toBeLessThan(0.07 + 0.03);
  });

  it("are never met where the session is too short for how long they stay", () => {
    const share = stayShare({ stay: 20, heard: 1, minutes: 240 }, 300, 7);
    expect(share.wronglyMet).toBeLessThan(0.02);
    expect(share.untested).toBeGreaterThan(0);
  });
});
