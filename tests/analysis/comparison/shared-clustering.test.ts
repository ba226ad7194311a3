import { describe, expect, it } from "vitest";
import { differenceBetween } from "../../../src/analysis/comparison/difference.ts";
import type { Basis } from "../../../src/intervals/interval.ts";
import { alike, type Cluster, sampleOf } from "../../statistics/clusters.ts";

const basis: Basis = { confidence: 0.95, interval: "wilson", missCorrelation: 0.02 };

function effects(before: Cluster[], after: Cluster[], interval: Basis["interval"] = "wilson") {
  const side = (clusters: Cluster[]) => {
    const sample = sampleOf(clusters);
    const counts = { ...sample, byPass: sample.clusterings[0]!, byTag: sample.clusterings[1]! };
    return { counts, tags: null, strata: [{ n: counts.n, k: counts.k }] };
  };
  const facility = { ...basis, interval };
  const { estimates, difference } = differenceBetween(
    { before: side(before), after: side(after), pairs: null },
    facility,
  );
  return { before: estimates!.before.designEffect!, after: estimates!.after.designEffect!, difference };
}

const lumped = alike(20, 20, [8, 6]);
const spread = alike(20, 20, [1, 1]);

describe("two rounds of a comparison", () => {
  it("lend each other their clustering: a round that missed little takes the geometric mean of both", () => {
    const own = effects(spread, spread).after;
    const lent = effects(lumped, lumped).before;
    const both = effects(lumped, spread);
    expect(own).toBeLessThan(lent);
    expect(both.before).toBeCloseTo(lent, 9);
    expect(both.after).toBeCloseTo(Math.sqrt(own * lent), 9);
  });

  it("keep their own where one has nothing clustered", () => {
    const alone = alike(60, 1, [1, 1]);
    const both = effects(lumped, alone);
    expect(both.after).toBe(1);
    expect(both.before).toBeCloseTo(effects(lumped, lumped).before, 9);
  });

  it("take no more than clusters read whole or missed whole would show", () => {
    const pairs = alike(40, 2, [1]);
    expect(effects(alike(4, 30, [30]), pairs).after).toBe(2);
  });

  it("have their limits from effective samples whatever interval the findings use", () => {
    for (const interval of ["exact", "beta-binomial", "any-time"] as const) {
      expect(effects(lumped, spread, interval)).toEqual(effects(lumped, spread));
    }
  });
});
