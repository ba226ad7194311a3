import { describe, expect, test } from "vitest";
import { places, read, readSound, soundLog, soundYaml } from "./folder.ts";
import { criteria, onlyError } from "./yaml-fault.ts";

const logs = { "passes/a.csv": soundLog };

describe("facility.yaml", () => {
  test("YAML that cannot be parsed is placed", async () => {
    const problem = await onlyError("name: Hall\nrounds: [\n");
    expect(problem.code).toBe("yaml-syntax");
    expect(problem.line).toBeGreaterThan(1);
  });

  test.each([
    [
      "a text with a colon",
      soundYaml.replace("Test hall", "Hall: north"),
      /contains a colon must stand in quotes/,
    ],
    ["a text with a colon in braces", "name: { a: b: c }\n", /contains a colon must stand in quotes/],
    ["a bracket that is not closed", "name: [a, b\nclient: c\n", /closing \] is missing/],
    ["a brace that is not closed", "name: { a: 1\nclient: c\n", /closing } is missing/],
    ["a quote that is not closed", "name: 'Hall\nclient: c\n", /closing quote is missing/],
    ["a tab", "report:\n\tnumber: 1\n", /spaces, not with tabs/],
    ["an uneven indentation", "report:\n  number: 1\n revision: A\n", /not indented like/],
    [
      "a text that starts with a sign of its own",
      "name: @hall\n",
      /starts with @, ` or % must stand in quotes/,
    ],
    ["a key without a colon", "name\nclient: c\n", /colon is missing after the key/],
    ["a text behind a quote", "name: 'Hall' north\n", /text after a closing quote/],
    ["two documents", "name: Hall\n---\nname: Hall\n", /several YAML documents/],
  ])("%s is named in plain words", async (_, yaml, says) => {
    const problem = await onlyError(yaml);
    expect(problem.code).toBe("yaml-syntax");
    expect(problem.advice).toMatch(says);
  });

  test("a key written twice is placed at the second", async () => {
    const problem = await onlyError(`name: Hall\n${soundYaml}`);
    expect(places([problem])).toEqual(["error facility.yaml:2:1 yaml-duplicate-key"]);
  });

  test("aliases that multiply are refused instead of expanded", async () => {
    const rows = Array.from({ length: 9 }, (_, i) => `b${i + 1}: &b${i + 1} [${`*b${i},`.repeat(9)}]`);
    const problem = await onlyError(`b0: &b0 [x]\n${rows.join("\n")}\n`);
    expect(problem.code).toBe("yaml-structure");
    expect(problem.advice).toMatch(/without aliases/);
  });

  test("an alias to itself is refused", async () => {
    expect((await onlyError("name: &a [*a]\n")).code).toBe("yaml-structure");
  });

  test("an empty file says where to start", async () => {
    const problem = await onlyError("# nothing yet\n");
    expect(problem.code).toBe("facility-blank");
    expect(problem.advice).toMatch(/proofwalk new/);
  });

  test("a decimal comma in braces is seen for what it is", async () => {
    const yaml = `${criteria("measure: tag-read-rate, at_least: 0,99")}${soundYaml}`;
    const { problems } = await read({ "facility.yaml": yaml, ...logs });
    const unknown = problems.find((problem) => problem.code === "key-unknown");
    expect(unknown?.found).toContain('"99"');
    expect(unknown?.advice).toMatch(/decimals with a point/);
  });

  test("a file in UTF-16 is asked for as UTF-8", async () => {
    const { problems } = await read({ "facility.yaml": Buffer.from(`\ufeff${soundYaml}`, "utf16le") });
    expect(places(problems)).toEqual(["error facility.yaml:-:- encoding-not-utf-8"]);
  });

  test("everything that is wrong is listed at once, in order", async () => {
    const yaml = soundYaml
      .replace("date: 2026-05-18", "date: 18.5.2026")
      .replace("id: dock-2", "id: dock-1")
      .replace("[0, 1, 2, 3]", "[3, 2]");
    const { problems } = await read({
      "facility.yaml": yaml,
      "passes/a.csv": soundLog.replaceAll("P1,dock-1", "P1,dock-3"),
    });
    expect(places(problems)).toEqual([
      "error facility.yaml:5:27 date-invalid",
      "error facility.yaml:9:11 id-duplicate",
      "error facility.yaml:11:62 bands-not-rising",
      "error passes/a.csv:2:12 read-point-unknown",
      "error passes/a.csv:3:12 read-point-unknown",
    ]);
  });

  test("a sheet is for all read points unless some are named, which stand in the order of the file", async () => {
    const signOff = async (line: string) =>
      (
        await readSound({
          "facility.yaml": `${line}\n${soundYaml.replace("dock-2, name: Dock 2 }", "dock-2 }\n  - { id: dock-3 }")}`,
          ...logs,
        })
      ).facility.signOff;
    expect(await signOff("")).toBeNull();
    expect(await signOff("sign_off: [dock-3, dock-1]")).toEqual(["dock-1", "dock-3"]);
    expect(await signOff("sign_off: [dock-3, dock-1, dock-2]")).toBeNull();
  });

  test("the next re-test has a day and, where it is stated, a reason", async () => {
    const retest = async (line: string) =>
      (await readSound({ "facility.yaml": `${line}\n${soundYaml}`, ...logs })).facility.retest;
    expect(await retest("")).toBeNull();
    expect(await retest("retest: { on: 2027-05-21 }")).toEqual({ on: "2027-05-21", why: null });
    expect(await retest("retest: { on: 2027-05-21, why: yearly }")).toEqual({
      on: "2027-05-21",
      why: "yearly",
    });
  });

  test("what the YAML says arrives, with the defaults filled in", async () => {
    const { facility } = await readSound({
      "facility.yaml": `${soundYaml.replace("name: Dock 1", "name: 12.50, equipment: { serial: 0012345, firmware: 1.10, dense: true, gone: }")}criteria:
  - { id: 7, measure: stray-pass-rate, at_most: 0.02, where: { orientation: [flat, 1.0], speed_m_s: { to: 2 } } }
`,
      ...logs,
    });
    expect(facility.id).toBe("hall");
    expect(facility.readPoints[0]).toEqual({
      id: "dock-1",
      name: "12.50",
      kind: null,
      at: null,
      equipment: { serial: "0012345", firmware: "1.10", dense: "true" },
      signOffRound: "as-left",
    });
    expect(facility).toMatchObject({
      confidence: 0.95,
      interval: "wilson",
      missCorrelation: 0.02,
      smallestChangeThatMatters: 0.005,
      concessions: [],
    });
    expect(facility.criteria[0]).toEqual({
      id: "7",
      title: "7",
      measure: "stray-pass-rate",
      limit: 0.02,
      sense: "at-most",
      readPoints: ["dock-1", "dock-2"],
      where: [
        { column: "orientation", kind: "values", values: ["flat", "1.0"] },
        { column: "speed_m_s", kind: "range", from: null, to: 2 },
      ],
      forEach: [],
      minimumPasses: 1,
      quantile: null,
      observed: null,
      expected: null,
      share: null,
      worst_pass: null,
    });
  });

  test("a key of another measure without a value counts as left out", async () => {
    const yaml = `${criteria("measure: tag-read-rate, at_least: 0.9, quantile: , expected: ")}${soundYaml}`;
    const { facility } = await readSound({ "facility.yaml": yaml, ...logs });
    expect(facility.criteria[0]).toMatchObject({ id: "c1", quantile: null, expected: null });
  });

  test("a key too many does not hide what else is wrong with a criterion", async () => {
    const yaml = `${criteria("measure: tag-read-rate, at_least: 99, quantile: 0.05, read_points: [dock-9]")}${soundYaml}`;
    const { problems } = await read({ "facility.yaml": yaml, ...logs });
    expect(problems.map(({ code }) => code)).toEqual([
      "limit-out-of-range",
      "key-unused",
      "reference-unknown",
    ]);
  });

  test("a missing report and rounds out of order are remarked on, no more", async () => {
    const yaml = soundYaml.replace(/report:.*\n/, "").replace("2026-05-18", "2026-05-23");
    const { input, problems } = await read({ "facility.yaml": yaml, ...logs });
    expect(input).not.toBeNull();
    expect(places(problems)).toEqual([
      "warning facility.yaml:5:26 rounds-out-of-order",
      "warning facility.yaml:-:- report-missing",
    ]);
  });
});

describe("what YAML cannot read is told in words of a person, once for a line", () => {
  test.each([
    ["name: Test hall", "name: Hall: north", 1, 'Write `name: "Hall: north"`: '],
    ["name: Test hall", "name:Test hall", 1, "Write `name: Test hall`: "],
    ["name: Test hall", "name = Test hall", 1, "Write `name: Test hall`: "],
    ["name: Test hall", "name Test hall", 1, "A colon is missing after the key."],
    ["name: Test hall", 'name: "Test hall', 1, "A closing quote is missing."],
    ["name: Test hall", "name: @home", 1, "must stand in quotes."],
    ["  - { id: dock-1, name: Dock 1 }", "  -id: dock-1", 9, "Write `- id: dock-1`: "],
    ["  - { id: dock-1, name: Dock 1 }", "  - id: dock-1\n\tname: Dock 1", 9, "spaces, not with tabs."],
    ["  - { id: dock-1, name: Dock 1 }", "  - id: dock-1\n   name: Dock 1", 9, "not indented like the lines"],
    [
      "  - { id: dock-1, name: Dock 1 }",
      "  - id: dock-1\n      name: Dock 1",
      8,
      "The line below is indented",
    ],
    ["date: 2026-05-18 }", "date: 2026-05-18", 6, "A closing } is missing"],
  ])("%s as %j", async (from, to, line, advice) => {
    const { problems } = await read({
      "facility.yaml": soundYaml.replace(from, () => to),
      "passes/a.csv": soundLog,
    });
    const faults = problems.filter(({ code }) => code === "yaml-syntax");
    expect(faults, JSON.stringify(problems, null, 1)).toHaveLength(1);
    expect(faults[0]).toMatchObject({ line, advice: expect.stringContaining(advice) });
  });
});
