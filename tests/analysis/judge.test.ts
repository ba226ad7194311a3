import { describe, expect, it } from "vitest";
import { judgeFacility } from "../../src/analysis/judge.ts";
import { onMissOf } from "../../src/model/estimate.ts";
import type { Facility } from "../../src/model/facility.ts";
import type { Finding } from "../../src/model/result/finding.ts";
import { criterion, facility, type WalkedRow, walked } from "./walked.ts";

function judged(said: Partial<Facility>, rows: WalkedRow[]) {
  return judgeFacility(
    {
      facility: facility(said),
      log: walked(rows),
      inputs: [],
      journeys: [],
      earlier: [],
      plannedLoad: null,
      problems: [],
    },
    "0.0.0",
  );
}

function onlyFinding(said: Partial<Facility>, rows: WalkedRow[]): Finding {
  const { findings } = judged(said, rows);
  expect(findings).toHaveLength(1);
  return findings[0]!;
}

/** One tag a pass: nothing is clustered, so n is its own effective sample. */
function single(count: number, missed: number): WalkedRow[] {
  return Array.from({ length: count }, (_, i) => ({ pass: `P${i}`, tag: `T${i}`, read: i >= missed }));
}

describe("a finding on the read rate", () => {
  it("16 of 17 is undecided at 99 %: a single miss happens to a good read point", () => {
    const finding = onlyFinding({}, single(17, 1));
    expect(finding.estimate.upper).toBeLessThan(0.99);
    expect(finding.state).toBe("undecided");
    expect(finding.toSettle).toMatchObject({ unit: "presentations", furtherWithoutMiss: 546, retune: false });
    expect(finding.toSettle).toHaveProperty("chance", expect.closeTo(1 - 0.99 ** 17, 12));
  });

  it("239 of 240 is undecided at 99 %, and 323 more without a miss would settle it", () => {
    const finding = onlyFinding({}, single(240, 1));
    expect(finding.toSettle).toEqual({
      unit: "presentations",
      furtherWithoutMiss: 323,
      chance: null,
      retune: false,
    });
    expect(onlyFinding({}, single(240 + 323, 1)).state).toBe("met");
    expect(onlyFinding({}, single(240 + 322, 1)).state).toBe("undecided");
  });

  it("a rate on the limit itself is no reason to look for a cause: it comes up in 63 of 100 walks", () => {
    expect(onlyFinding({}, single(100, 1)).toSettle).toMatchObject({
      furtherWithoutMiss: 463,
      retune: false,
    });
  });

  it("171 of 200 is not met at 99 %, and nothing would settle what is decided", () => {
    const finding = onlyFinding({}, single(200, 29));
    expect(finding.state).toBe("not-met");
    expect(finding.toSettle).toBeNull();
  });

  it("too few passes are untested whatever the rate, and the estimate is still there", () => {
    const finding = onlyFinding({ criteria: [criterion({ minimumPasses: 20, limit: 0.5 })] }, single(15, 0));
    expect(finding.state).toBe("untested");
    expect(finding.estimate.value).toBe(1);
    expect(finding.toSettle).toEqual({ furtherPasses: 5 });
  });

  it("no pass at all is untested with no figure, and asks for one pass", () => {
    const finding = onlyFinding({}, []);
    expect(finding).toMatchObject({ state: "untested", passes: 0, toSettle: { furtherPasses: 1 } });
    expect(finding.estimate).toMatchObject({ value: null, k: 0, n: 0, lower: null, upper: null });
  });

  it("void passes are left out, counted, and shown beside", () => {
    const rows = [...single(10, 0), { pass: "V", tag: "T0", read: false, void: "door shut" }];
    const finding = onlyFinding({}, rows);
    expect(finding.estimate).toMatchObject({ k: 10, n: 10 });
    expect(finding).toMatchObject({ passes: 10, voidPasses: 1, withVoids: { k: 10, n: 11 } });
  });

  it("all on one tag is said, and so is a mixture of forms, in which the tags drop out", () => {
    const oneTag = Array.from({ length: 5 }, (_, i) => ({ pass: `P${i}`, tag: "T", read: true }));
    expect(onlyFinding({}, oneTag).remarks).toEqual([{ code: "one-cluster", dimension: "tag" }]);
    const mixed = [...single(5, 0), { pass: "X", tally: { presented: 10, read: 9 } }];
    expect(onlyFinding({}, mixed).remarks).toEqual([{ code: "forms-mixed" }]);
  });

  it("tags of one pass are worth less than as many passes: 20 passes of 40 tags without a miss", () => {
    const rows = Array.from({ length: 800 }, (_, i) => ({ pass: `P${i % 20}`, tag: `T${i}`, read: true }));
    const { estimate } = onlyFinding({}, rows);
    expect(estimate.effectiveN).toBeCloseTo(800 / (1 + 39 * 0.02), 9);
    expect(estimate.designEffect).toBeCloseTo(1.78, 9);
  });

  it("other correlations stand beside: none gives every presentation, 0.1 far fewer, 0.5 hardly more than the passes", () => {
    const rows = Array.from({ length: 800 }, (_, i) => ({ pass: `P${i % 20}`, tag: `T${i}`, read: true }));
    const { sensitivity } = onlyFinding({}, rows);
    expect(sensitivity.map((one) => one.missCorrelation)).toEqual([0, 0.1, 0.5]);
    expect(sensitivity[0]!.effectiveN).toBe(800);
    expect(sensitivity[1]!.effectiveN).toBeCloseTo(800 / 4.9, 9);
    expect(sensitivity[2]!.effectiveN).toBeCloseTo(800 / 20.5, 9);
  });
});

describe("a criterion that must hold for each value", () => {
  const conditions = [
    { column: "speed_m_s", label: "Speed", unit: "m/s", bands: [0, 1, 2] },
    { column: "orientation", label: "Tag orientation", unit: null, bands: null },
  ];

  it("finds every combination, an unwalked one untested, bands rising and texts by code point", () => {
    const rows = [
      { pass: "A", tag: "1", columns: { speed_m_s: "0", orientation: "flat" } },
      { pass: "B", tag: "1", columns: { speed_m_s: "1.5", orientation: "edge-on" } },
      { pass: "C", tag: "2", columns: { speed_m_s: "1", orientation: "edge-on" } },
    ];
    const criteria = [criterion({ forEach: ["speed_m_s", "orientation"] })];
    const { findings } = judged({ conditions, criteria }, rows);
    expect(findings.map((finding) => [Object.values(finding.group!).join(), finding.estimate.n])).toEqual([
      ["0 to 1,edge-on", 1],
      ["0 to 1,flat", 1],
      ["1 to 2,edge-on", 1],
      ["1 to 2,flat", 0],
    ]);
    expect(findings[3]!.state).toBe("untested");
  });

  it("takes the values that where lists, in that order, and drops bands that a range leaves nothing of", () => {
    const rows = [{ pass: "A", tag: "1", columns: { speed_m_s: "1", orientation: "flat" } }];
    const listed = criterion({
      forEach: ["orientation"],
      where: [{ column: "orientation", kind: "values", values: ["upright", "flat"] }],
    });
    const ranged = criterion({
      id: "slow",
      forEach: ["speed_m_s"],
      where: [{ column: "speed_m_s", kind: "range", from: null, to: 1 }],
    });
    const { findings } = judged({ conditions, criteria: [listed, ranged] }, rows);
    expect(findings.map((finding) => finding.group)).toEqual([
      { orientation: "upright" },
      { orientation: "flat" },
      { speed_m_s: "0 to 1" },
    ]);
  });

  it("a range is inclusive at both ends", () => {
    const speeds = ["0.5", "1", "1.5", "2"];
    const rows = speeds.map((speed, i) => ({ pass: `P${i}`, tag: `${i}`, columns: { speed_m_s: speed } }));
    const where = [{ column: "speed_m_s", kind: "range" as const, from: 1, to: 1.5 }];
    expect(onlyFinding({ conditions, criteria: [criterion({ where })] }, rows).estimate.n).toBe(2);
  });
});

describe("the other measures", () => {
  it("a complete pass reads every tag it presented; one that presented nothing is not among them", () => {
    const rows: WalkedRow[] = [
      { pass: "A", tag: "1" },
      { pass: "A", tag: "2" },
      { pass: "B", tag: "1" },
      { pass: "B", tag: "2", read: false },
      { pass: "C", role: "nothing", read: false },
      { pass: "D", tally: { presented: 5, read: 5 } },
    ];
    const finding = onlyFinding({ criteria: [criterion({ measure: "complete-pass-rate" })] }, rows);
    expect(finding.estimate).toMatchObject({ k: 2, n: 3, effectiveN: 3, designEffect: 1 });
  });

  it("a stray counts its pass once; passes that recorded no strays stay out, with a remark", () => {
    const rows: WalkedRow[] = [
      { pass: "A", tag: "1" },
      { pass: "A", tag: "9", role: "stray" },
      { pass: "A", tag: "8", role: "notPresented" },
      { pass: "B", role: "nothing", read: false },
      { pass: "C", tag: "1", straysRecorded: false },
      { pass: "D", tally: { presented: 5, read: 5 }, tallyStrays: 2 },
      { pass: "E", tag: "7", role: "notPresented", read: false },
    ];
    const strays = criterion({ measure: "stray-pass-rate", sense: "at-most", limit: 0.1 });
    const finding = onlyFinding({ criteria: [strays] }, rows);
    expect(finding.estimate).toMatchObject({ k: 2, n: 4 });
    expect(finding.remarks).toEqual([{ code: "strays-not-recorded", passes: 1 }]);
  });

  it("a stray of unknown orientation counts with its pass, and makes no pass match on its own", () => {
    const rows: WalkedRow[] = [
      { pass: "A", tag: "1", columns: { orientation: "flat" } },
      { pass: "A", tag: "9", role: "stray" },
      { pass: "B", tag: "1", columns: { orientation: "upright" } },
      { pass: "B", tag: "9", role: "stray" },
    ];
    const strays = criterion({
      measure: "stray-pass-rate",
      sense: "at-most",
      limit: 0.1,
      where: [{ column: "orientation", kind: "values", values: ["flat"] }],
    });
    const conditions = [{ column: "orientation", label: "Orientation", unit: null, bands: null }];
    expect(onlyFinding({ criteria: [strays], conditions }, rows).estimate).toMatchObject({ k: 1, n: 1 });
  });

  it("a pass of nothing but bystanders or strays has a direction all the same", () => {
    const rows: WalkedRow[] = [
      { pass: "A", tag: "B", role: "notPresented", read: false, columns: { way: "in", heading: "in" } },
      { pass: "B", role: "nothing", read: false, columns: { way: "in", heading: "out" } },
    ];
    const agreement = criterion({ measure: "agreement-rate", expected: "way", observed: "heading" });
    expect(onlyFinding({ criteria: [agreement] }, rows).estimate).toMatchObject({ k: 1, n: 2 });
  });

  it("signal strength is compared as it was written: -60.1234 does not reach -60.123", () => {
    const rows = Array.from({ length: 20 }, (_, i) => ({ pass: `P${i}`, tag: `${i}`, rssiDbm: -60.1234 }));
    const level = criterion({ measure: "rssi-quantile", quantile: 0.5, limit: -60.123 });
    expect(onlyFinding({ criteria: [level] }, rows).state).toBe("not-met");
  });

  it("bystanders heard of bystanders placed", () => {
    const rows: WalkedRow[] = [0, 1, 2, 3].map((i) => ({
      pass: `P${i}`,
      tag: `B${i}`,
      role: "notPresented",
      read: i === 0,
    }));
    const bystanders = criterion({ measure: "bystander-read-rate", sense: "at-most", limit: 0.01 });
    expect(onlyFinding({ criteria: [bystanders] }, rows).estimate).toMatchObject({ k: 1, n: 4 });
  });

  it("observed agrees with expected pass by pass; a blank observation does not, a blank expectation is no test", () => {
    const pass = (id: string, seen: Record<string, string>): WalkedRow => ({
      pass: id,
      tag: "1",
      columns: seen,
    });
    const rows = [
      pass("A", { way: "in", heading: "in" }),
      pass("B", { way: "in", heading: "out" }),
      pass("C", { way: "in" }),
      pass("D", { heading: "in" }),
    ];
    const agreement = criterion({ measure: "agreement-rate", expected: "way", observed: "heading" });
    expect(onlyFinding({ criteria: [agreement] }, rows).estimate).toMatchObject({ k: 1, n: 3 });
  });

  it("a missed presentation ranks below every read one, and a bound that falls on it is below every limit", () => {
    const rows = Array.from({ length: 200 }, (_, i): WalkedRow => {
      const base = { pass: `P${i}`, tag: `${i}` };
      return i < 30 ? { ...base, read: false, rssiRecorded: true } : { ...base, rssiDbm: -60 };
    });
    const level = criterion({ measure: "rssi-quantile", quantile: 0.05, limit: -70 });
    const finding = onlyFinding({ criteria: [level] }, rows);
    expect(finding.estimate).toMatchObject({ k: 170, n: 200, value: null, lower: null, upper: null });
    expect(onMissOf(finding.estimate)).toEqual({ value: true, lower: true, upper: true });
    expect(finding.state).toBe("not-met");
  });

  it("ranks the reads above the misses: with 2 of 200 missed the lower bound is the second weakest read", () => {
    // R 4.2.2: qbinom(0.025, 200, 0.05) = 4, so the ranks are 4 and 17 (P(X <= 3) = 0.0090, P(X <= 4) = 0.0264).
    const rows = Array.from({ length: 200 }, (_, i): WalkedRow => {
      const base = { pass: `P${i}`, tag: `${i}` };
      return i < 2 ? { ...base, read: false, rssiRecorded: true } : { ...base, rssiDbm: -80 + i * 0.1 };
    });
    const level = criterion({ measure: "rssi-quantile", quantile: 0.05, limit: -90 });
    const { estimate } = onlyFinding({ criteria: [level] }, rows);
    expect(estimate.lower).toBeCloseTo(-80 + 0.3, 9);
    expect(estimate.upper).toBeCloseTo(-80 + 1.6, 9);
  });

  it("a bound that does not exist satisfies nothing: 71 strong reads cannot bound a 5 % quantile, 72 can", () => {
    const level = criterion({ measure: "rssi-quantile", quantile: 0.05, limit: -70 });
    const reads = (count: number) =>
      Array.from({ length: count }, (_, i) => ({ pass: `P${i}`, tag: `${i}`, rssiDbm: -60 }));
    expect(onlyFinding({ criteria: [level] }, reads(71))).toMatchObject({
      state: "undecided",
      estimate: { value: -60, lower: null, onMiss: { lower: false } },
      toSettle: { unit: "presentations", furtherWithoutMiss: 1, retune: false },
    });
    expect(onlyFinding({ criteria: [level] }, reads(72)).state).toBe("met");
  });

  it("a signal that is met only if presentations are independent has a remark, with the share at the limit or stronger", () => {
    const level = criterion({ measure: "rssi-quantile", quantile: 0.2, limit: -65 });
    // 30 passes of the same ten tags, one of which is always weak; and of ten others in each.
    const walk = (isSameTags: boolean) =>
      Array.from({ length: 300 }, (_, i) => ({
        pass: `P${Math.floor(i / 10)}`,
        tag: isSameTags ? `${i % 10}` : `${i}`,
        rssiDbm: i % 10 === 0 ? -70 : -60,
      }));
    const alike = onlyFinding({ criteria: [level] }, walk(true));
    expect(alike).toMatchObject({ state: "met", estimate: { lower: -60, n: 300 } });
    expect(alike.remarks).toContainEqual({
      code: "signal-alike",
      k: 270,
      n: 300,
      share: 0.8,
      limitDbm: -65,
      sense: "at-least",
    });
    const others = onlyFinding({ criteria: [level] }, walk(false));
    expect([others.state, others.remarks]).toEqual(["met", []]);
  });

  it("passes without an RSSI column are left out whole, with a remark", () => {
    const level = criterion({ measure: "rssi-quantile", quantile: 0.5, limit: -70 });
    const rows = [
      { pass: "A", tag: "1", rssiDbm: -60 },
      { pass: "B", tag: "1", read: false },
    ];
    const finding = onlyFinding({ criteria: [level] }, rows);
    expect(finding.estimate.n).toBe(1);
    expect(finding.remarks).toEqual([{ code: "rssi-not-recorded", passes: 1 }]);
  });
});

describe("at most", () => {
  const strays = criterion({ measure: "stray-pass-rate", sense: "at-most", limit: 0.05 });
  const passes = (count: number, heard: number): WalkedRow[] =>
    Array.from({ length: count }, (_, i) => ({
      pass: `P${i}`,
      tag: "9",
      role: "notPresented",
      read: i < heard,
    }));

  it("is the mirror of at least: none in 73 is met at 5 %, none in 72 undecided", () => {
    // Wilson upper bound of 0 of n is z² / (n + z²): 3.8415 / 76.84 = 0.04999 (computed).
    expect(onlyFinding({ criteria: [strays] }, passes(73, 0)).state).toBe("met");
    expect(onlyFinding({ criteria: [strays] }, passes(72, 0))).toMatchObject({
      state: "undecided",
      toSettle: { unit: "passes", furtherWithoutMiss: 1, retune: false },
    });
  });

  it("one in 17 at 1 % is undecided, six in 17 not met", () => {
    const rare = { ...strays, limit: 0.01 };
    expect(onlyFinding({ criteria: [rare] }, passes(17, 1)).state).toBe("undecided");
    expect(onlyFinding({ criteria: [rare] }, passes(17, 6)).state).toBe("not-met");
  });
});

describe("a read point and a facility", () => {
  const readPoint = (id: string, signOffRound = "as-left") => ({
    id,
    name: id,
    kind: null,
    at: null,
    equipment: {},
    signOffRound,
  });

  it("are as bad as their worst: not met, then untested, then undecided, then met", () => {
    const readPoints = [readPoint("good"), readPoint("bad")];
    const rows = [
      ...single(500, 0).map((row) => ({ ...row, readPoint: "good" })),
      ...single(200, 29).map((row) => ({ ...row, readPoint: "bad" })),
    ];
    const result = judged({ readPoints, criteria: [criterion({ readPoints: ["good", "bad"] })] }, rows);
    expect(result.readPoints.map((one) => one.state)).toEqual(["met", "not-met"]);
    expect(result.state).toBe("not-met");
  });

  it("covered only for each value of a condition that nobody walked yet are untested, with a remark of that", () => {
    const conditions = [{ column: "way", label: "Way", unit: null, bands: null }];
    const result = judged({ conditions, criteria: [criterion({ forEach: ["way"] })] }, []);
    expect(result.readPoints[0]).toMatchObject({ state: "untested", remarks: [{ code: "no-value-walked" }] });
  });

  it("without a criterion are untested, with a remark", () => {
    const result = judged({ criteria: [] }, single(500, 0));
    expect(result.state).toBe("untested");
    expect(result.readPoints[0]).toMatchObject({ state: "untested", remarks: [{ code: "no-criterion" }] });
  });

  it("are judged on their own round only, and a round of their own shows", () => {
    const rounds = ["as-found", "as-left"].map((id) => ({
      id,
      title: id,
      date: null,
      changes: null,
      settings: {},
    }));
    const rows = single(500, 0).map((row) => ({ ...row, round: "as-found" }));
    expect(judged({ rounds }, rows).state).toBe("untested");
    const own = judged({ rounds, readPoints: [readPoint("dock-1", "as-found")] }, rows);
    expect(own.state).toBe("met");
    expect(own.readPoints[0]!.remarks).toEqual([{ code: "own-round", round: "as-found" }]);
    expect(own.readPoints[0]!.rounds.map((round) => round.passes)).toEqual([500, 0]);
  });

  it("a concession stands beside its finding, expired or not, and never changes it", () => {
    const concession = {
      criterion: "read-rate",
      readPoint: "dock-1",
      grantedBy: "A. Person",
      on: null,
      until: "2026-05-31",
      reason: null,
    };
    const report = (issued: string) => ({ number: "1", revision: "A", issued });
    const at = (issued: string) =>
      onlyFinding({ concessions: [concession], report: report(issued) }, single(200, 29));
    expect(at("2026-05-31")).toMatchObject({ state: "not-met", concession: { expired: false } });
    expect(at("2026-06-01")).toMatchObject({ state: "not-met", concession: { expired: true } });
  });
});
