import { describe, expect, it } from "vitest";
import { falseChanges, sidesOf } from "../../../bench/simulation/false-changes.ts";
import { roundsWalker, type Shared, seededStream } from "../../../bench/simulation/walk-model.ts";
import { compareRounds } from "../../../src/analysis/comparison/compare-rounds.ts";
import { differenceBetween } from "../../../src/analysis/comparison/difference.ts";
import { facility, walkedFacility } from "../../analysis/walked.ts";

const model = { passes: 20, tags: 40, trueRate: 0.97, passScatter: 1.5, tagScatter: 0 };

// Nominal 5 %. Bounds leave three standard errors of the simulation above 7 %; `npm run bench` does it at length.
describe("two rounds between which nothing changed", () => {
  it.each([
    { one: model, shared: "tags" as const },
    { one: { ...model, tagScatter: 1.5 }, shared: "nothing" as const },
    { one: { ...model, passes: 50, tags: 20, tagScatter: 1.5, trueRate: 0.95 }, shared: "nothing" as const },
    { one: { ...model, passes: 10, tags: 20, tagScatter: 1 }, shared: "passes and tags" as const },
  ])(
    "are seldom called changed: $one.passes x $one.tags at $one.trueRate, $shared alike",
    ({ one, shared }) => {
      const comparisons = 250;
      const { changed } = falseChanges({ model: one, shared }, comparisons, 5);
      expect(changed.compared / comparisons).toBeLessThan(0.07 + 0.048);
      if (shared !== "passes and tags") expect(changed.naive).toBeGreaterThan(3 * changed.compared);
    },
  );

  it.each(["passes and tags", "nothing"] as Shared[])(
    "are compared by the simulation as by the tool itself: %s alike",
    (shared) => {
      const small = { ...model, passes: 6, tags: 8, trueRate: 0.8 };
      const [before, after] = roundsWalker(small, shared, seededStream(3))();
      const rows = [before, after].flatMap((walk, round) =>
        walk.flatMap((misses, pass) =>
          Array.from({ length: small.tags }, (_, tag) => ({
            round: round === 0 ? "as-found" : "as-left",
            pass: shared === "nothing" ? `${round}-${pass}` : `P${pass}`,
            tag: shared === "nothing" ? `${round}-${tag}` : `T${tag}`,
            read: !misses.includes(tag),
          })),
        ),
      );
      const rounds = ["as-found", "as-left"].map((id) => ({
        id,
        title: id,
        date: null,
        changes: null,
        settings: {},
      }));
      const site = facility({ rounds });
      const [compared] = compareRounds(walkedFacility(site, rows));
      const { sides, pairs } = sidesOf(before, after, { model: small, shared });
      expect(differenceBetween({ ...sides, pairs }, site)).toMatchObject({
        design: compared!.design,
        difference: compared!.difference,
        p: compared!.p,
        pairs: compared!.pairs,
      });
      expect(compared!.design).toBe(shared === "nothing" ? "independent" : "paired");
    },
  );
});
