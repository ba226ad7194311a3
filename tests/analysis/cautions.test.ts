import { describe, expect, it } from "vitest";
import { unseenKinds } from "../../src/analysis/findings/cautions.ts";
import { judgeFacility } from "../../src/analysis/judge.ts";
import type { Facility } from "../../src/model/facility.ts";
import type { Result } from "../../src/model/result/result.ts";
import { criterion, facility, type WalkedRow, walked } from "./walked.ts";

interface Walk {
  passes: number;
  tags: number;
  /** Tags of one pass that are missed, by pass. */
  missed?: Record<number, number>;
  /** Whether other tags go through in every pass. */
  otherTags?: boolean;
}

function rowsOf({ passes, tags, missed = {}, otherTags = false }: Walk): WalkedRow[] {
  return Array.from({ length: passes }, (_, pass) =>
    Array.from({ length: tags }, (_, tag) => ({
      pass: `P${pass}`,
      tag: otherTags ? `T${pass}-${tag}` : `T${tag}`,
      read: tag >= (missed[pass] ?? 0),
    })),
  ).flat();
}

/** The result of a walk whose passes were a minute apart, from the first to the last. */
function judged(said: Partial<Facility>, rows: WalkedRow[], isTimed = true): Result {
  const log = walked(rows);
  log.passes.forEach((pass, i) => {
    if (isTimed) pass.startedAt = new Date(Date.UTC(2026, 4, 21, 8, i)).toISOString();
  });
  return judgeFacility(
    { facility: facility(said), log, inputs: [], journeys: [], earlier: [], plannedLoad: null, problems: [] },
    "1.0.0",
  );
}

const exactly = { missCorrelation: 0, interval: "wilson" };

describe("what may not have come up", () => {
  it("after 36 passes and 40 tags are kinds rarer than one in 10, and than one in 11", () => {
    const unseen = unseenKinds({ passes: 36, tags: 40 }, 0.95)!;
    expect([unseen.passes.oneIn, unseen.tags!.oneIn]).toEqual([10, 11]);
    expect(unseen.passes.share).toBeCloseTo(1 - 0.025 ** (1 / 36), 12);
    expect(unseen.tags!.share).toBeCloseTo(1 - 0.025 ** (1 / 40), 12);
  });

  it("stands beside a finding, with its different tags", () => {
    const [finding] = judged(exactly, rowsOf({ passes: 36, tags: 40 })).findings;
    expect(finding).toMatchObject({ tags: 40, unseen: { passes: { oneIn: 10 }, tags: { oneIn: 11 } } });
    expect(finding!.remarks).toEqual([]);
  });

  it("is told of passes alone where a tally does not name its tags, and of nothing where nothing was walked", () => {
    const tally = [{ pass: "P1", tally: { presented: 40, read: 40 } }];
    const [counted] = judged(exactly, [...tally, ...rowsOf({ passes: 19, tags: 5 })]).findings;
    expect(counted).toMatchObject({ tags: null, unseen: { passes: { oneIn: 5 }, tags: null } });
    expect(judged(exactly, []).findings[0]).toMatchObject({ tags: null, unseen: null });
  });

  it("is more where fewer tags than passes went through, which a remark says", () => {
    const few = judged(exactly, rowsOf({ passes: 50, tags: 20 })).findings[0]!;
    expect(few.remarks).toEqual([{ code: "tags-reused", tags: 20, passes: 50 }]);
    const others = judged(exactly, rowsOf({ passes: 50, tags: 20, otherTags: true })).findings[0]!;
    expect(others).toMatchObject({ tags: 1000, remarks: [] });
  });

  it("counts the tags of a measure of passes too", () => {
    const site = { ...exactly, criteria: [criterion({ measure: "complete-pass-rate" })] };
    expect(judged(site, rowsOf({ passes: 3, tags: 7 })).findings[0]!.tags).toBe(7);
  });
});

describe("a criterion that names a bad pass", () => {
  const bad = (limit: number, share: number) => ({
    ...exactly,
    criteria: [criterion({ limit, worst_pass: share })],
  });

  it("is untested after 182 passes of a walk that would show 99 %, and met after 183, if bad passes miss half", () => {
    const site = bad(0.99, 0.5);
    const short = judged(site, rowsOf({ passes: 182, tags: 4, otherTags: true })).findings[0]!;
    expect(short).toMatchObject({ state: "untested", toSettle: { furtherPasses: 1 } });
    expect(short.remarks).toEqual([{ code: "worst-pass", worstPass: 0.5, passes: 183 }]);
    const enough = judged(site, rowsOf({ passes: 183, tags: 4, otherTags: true })).findings[0]!;
    expect(enough).toMatchObject({ state: "met", toSettle: null, remarks: [] });
  });

  it.each([
    [0.98, 0.5, 91],
    [0.97, 0.5, 60],
    [0.95, 0.5, 36],
    [0.9, 0.5, 17],
    [0.99, 1, 368],
    [0.99, 0.25, 91],
  ])("takes passes by its limit and share: %d, %d", (limit, share, passes) => {
    const { toSettle } = judged(bad(limit, share), rowsOf({ passes: 1, tags: 2000, otherTags: true }))
      .findings[0]!;
    expect(toSettle).toEqual({ furtherPasses: passes - 1 });
  });

  it("leaves not met what is not met, and sends an undecided walk on for as many passes as it takes", () => {
    const failed = judged(
      bad(0.95, 0.5),
      rowsOf({ passes: 5, tags: 40, missed: { 0: 20, 1: 20, 2: 20, 3: 20, 4: 20 } }),
    ).findings[0]!;
    expect(failed).toMatchObject({ state: "not-met", toSettle: null });
    expect(failed.remarks).toEqual([]);
    const open = judged(bad(0.95, 0.5), rowsOf({ passes: 5, tags: 10, missed: { 0: 1 } })).findings[0]!;
    expect(open.state).toBe("undecided");
    // 31 further passes of ten.
    expect(open.toSettle).toMatchObject({ furtherWithoutMiss: 310 });
  });

  it("counts what is read of bystanders that must not be", () => {
    const site = {
      ...exactly,
      criteria: [
        criterion({ measure: "bystander-read-rate", sense: "at-most", limit: 0.05, worst_pass: 0.5 }),
      ],
    };
    const rows = rowsOf({ passes: 35, tags: 40, otherTags: true }).map((row) => ({
      ...row,
      role: "notPresented" as const,
      read: false,
    }));
    expect(judged(site, rows).findings[0]).toMatchObject({
      state: "untested",
      toSettle: { furtherPasses: 1 },
    });
  });
});

describe("misses of neighbouring passes", () => {
  const site = { ...exactly, criteria: [criterion({ limit: 0.9 })] };
  const together = { 30: 2, 31: 3, 32: 1, 33: 2, 34: 2, 35: 1 };
  const apart = { 2: 2, 9: 3, 15: 1, 22: 2, 29: 2, 36: 1 };

  it("are remarked on where they came in a run", () => {
    const { remarks } = judged(site, rowsOf({ passes: 40, tags: 40, missed: together })).findings[0]!;
    expect(remarks).toEqual([{ code: "misses-in-a-run", passes: 6, p: expect.any(Number) }]);
    expect((remarks[0] as { p: number }).p).toBeLessThan(0.001);
  });

  it("are not where they came apart, where there are too few, and where passes have no time", () => {
    const remarksOf = (missed: Record<number, number>, isTimed = true) =>
      judged(site, rowsOf({ passes: 40, tags: 40, missed }), isTimed).findings[0]!.remarks;
    expect(remarksOf(apart)).toEqual([]);
    expect(remarksOf({ 30: 2, 31: 2 })).toEqual([]);
    expect(remarksOf(together, false)).toEqual([]);
  });
});

describe("what another rule would show", () => {
  const walk = rowsOf({ passes: 20, tags: 40, otherTags: true });

  it("stands beside each finding, and is counted: 20 passes of 40 without a miss show 99 % by Wilson alone", () => {
    const result = judged({}, walk);
    expect(result.findings[0]).toMatchObject({
      state: "met",
      stricter: { interval: "beta-binomial", state: "undecided" },
    });
    expect(result.otherwise).toEqual({
      interval: { id: "beta-binomial", findings: 1 },
      correlations: [
        { missCorrelation: 0, findings: 0 },
        { missCorrelation: 0.1, findings: 1 },
        { missCorrelation: 0.5, findings: 1 },
      ],
    });
  });

  it("is not asked of what is judged by the stricter rule, nor of what is no rate", () => {
    const strict = judged({ interval: "beta-binomial" }, walk);
    expect(strict.findings[0]!.stricter).toBeNull();
    expect(strict.otherwise.interval).toBeNull();
    const level = judged(
      { criteria: [criterion({ measure: "rssi-quantile", quantile: 0.5, limit: -60 })] },
      walk.map((row) => ({ ...row, rssiDbm: -50 })),
    );
    expect(level.findings[0]).toMatchObject({ state: "met", stricter: null, tags: 800 });
    expect(level.otherwise.interval).toEqual({ id: "beta-binomial", findings: 0 });
  });
});
