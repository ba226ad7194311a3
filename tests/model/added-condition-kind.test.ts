import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { judgeFacility } from "../../src/analysis/judge.ts";
import { type ConditionKind, type ConditionValues, conditionKinds } from "../../src/model/conditions.ts";
import type { Condition } from "../../src/model/facility.ts";
import type { Result } from "../../src/model/result/result.ts";
import { facilityPages } from "../../src/pages/facility-pages.ts";
import { criterion, facility, type WalkedRow, walked } from "../analysis/walked.ts";

type Ordered = Condition & { ordered: string[] };

/** Names in an order of their own, which neither rises nor follows the alphabet. */
const ordered: ConditionKind = {
  id: "ordered",
  of: (declared) => ("ordered" in declared ? orderedValues((declared as Ordered).ordered) : null),
};

function orderedValues(names: string[]): ConditionValues {
  const takes: ConditionValues["allows"] = (clause, name) =>
    clause.kind === "values" && clause.values.includes(name);
  return {
    names,
    numeric: false,
    nameOf: (text) => (names.includes(text) ? text : null),
    isRange: () => false,
    order: (a, b) => names.indexOf(a) - names.indexOf(b),
    allows: takes,
    reaches: takes,
  };
}

const fill: Ordered = {
  column: "fill",
  label: "Fill",
  unit: null,
  bands: null,
  ordered: ["empty", "half", "full"],
};

const rounds = ["as-found", "as-left"].map((id) => ({
  id,
  title: id,
  date: null,
  changes: null,
  settings: {},
}));

/** Full and empty crates in both rounds, none half full; nothing in a full one is read. */
const rows = ["as-found", "as-left"].flatMap((round) =>
  ["full", "empty"].flatMap((name) =>
    Array.from({ length: 10 }, (_, i): WalkedRow[] =>
      ["T1", "T2"].map((tag) => ({
        round,
        pass: `${name}-${i}`,
        tag,
        read: name === "empty",
        columns: { fill: name },
      })),
    ).flat(),
  ),
);

describe("a kind of condition that is added from outside", () => {
  let result: Result;
  let undo = () => {};

  beforeAll(() => {
    undo = conditionKinds.add(ordered);
    const asked = facility({
      rounds,
      conditions: [fill],
      criteria: [criterion({ forEach: ["fill"] })],
      plan: {
        seed: 1,
        tagsPerPass: 40,
        manifest: null,
        sameTags: false,
        expectedRate: 0.999,
        each: [{ column: "fill", values: ["full", "empty"] }],
        readPoints: ["dock-1"],
      },
    });
    const log = walked(rows);
    result = judgeFacility(
      { facility: asked, log, inputs: [], journeys: [], earlier: [], plannedLoad: null, problems: [] },
      "0.0.0",
    );
  });
  afterAll(() => undo());

  test("has a finding for each of its names in its own order, the unwalked one among them", () => {
    expect(result.findings.map(({ group, state }) => [group!.fill, state])).toEqual([
      ["empty", "undecided"],
      ["half", "untested"],
      ["full", "not-met"],
    ]);
  });

  test("has its rates in that order, in every round", () => {
    const [found] = result.readPoints[0]!.rounds;
    const groups = found!.byCondition[0]!.groups;
    expect(groups.map(({ value, passes, tagReadRate: { k, n } }) => [value, passes, k, n])).toEqual([
      ["empty", 10, 20, 20],
      ["half", 0, 0, 0],
      ["full", 10, 0, 20],
    ]);
    expect(found!.passList[0]!.conditions).toEqual({ fill: ["full"] });
  });

  test("is compared name by name, where both rounds walked it", () => {
    const rows = result.comparisons.filter(({ exploratory }) => exploratory);
    expect(rows.map(({ group, design }) => [group!.fill, design])).toEqual([
      ["empty", "paired"],
      ["full", "paired"],
    ]);
  });

  test("is planned, and counted against the plan", () => {
    const [route] = result.plan!.walks;
    expect(route!.cells.map(({ conditions, done, tagsDone }) => [conditions.fill, done, tagsDone])).toEqual([
      ["full", 10, 20],
      ["empty", 10, 20],
    ]);
    const counted = result.plan!.findings.map(({ group, cells }) => [group!.fill, cells]);
    expect(counted).toEqual([
      ["empty", 1],
      ["half", 0],
      ["full", 1],
    ]);
  });

  test("stands in the tables for download and in the log that is ready to fill", () => {
    const { files } = facilityPages(result);
    const text = (path: string) => files.find((file) => file.path.endsWith(path))!.text;
    const lines = text("dock-1-conditions.csv").trimEnd().split("\r\n");
    expect(lines.map((line) => line.split(",").slice(0, 3).join())).toEqual([
      "condition,value,passes",
      "fill,empty,10",
      "fill,half,0",
      "fill,full,10",
    ]);
    expect(text("walk-sheets/dock-1.csv").split("\r\n")[0]).toContain("fill");
  });
});
