import { describe, expect, it } from "vitest";
import type { Result } from "../../src/model/result/result.ts";
import type { State } from "../../src/model/state.ts";
import { demonstrationSite } from "../browser/demonstration-site.ts";

const { results } = await demonstrationSite();

const judged = (id: string): Result => results.find(({ facility }) => facility.id === id)!;
const fennick = judged("fennick-wash-plant");
const ternhaven = judged("ternhaven-depot");

const statesOf = (result: Result): Record<string, State> =>
  Object.fromEntries(result.readPoints.map(({ id, state }) => [id, state]));
const rate = (result: Result, readPoint: string, round: string): [number, number] => {
  const found = result.readPoints.find(({ id }) => id === readPoint)!.rounds.find(({ id }) => id === round)!;
  return [found.tagReadRate.lower!, found.tagReadRate.upper!];
};

describe("the demonstration", () => {
  it("shows every state at Fennick", () => {
    expect(statesOf(fennick)).toEqual({
      "desk-1": "met",
      "pedestal-1": "undecided",
      "lorry-1": "untested",
      "dock-1": "met",
      "dock-2": "not-met",
      "ceiling-1": "met",
    });
    expect(fennick.state).toBe("not-met");
  });

  it("leaves Ternhaven undecided by one dead tag, one weak signal, and walks too short for the stricter interval", () => {
    expect(statesOf(ternhaven)).toEqual({
      "desk-1": "met",
      "gate-1": "undecided",
      "lorry-12": "met",
      "door-a": "undecided",
      "door-b": "undecided",
      "ceiling-1": "undecided",
      "returns-1": "undecided",
    });
    expect(ternhaven.state).toBe("undecided");
    const doorA = ternhaven.findings.find(({ readPoint }) => readPoint === "door-a")!;
    expect(doorA.estimate).toMatchObject({ k: 929, n: 960 });
    // One tag failing thirty times is one failure among some forty tags, not thirty among 960 presentations.
    expect(doorA.estimate.effectiveN!).toBeLessThan(42);
    expect(doorA.toSettle).toMatchObject({
      furtherWithoutMiss: expect.any(Number),
      chance: expect.any(Number),
    });
  });

  it("judges idle reads where tags were carried past, and says where they stayed too long for the time logged", () => {
    const idle = ternhaven.findings.filter(({ measure }) => measure === "idle-read-rate");
    expect(idle.map(({ readPoint, state }) => [readPoint, state])).toEqual([
      ["gate-1", "met"],
      ["door-b", "met"],
      ["returns-1", "undecided"],
    ]);
    expect(idle.map(({ remarks }) => remarks.map(({ code }) => code))).toEqual([
      [],
      [],
      ["session-too-short"],
    ]);
  });

  it("judges one facility by the usual interval and one by the interval that it proposes for signing off", () => {
    expect([fennick.basis.interval, ternhaven.basis.interval]).toEqual(["wilson", "beta-binomial"]);
    const differ = fennick.findings.filter(
      ({ state, stricter }) => stricter !== null && stricter.state !== state,
    );
    expect(differ.length).toBe(fennick.otherwise.interval!.findings);
    expect(differ.length).toBeGreaterThan(0);
    expect(ternhaven.otherwise.interval).toBeNull();
    expect(ternhaven.findings.filter(({ state }) => state === "met").length).toBeGreaterThan(6);
  });

  it("shows each part of why tags were missed, and what it names where a fault was built in", () => {
    const points = [...fennick.readPoints, ...ternhaven.readPoints];
    const has = (test: (point: (typeof points)[number]) => unknown) =>
      points.filter((point) => point.why !== null && test(point)).map(({ id }) => id);
    expect(has(({ why, diagnosis }) => why!.map && diagnosis!.missShares)).toContain("dock-2");
    expect(has(({ why }) => why!.standingOut?.tags.length)).toContain("door-a");
    expect(has(({ why }) => why!.runOfPasses)).toContain("dock-2");
    expect(has(({ why }) => why!.drivers?.pairs.length)).toContain("dock-2");
    expect(has(({ why }) => why!.drivers?.notToldApart.length)).toContain("pedestal-1");
    expect(has(({ why }) => why!.signal?.byAntenna.length)).toContain("dock-1");
    expect(has(({ why }) => why!.antennas?.some(({ silent }) => silent))).toEqual(["door-a"]);
    expect(has(({ why }) => why!.strays)).toContain("door-b");
    expect(has(({ why }) => why!.idleTags)).toContain("gate-1");
    expect(has(({ why }) => why!.settings?.some(({ agrees }) => !agrees))).toContain("returns-1");
    expect(has(({ why }) => why!.tagTrials)).toEqual(["dock-2"]);
    const said = (id: string) =>
      points
        .find((point) => point.id === id)!
        .diagnosis!.suggestions.map(({ kind, subject }) => [kind, subject]);
    expect(said("dock-2").slice(0, 2)).toEqual([
      ["condition", { orientation: "edge-on", level: "top" }],
      ["stray-source", { source: "neighbour", readPoint: "lorry-1" }],
    ]);
    expect(said("door-a").map(([kind]) => kind)).toEqual(expect.arrayContaining(["tag", "antenna"]));
    expect(said("returns-1")).toContainEqual(["setting", { setting: "transmit_power_dbm" }]);
  });

  it("uses each of the eight measures", () => {
    const measures = new Set([...fennick.findings, ...ternhaven.findings].map(({ measure }) => measure));
    expect([...measures].sort()).toEqual([
      "agreement-rate",
      "bystander-read-rate",
      "complete-pass-rate",
      "idle-read-rate",
      "power-margin",
      "rssi-quantile",
      "stray-pass-rate",
      "tag-read-rate",
    ]);
  });

  it("has a retune that helped at dock door 1 and one that did not at dock door 2", () => {
    expect(rate(fennick, "dock-1", "as-left")[0]).toBeGreaterThan(rate(fennick, "dock-1", "as-found")[1]);
    const [foundLower, foundUpper] = rate(fennick, "dock-2", "as-found");
    const [leftLower, leftUpper] = rate(fennick, "dock-2", "as-left");
    expect(leftLower).toBeLessThan(foundUpper);
    expect(foundLower).toBeLessThan(leftUpper);
  });

  it("has one concession in force and one that expired before the report was issued", () => {
    expect(fennick.concessions.map(({ expired }) => expired)).toEqual([false]);
    expect(ternhaven.concessions.map(({ expired }) => expired)).toEqual([true]);
  });

  it("has open points that are open, overdue and closed on the day the report is issued", () => {
    const kinds = fennick.openPoints.map(({ due, closed }) =>
      closed !== null ? "closed" : due! < fennick.report!.issued ? "overdue" : "open",
    );
    expect(kinds).toEqual(["open", "overdue", "closed", "open"]);
  });

  it("judges the ceiling readers on a round of their own", () => {
    const ceiling = fennick.readPoints.find(({ id }) => id === "ceiling-1")!;
    expect(ceiling.signOffRound).toBe("as-found");
    expect(ceiling.remarks).toContainEqual({ code: "own-round", round: "as-found" });
  });

  it("keeps void passes with their reasons beside the rate that counts them in", () => {
    const round = fennick.readPoints.find(({ id }) => id === "dock-1")!.rounds[1]!;
    expect(round.voidPasses).toBe(2);
    expect(round.passList.flatMap(({ voidReason }) => voidReason ?? []).sort()).toEqual([
      "fork lift blocked the door",
      "reader restarted during the pass",
    ]);
    expect(round.withVoids.tagReadRate.value!).toBeLessThan(round.tagReadRate.value!);
  });

  it("draws remarks for semicolons and for a column that nobody declared", () => {
    expect(fennick.problems.map(({ code }) => code)).toEqual(["picture-tells-more"]);
    const ofLogs = ternhaven.problems.filter(({ file }) => file?.startsWith("passes/"));
    expect(new Set(ofLogs.map(({ file }) => file))).toEqual(
      new Set(["passes/lorry-12-as-found.csv", "passes/lorry-12-as-left.csv"]),
    );
    expect(ofLogs).toHaveLength(4);
    // The rest is about what the readers' own logs leave out, and one setting.
    const ofSettings = ternhaven.problems.filter(({ file }) => !/^(passes|reads)\//.test(file!));
    expect(ofSettings.map(({ code }) => code)).toEqual(["radio-over-limit"]);
  });

  it("has a pedestal that radiated more than it may until its power was lowered", () => {
    const over = [...fennick.readPoints, ...ternhaven.readPoints].flatMap(({ id, radio = [] }) =>
      radio.map((one) => [id, one.round, one.over] as const),
    );
    expect(over.filter(([, , isOver]) => isOver)).toEqual([["gate-1", "as-found", true]]);
    expect(over).toContainEqual(["gate-1", "as-left", false]);
    expect(new Set(over.map(([id]) => id)).size).toBe(7);
  });

  it("is logged in all four forms", () => {
    const forms = new Set(
      [...fennick.readPoints, ...ternhaven.readPoints].flatMap(({ rounds }) =>
        rounds.flatMap(({ passList }) => passList.map(({ form }) => form)),
      ),
    );
    expect([...forms].sort()).toEqual(["itemised", "listed", "tally", "timed"]);
  });
});
