import { describe, expect, it } from "vitest";
import { toSettle } from "../../src/analysis/findings/verdict.ts";
import { intervals } from "../../src/intervals/index.ts";
import type { Basis, Limit } from "../../src/intervals/interval.ts";
import { eventEvidence } from "../../src/measures/evidence/events.ts";
import { levelEvidence } from "../../src/measures/evidence/levels.ts";
import { chanceOfFaults, furtherTrials, rateEvidence } from "../../src/measures/evidence/rates.ts";
import { type ClusteredSample, extended, mirrored } from "../../src/statistics/effective-sample.ts";
import { alike, type Cluster, laidOut, sampleOf, sumsOf } from "../statistics/clusters.ts";

const basisOf = (interval: string): Basis => ({ confidence: 0.95, interval, missCorrelation: 0.02 });
const at99: Limit = { sense: "at-least", limit: 0.99 };
const settled = (sample: ClusteredSample, limit: Limit, interval = "wilson") =>
  toSettle(
    rateEvidence({ sample, passes: 1, remarks: [] }),
    { ...limit, minimumPasses: 1 },
    { state: "undecided", unit: "presentations", basis: basisOf(interval) },
  ) as { furtherWithoutMiss: number | null; chance: number | null; retune: boolean };

describe("the longer walk that would be met", () => {
  const walks: [string, Cluster[], number][] = [
    ["nothing missed", alike(8, 40, []), 0.99],
    ["one miss", alike(20, 40, [1]), 0.99],
    ["misses in one pass", alike(12, 20, [3]), 0.97],
    ["unequal passes", [...alike(5, 10, [1]), ...alike(5, 25, [])], 0.97],
    ["the wrong side of the limit", alike(2, 20, [1]), 0.99],
  ];
  it.each(intervals.ids().flatMap((id) => walks.map((walk) => [id, ...walk] as const)))(
    "is judged met by the very rule, and is the shortest: %s, %s",
    (id, _, clusters, limit) => {
      const sample = sampleOf(clusters);
      const asked: Limit = { sense: "at-least", limit };
      const state = (more: number) => intervals.get(id).decide(extended(sample, more), asked, basisOf(id));
      if (state(0) === "met") return;
      const further = furtherTrials(sample, asked, basisOf(id))!;
      expect(state(further)).toBe("met");
      expect(state(further - 1)).toBe("undecided");
    },
  );

  it("is whole passes like those walked, and part of one more, for both senses", () => {
    const counts = sampleOf(alike(20, 40, []));
    expect(furtherTrials(counts, at99, basisOf("beta-binomial"))).toBe(52);
    expect(laidOut(extended(counts, 52).clusterings[0]!)).toEqual(
      laidOut(sumsOf([...alike(21, 40, []), [12, 0]])),
    );
    const heard = mirrored(extended(mirrored(sampleOf(alike(3, 4, [4, 4, 3]))), 6));
    expect(laidOut(heard.clusterings[0]!)).toEqual(laidOut(sumsOf([...alike(4, 4, [4, 4, 3, 4]), [2, 2]])));
    expect([heard.n, heard.k]).toEqual([18, 1]);
  });

  it("is always stated, also where the value lies on the wrong side, up to ten million", () => {
    const alone = { n: 240, k: 239, clusterings: [] };
    expect(furtherTrials(alone, at99, basisOf("wilson"))).toBe(323);
    expect(settled({ n: 100, k: 95, clusterings: [] }, at99).furtherWithoutMiss).toBeGreaterThan(1000);
    const never: Limit = { sense: "at-least", limit: 1 - 1e-9 };
    expect(furtherTrials(alone, never, basisOf("wilson"))).toBeNull();
  });
});

describe("the chance of so many faults at the limit itself", () => {
  it("is null where the value lies on the good side, and is there where it lies on the limit", () => {
    expect(settled({ n: 240, k: 239, clusterings: [] }, at99)).toMatchObject({ chance: null, retune: false });
    expect(settled({ n: 100, k: 99, clusterings: [] }, at99).chance).toBeCloseTo(1 - 0.99 ** 100, 12);
  });

  it("of passes is binomial, by faults for both senses", () => {
    expect(settled({ n: 40, k: 39, clusterings: [] }, at99).chance).toBeCloseTo(1 - 0.99 ** 40, 12);
    // Six strays in 35 passes where 10 % are allowed: 1 - P(Bin(35, 0.1) <= 5), summed by hand.
    const strays = settled({ n: 35, k: 6, clusterings: [] }, { sense: "at-most", limit: 0.1 });
    expect(strays.chance).toBeCloseTo(0.1316, 3);
    expect(strays).toMatchObject({ furtherWithoutMiss: 92, retune: false });
  });

  it("of presentations is larger where misses of a pass go together, and the larger of passes and tags", () => {
    const together = chanceOfFaults(sampleOf(alike(8, 40, [8])), at99, 0.02);
    const apart = chanceOfFaults({ n: 320, k: 312, clusterings: [] }, at99, 0.02);
    expect(together).toBeGreaterThan(2 * apart);
    const passes = sumsOf(alike(8, 40, [8]));
    const tags = sumsOf(alike(40, 8, [1, 1, 1, 1, 1, 1, 1, 1]));
    const of = (...clusterings: (typeof passes)[]) =>
      chanceOfFaults({ n: 320, k: 312, clusterings }, at99, 0.02);
    expect(of(passes, tags)).toBe(Math.max(of(passes), of(tags)));
  });

  it("advises to look for the cause only below one in ten, and says so whatever the interval", () => {
    for (const id of intervals.ids()) {
      expect(settled({ n: 200, k: 196, clusterings: [] }, at99, id)).toMatchObject({ retune: false });
      expect(settled({ n: 200, k: 195, clusterings: [] }, at99, id)).toMatchObject({ retune: true });
    }
  });

  it("of signal strengths is that of so many presentations below the limit", () => {
    const evidence = levelEvidence({
      levels: { censored: 1, values: [-72, ...new Array<number>(18).fill(-60)] },
      quantile: 0.05,
      passes: 1,
      remarks: [],
    });
    const limit: Limit = { sense: "at-least", limit: -65 };
    // Two or more of 20 below, each with a chance of 0.05: 1 - 0.95^20 - 20 x 0.05 x 0.95^19.
    const expected = 1 - 0.95 ** 20 - 20 * 0.05 * 0.95 ** 19;
    expect(evidence.chanceAtLimit(limit, basisOf("wilson"))).toBeCloseTo(expected, 12);
    expect(evidence.further(limit, basisOf("wilson"))).toBeGreaterThan(100);
  });

  it("of idle reads is Poisson, with count and mean divided by the factor", () => {
    const evidence = eventEvidence({
      counts: {
        events: 3,
        minutes: 30,
        byMinute: [1, 1, 1, ...new Array<number>(27).fill(0)],
        stays: { squares: 3, longest: 1 },
      },
      passes: 1,
      remarks: [],
    });
    const chance = evidence.chanceAtLimit({ sense: "at-most", limit: 0.05 }, basisOf("wilson"));
    expect(chance).toBeCloseTo(1 - 3.625 * Math.exp(-1.5), 12);
  });
});
