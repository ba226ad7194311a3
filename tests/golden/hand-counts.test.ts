import type { Estimate } from "../../src/model/estimate.ts";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { judgeFacility } from "../../src/analysis/judge.ts";
import type { Result } from "../../src/model/result/result.ts";
import { openFacility } from "../../src/intake/facility/facility.ts";
import { readFacility } from "../../src/intake/read-facility-folder.ts";

/* The counts of README.md, which were made by hand. */

async function judged(path: string): Promise<Result> {
  const { input } = await readFacility(await openFacility(fileURLToPath(new URL(path, import.meta.url))));
  return judgeFacility(input!, "0.0.0");
}

const round = (result: Result, readPoint: string, id: string) =>
  result.readPoints.find((one) => one.id === readPoint)!.rounds.find((one) => one.id === id)!;
const kOfN = ({ k, n }: Estimate) => `${k} of ${n}`;
const findings = (result: Result, criterion: string) =>
  Object.fromEntries(
    result.findings
      .filter((finding) => finding.criterion === criterion)
      .map(({ group, estimate }) => [Object.values(group ?? { all: "all" }).join(" "), kOfN(estimate)]),
  );
const used = (result: Result) =>
  Object.fromEntries(
    result.inputs
      .filter(({ rows }) => rows !== null)
      .map((one) => [one.path, [one.rows, one.used, one.void]]),
  );

describe("hand-counted folders", () => {
  it("agree in the itemised form", async () => {
    const shed = await judged("itemised/data/shed");
    const before = round(shed, "door", "before");
    expect([before.passes, kOfN(before.tagReadRate)]).toEqual([2, "2 of 4"]);
    const after = round(shed, "door", "after");
    expect([after.passes, after.voidPasses]).toEqual([4, 1]);
    expect(kOfN(after.tagReadRate)).toBe("9 of 12");
    expect(kOfN(after.withVoids.tagReadRate)).toBe("9 of 14");
    expect(kOfN(after.strayPassRate)).toBe("1 of 4");
    expect(kOfN(after.bystanderReadRate)).toBe("1 of 2");
    expect(after.missedTags).toEqual([
      { tag: "A4", uri: null, presented: 3, missed: 2, passes: ["1", "3"] },
      { tag: "A3", uri: null, presented: 3, missed: 1, passes: ["3"] },
    ]);
    expect(findings(shed, "orientation")).toEqual({ facing: "6 of 6", "edge-on": "3 of 6" });
    expect(findings(shed, "slow")).toEqual({ all: "1 of 2" });
    expect(shed.findings.find(({ criterion }) => criterion === "signal")!.estimate).toMatchObject({
      value: -56,
      lower: null,
      upper: -52,
    });
    const speeds = after.byCondition.find(({ column }) => column === "speed_m_s")!;
    expect(speeds.groups.map(({ value, tagReadRate }) => [value, kOfN(tagReadRate)])).toEqual([
      ["0 to 1", "7 of 8"],
      ["1 to 2", "2 of 4"],
    ]);
    expect(used(shed)).toEqual({ "passes/walks.csv": [21, 19, 2] });
  });

  it("agree in the listed form", async () => {
    const barn = await judged("listed/data/barn");
    const only = round(barn, "gate", "only");
    expect([only.passes, only.voidPasses]).toEqual([6, 1]);
    expect(kOfN(only.tagReadRate)).toBe("17 of 21");
    expect(kOfN(only.withVoids.tagReadRate)).toBe("17 of 26");
    expect(kOfN(only.completePassRate)).toBe("3 of 6");
    expect(kOfN(only.strayPassRate)).toBe("2 of 5");
    expect(findings(barn, "cells")).toEqual({
      "full bottom": "8 of 9",
      "full top": "4 of 6",
      "half bottom": "5 of 6",
      "half top": "0 of 0",
    });
    expect(findings(barn, "way")).toEqual({ all: "3 of 5" });
    expect(only.missedTags.map(({ tag, missed }) => [tag, missed])).toEqual([
      ["0001", 2],
      ["0007", 1],
      ["30E1", 1],
    ]);
    expect(only.passList[0]!.startedAt).toMatch(/^2026-03-29T07:00:00(\.000)?Z$/);
    expect(barn.state).toBe("untested");
  });

  it("agree in a tally, and where a tally and an itemised log mix", async () => {
    const kiosk = await judged("tally-and-mixture/data/kiosk");
    const desk = round(kiosk, "desk", "only");
    expect(kOfN(desk.tagReadRate)).toBe("40 of 40");
    expect(kOfN(desk.withVoids.tagReadRate)).toBe("43 of 50");
    expect(kOfN(desk.strayPassRate)).toBe("1 of 3");
    const door = kiosk.findings.find(({ readPoint }) => readPoint === "door")!;
    expect(kOfN(door.estimate)).toBe("12 of 16");
    expect(door.remarks).toContainEqual({ code: "forms-mixed" });
    expect(door.estimate.effectiveN!).toBeLessThanOrEqual(16 / 1.06);
    const roof = kiosk.readPoints.find(({ id }) => id === "roof")!;
    expect([roof.state, roof.remarks]).toEqual(["untested", [{ code: "no-criterion" }]]);
    expect(kiosk.problems.map(({ code }) => code).sort()).toEqual([
      "column-undeclared",
      "semicolon-separated",
      "strays-half-recorded",
    ]);
  });
});
