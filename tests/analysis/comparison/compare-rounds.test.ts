import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { compareRounds } from "../../../src/analysis/comparison/compare-rounds.ts";
import type { Condition, Facility, Round } from "../../../src/model/facility.ts";
import type { Comparison } from "../../../src/model/result/comparison.ts";
import { type WalkedRow, walkedFacility } from "../walked.ts";

const round = (id: string, said: Partial<Round> = {}): Round => ({
  id,
  title: id,
  date: null,
  changes: null,
  settings: {},
  ...said,
});
const rounds = [round("as-found"), round("as-left")];
const orientation: Condition = { column: "orientation", label: "Tag orientation", unit: null, bands: null };

function compared(rows: WalkedRow[], said: Partial<Facility> = {}): Comparison[] {
  return compareRounds(walkedFacility({ rounds, ...said }, rows));
}

function only(rows: WalkedRow[], said: Partial<Facility> = {}): Comparison {
  const found = compared(rows, said).filter((one) => one.group === null);
  expect(found).toHaveLength(1);
  return found[0]!;
}

/** One tag a pass, under names that no other round uses unless `mark` is the same. */
function single(id: string, count: number, missed: number, mark = id, columns = {}): WalkedRow[] {
  return Array.from({ length: count }, (_, i) => ({
    round: id,
    pass: `${mark}${i}`,
    tag: `${mark}${i}`,
    read: i >= missed,
    columns,
  }));
}

describe("two rounds of one tag a pass", () => {
  it("with other passes are independent: Newcombe's 9 of 10 against 3 of 10, and Fisher's p", () => {
    const one = only([...single("as-found", 10, 7), ...single("as-left", 10, 1)]);
    expect(one).toMatchObject({
      readPoint: "dock-1",
      before: "as-found",
      after: "as-left",
      group: null,
      exploratory: false,
      design: "independent",
      standardised: false,
      test: "fisher",
      pairs: null,
      pAdjusted: null,
      change: "better",
      reasons: [{ code: "tags-differ", inBoth: 0, onlyBefore: 10, onlyAfter: 10 }],
    });
    expect(one.difference!.value).toBeCloseTo(0.6, 12);
    expect(one.difference!.lower).toBeCloseTo(0.1705227239345, 9);
    expect(one.difference!.upper).toBeCloseTo(0.8090179735355, 9);
    expect(one.difference!.confidence).toBe(0.95);
    expect(one.p).toBeCloseTo(0.0198, 4);
    expect(one.estimates!.before).toMatchObject({ value: 0.3, k: 3, n: 10, effectiveN: 10 });
    expect(one.estimates!.after).toMatchObject({ value: 0.9, k: 9, n: 10, effectiveN: 10 });
  });

  it("with the same passes and tags are paired: Newcombe's 36, 12, 2, 0, and McNemar's p", () => {
    const rows = Array.from({ length: 50 }, (_, i): WalkedRow[] => [
      { round: "as-found", pass: `P${i}`, tag: `T${i}`, read: i < 38 },
      { round: "as-left", pass: `P${i}`, tag: `T${i}`, read: i < 36 || i >= 38 },
    ]).flat();
    const one = only(rows);
    expect(one.pairs).toEqual({ readBoth: 36, readOnlyBefore: 2, readOnlyAfter: 12, missedBoth: 0 });
    expect(one).toMatchObject({ design: "paired", test: "mcnemar", change: "better", reasons: [] });
    expect(one.difference!.value).toBeCloseTo(0.2, 12);
    expect(one.difference!.lower).toBeCloseTo(0.05692958400324, 9);
    expect(one.difference!.upper).toBeCloseTo(0.3404276029749, 9);
    expect(one.p).toBeCloseTo(0.0129, 4);
  });

  it("of which some have a partner and others none are not paired, and that is said", () => {
    const rows = [...single("as-found", 10, 7, "P"), ...single("as-left", 12, 1, "P")];
    const one = only(rows);
    expect(one.design).toBe("independent");
    expect(one.reasons).toContainEqual({ code: "partly-paired", pairs: 10, before: 10, after: 12 });
  });

  it("of the same names under other conditions are not pairs", () => {
    const lying = (id: string, flip: number): WalkedRow[] =>
      single(id, 20, 0, "P").map((row, i) => ({
        ...row,
        columns: { orientation: (i + flip) % 2 === 0 ? "flat" : "edge-on" },
      }));
    const one = only([...lying("as-found", 0), ...lying("as-left", 1)], { conditions: [orientation] });
    expect(one).toMatchObject({ design: "independent", standardised: false, reasons: [] });
  });
});

describe("tags that share passes", () => {
  const shared = (id: string, missedPasses: number): WalkedRow[] =>
    Array.from({ length: 200 }, (_, i) => ({
      round: id,
      pass: `${id}${Math.floor(i / 10)}`,
      tag: `${id}-${i}`,
      read: Math.floor(i / 10) >= missedPasses,
    }));

  it("widen the difference, and p comes from the difference itself", () => {
    const clustered = only([...shared("as-found", 4), ...shared("as-left", 0)]);
    const apart = only([...single("as-found", 200, 40), ...single("as-left", 200, 0)]);
    expect(clustered.test).toBe("difference");
    expect(clustered.difference!.value).toBeCloseTo(apart.difference!.value, 12);
    expect(clustered.difference!.lower).toBeLessThan(apart.difference!.lower);
    expect(clustered.difference!.upper).toBeGreaterThan(apart.difference!.upper);
    expect(clustered.p).toBeGreaterThan(apart.p!);
    expect(clustered.p! < 0.05).toBe(clustered.difference!.lower > 0);
  });
});

describe("what is compared", () => {
  const at = (id: string, value: string, count: number, missed: number) =>
    single(id, count, missed, `${id}-${value}-`, { orientation: value });

  it("is weighted to the later round's mix: a walk with more of the easy tags is no gain", () => {
    const rows = [
      ...at("as-found", "flat", 100, 0),
      ...at("as-found", "edge-on", 100, 20),
      ...at("as-left", "flat", 150, 0),
      ...at("as-left", "edge-on", 50, 10),
    ];
    const one = only(rows, { conditions: [orientation] });
    expect(one.standardised).toBe(true);
    expect(one.reasons).toContainEqual({ code: "mix-differs" });
    expect(one.estimates!.before).toMatchObject({ k: 180, n: 200 });
    expect(one.estimates!.before.value).toBeCloseTo(0.95, 12);
    expect(one.difference!.value).toBeCloseTo(0, 12);
    expect(one.change).toBe("no-change-shown");
    expect(one.estimates!.before.effectiveN).toBeCloseTo(1 / (0.75 ** 2 / 100 + 0.25 ** 2 / 100), 9);
  });

  it("is only what both rounds walked, and what was left out is said", () => {
    const rows = [
      ...at("as-found", "flat", 40, 1),
      ...at("as-found", "edge-on", 20, 15),
      ...at("as-left", "flat", 40, 1),
      ...at("as-left", "standing", 10, 0),
    ];
    const one = only(rows, { conditions: [orientation] });
    expect(one.estimates!.before).toMatchObject({ k: 39, n: 40 });
    expect(one.estimates!.after).toMatchObject({ k: 39, n: 40 });
    expect(one.reasons.slice(0, 2)).toEqual([
      {
        code: "conditions-left-out",
        round: "as-found",
        presentations: 20,
        ofPresentations: 60,
        combinations: 1,
        examples: [{ orientation: "edge-on" }],
      },
      {
        code: "conditions-left-out",
        round: "as-left",
        presentations: 10,
        ofPresentations: 50,
        combinations: 1,
        examples: [{ orientation: "standing" }],
      },
    ]);
  });

  it("with nothing in common there is no number", () => {
    const rows = [...at("as-found", "flat", 40, 1), ...at("as-left", "edge-on", 40, 1)];
    const [whole, ...groups] = compared(rows, { conditions: [orientation] });
    expect(whole).toMatchObject({
      change: "not-comparable",
      design: null,
      difference: null,
      estimates: null,
      p: null,
      test: null,
    });
    expect(whole!.reasons.map(({ code }) => code)).toEqual([
      "no-common-conditions",
      "conditions-left-out",
      "conditions-left-out",
    ]);
    expect(groups.map(({ group, reasons }) => [group, reasons])).toEqual([
      [{ orientation: "edge-on" }, [{ code: "not-walked", round: "as-found" }]],
      [{ orientation: "flat" }, [{ code: "not-walked", round: "as-left" }]],
    ]);
  });

  it("a round that nobody walked, or whose passes are all void, is not comparable", () => {
    expect(only(single("as-left", 5, 0))).toMatchObject({
      change: "not-comparable",
      reasons: [{ code: "not-walked", round: "as-found" }],
    });
    const void_ = single("as-found", 5, 0).map((row) => ({ ...row, void: "door shut" }));
    expect(only([...void_, ...single("as-left", 5, 0)]).change).toBe("not-comparable");
    expect(only([]).reasons).toHaveLength(2);
  });

  it("a blank is like a blank and like nothing else", () => {
    const rows = [...single("as-found", 20, 0), ...single("as-left", 20, 0)];
    expect(only(rows, { conditions: [orientation] }).estimates!.before.n).toBe(20);
    const half = [...single("as-found", 20, 0), ...at("as-left", "flat", 20, 0)];
    expect(only(half, { conditions: [orientation] }).reasons).toContainEqual(
      expect.objectContaining({ round: "as-found", examples: [{ orientation: null }] }),
    );
  });

  it("tallies are compared, without knowing whether the tags are the same", () => {
    const tally = (id: string, read: number): WalkedRow[] =>
      Array.from({ length: 10 }, (_, i) => ({ round: id, pass: `P${i}`, tally: { presented: 20, read } }));
    const one = only([...tally("as-found", 16), ...tally("as-left", 20)]);
    expect(one).toMatchObject({ design: "independent", test: "difference", change: "better" });
    expect(one.reasons).toEqual([{ code: "tags-not-named", rounds: ["as-found", "as-left"] }]);
  });

  it("settings that differ are named, once, at the read point as a whole", () => {
    const settings = [
      round("as-found", { settings: { "dock-1": { transmit_power_dbm: "27", session: "1" } } }),
      round("as-left", { settings: { "dock-1": { transmit_power_dbm: "30", session: "1", tilt_deg: "5" } } }),
    ];
    const rows = [...at("as-found", "flat", 5, 0), ...at("as-left", "flat", 5, 0)];
    const [whole, group] = compared(rows, { rounds: settings, conditions: [orientation] });
    const differ = {
      code: "settings-differ",
      settings: [
        { setting: "tilt_deg", before: null, after: "5" },
        { setting: "transmit_power_dbm", before: "27", after: "30" },
      ],
    };
    expect(whole!.reasons).toContainEqual(differ);
    expect(group!.reasons).not.toContainEqual(differ);
  });
});

describe("which rounds are compared", () => {
  const pairsOf = (ids: string[]) =>
    compared([], { rounds: ids.map((id) => round(id)) }).map(({ before, after }) => `${before} ${after}`);

  it("each with the next, and the first with the last, once where there are two", () => {
    expect(pairsOf(["a"])).toEqual([]);
    expect(pairsOf(["a", "b"])).toEqual(["a b"]);
    expect(pairsOf(["a", "b", "c"])).toEqual(["a b", "b c", "a c"]);
    expect(pairsOf(["a", "b", "c", "d"])).toEqual(["a b", "b c", "c d", "a d"]);
  });
});

describe("exploratory rows", () => {
  it("are one for each value, marked, with Holm over those of one read point and pair", () => {
    const speed: Condition = { column: "speed_m_s", label: "Speed", unit: "m/s", bands: [0, 1, 2, 3] };
    const rows = (id: string, missedSlow: number, missedFast: number) => [
      ...single(id, 30, missedSlow, `${id}s`, { speed_m_s: "0.5", orientation: "flat" }),
      ...single(id, 30, missedFast, `${id}f`, { speed_m_s: "1.5", orientation: "flat" }),
    ];
    const found = compared([...rows("as-found", 1, 12), ...rows("as-left", 1, 0)], {
      conditions: [speed, orientation],
    });
    expect(found.map(({ group, exploratory }) => [group, exploratory])).toEqual([
      [null, false],
      [{ speed_m_s: "0 to 1" }, true],
      [{ speed_m_s: "1 to 2" }, true],
      [{ orientation: "flat" }, true],
    ]);
    const [whole, slow, fast, flat] = found;
    expect(whole!.pAdjusted).toBeNull();
    expect(slow!).toMatchObject({ p: 1, pAdjusted: 1, change: "no-change-shown" });
    expect(fast!.change).toBe("better");
    expect(fast!.pAdjusted).toBeCloseTo(3 * fast!.p!, 12);
    expect(flat!.pAdjusted).toBeCloseTo(Math.max(2 * flat!.p!, 3 * fast!.p!), 12);
  });
});

describe("whatever was walked", () => {
  const row = (id: string) =>
    fc.record({
      round: fc.constant(id),
      pass: fc.integer({ min: 1, max: 4 }).map((number) => `P${number}`),
      tag: fc.integer({ min: 1, max: 5 }).map((number) => `T${number}`),
      read: fc.boolean(),
    });
  // How a tag lies goes with the tag, and how fast a pass is with the pass: the same in either round.
  const lying = (rows: WalkedRow[]): WalkedRow[] =>
    rows.map((one) => ({ ...one, columns: { orientation: one.tag! < "T3" ? "flat" : "edge-on" } }));
  const walk = (id: string) =>
    fc.uniqueArray(row(id), { maxLength: 20, selector: ({ pass, tag }) => `${pass} ${tag}` }).map(lying);

  it("shuffled rows change nothing", () => {
    fc.assert(
      fc.property(
        fc.tuple(walk("as-found"), walk("as-left")).chain(([before, after]) => {
          const rows = [...before, ...after];
          return fc.tuple(fc.constant(rows), fc.shuffledSubarray(rows, { minLength: rows.length }));
        }),
        ([rows, shuffled]) => {
          const conditions = [orientation];
          expect(compared(shuffled, { conditions })).toEqual(compared(rows, { conditions }));
        },
      ),
    );
  });

  it("a round walked again with the very same outcome is never better or worse", () => {
    fc.assert(
      fc.property(walk("as-found"), (before) => {
        fc.pre(before.length > 0);
        const after = before.map((one) => ({ ...one, round: "as-left" }));
        for (const one of compared([...before, ...after], { conditions: [orientation] })) {
          expect(one.design).toBe("paired");
          expect(one.standardised).toBe(false);
          expect(one.change).toMatch(/^no-change/);
          expect(one.p).toBe(1);
          expect(one.difference!.lower).toBeCloseTo(-one.difference!.upper, 12);
        }
      }),
    );
  });

  it("swapping rounds of the same mix negates the difference and turns better into worse", () => {
    const turned = { better: "worse", worse: "better" } as Record<string, string>;
    fc.assert(
      fc.property(walk("as-found"), walk("as-left"), (before, after) => {
        const rows = [...before, ...after];
        const there = compared(rows);
        const back = compared(
          rows.map((one) => ({ ...one, round: one.round === "as-found" ? "as-left" : "as-found" })),
        );
        there.forEach((one, i) => {
          const other = back[i]!;
          expect(other.change).toBe(turned[one.change] ?? one.change);
          expect(other.design).toBe(one.design);
          if (one.difference === null) return;
          expect(other.difference!.value).toBeCloseTo(-one.difference.value, 12);
          expect(other.difference!.lower).toBeCloseTo(-one.difference.upper, 12);
          expect(other.difference!.upper).toBeCloseTo(-one.difference.lower, 12);
          expect(other.p).toBeCloseTo(one.p!, 9);
        });
      }),
    );
  });
});
