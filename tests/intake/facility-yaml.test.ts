import { describe, expect, test } from "vitest";
import { errors, places, read, readSound, soundLog, soundYaml } from "./folder.ts";

const logs = { "passes/a.csv": soundLog };

/** The one error that a facility.yaml gives. */
async function onlyError(yaml: string) {
  const { input, problems } = await read({ "facility.yaml": yaml, ...logs });
  expect(input).toBeNull();
  const found = errors(problems);
  expect(found, JSON.stringify(found, null, 1)).toHaveLength(1);
  return found[0]!;
}

/** Line and column of a text, counted from 1. */
function placeOf(yaml: string, text: string) {
  const before = yaml.slice(0, yaml.indexOf(text)).split("\n");
  return { line: before.length, column: before.at(-1)!.length + 1 };
}

interface Fault {
  claim: string;
  /** Replaces the first by the second, or adds the second. */
  change: [string, string];
  code: string;
  /** The text the place points at. */
  at: string;
  found?: RegExp;
  says: RegExp;
}

const criteria = (text: string) => `criteria:\n  - { id: c1, ${text} }\n`;
const rate = "measure: tag-read-rate, at_least: 0.99";

const faults: Fault[] = [
  {
    claim: "a misspelt key gets the suggestion",
    change: ["", "confidance: 0.9\n"],
    code: "key-unknown",
    at: "confidance",
    says: /Did you mean "confidence"/,
  },
  {
    claim: "a misspelt key in an entry gets the suggestion",
    change: ["name: Dock 1", "nmae: Dock 1"],
    code: "key-unknown",
    at: "nmae",
    found: /"nmae" under entry 1 of "read_points"/,
    says: /Did you mean "name"/,
  },
  {
    claim: "a missing key points at the entry that lacks it",
    change: ["- { id: as-found, date: 2026-05-18 }", "- { date: 2026-05-18 }"],
    code: "key-missing",
    at: "{ date: 2026-05-18 }",
    found: /no "id"/,
    says: /Short name of the round/,
  },
  {
    claim: "a blank behind a needed key is called blank",
    change: ["name: Test hall", "name:"],
    code: "value-blank",
    at: "name:",
    says: /Fill it in/,
  },
  {
    claim: "a text of blanks is no name",
    change: ["name: Test hall", 'name: "  "'],
    code: "value-blank",
    at: '"  "',
    says: /facility's name/,
  },
  {
    claim: "a number in exponent notation is not taken for an id",
    change: ["number: T-1", "number: 3.08E+23"],
    code: "value-type",
    at: "3.08E+23",
    says: /Put it in quotes: "3\.08E\+23"/,
  },
  {
    claim: "true is not a name",
    change: ["name: Test hall", "name: true"],
    code: "value-type",
    at: "true",
    says: /Put it in quotes/,
  },
  {
    claim: "a day that the calendar lacks is refused",
    change: ["issued: 2026-05-22", "issued: 2026-02-30"],
    code: "date-invalid",
    at: "2026-02-30",
    says: /date of issue/,
  },
  {
    claim: "half a report is no report",
    change: ["revision: A, ", ""],
    code: "key-missing",
    at: "{ number",
    found: /no "revision"/,
    says: /Its revision/,
  },
  {
    claim: "an unknown interval gets the choices",
    change: ["", "interval: wilsen\n"],
    code: "value-not-allowed",
    at: "wilsen",
    says: /Did you mean "wilson"/,
  },
  {
    claim: "a time zone nobody knows gets the suggestion",
    change: ["Europe/Dublin", "Europe/Dubln"],
    code: "time-zone-unknown",
    at: "Europe/Dubln",
    says: /Did you mean "Europe\/Dublin"/,
  },
  {
    claim: "a confidence in percent is told what to write",
    change: ["", "confidence: 95\n"],
    code: "confidence-out-of-range",
    at: "95\n",
    says: /Write 0\.95/,
  },
  {
    claim: "a correlation of 1 is refused",
    change: ["", "miss_correlation: 1\n"],
    code: "miss-correlation-out-of-range",
    at: "1\nname",
    says: /0\.02/,
  },
  {
    claim: "two rounds cannot share an id",
    change: ["read_points:", "  - { id: as-found, date: 2026-05-22 }\nread_points:"],
    code: "id-duplicate",
    at: "as-found, date: 2026-05-22",
    says: /line 5/,
  },
  {
    claim: "two read points cannot share an id",
    change: ["id: dock-2", "id: dock-1"],
    code: "id-duplicate",
    at: "dock-1, name: Dock 2",
    says: /line 8/,
  },
  {
    claim: "two conditions cannot share a column",
    change: ["column: orientation", "column: speed_m_s"],
    code: "id-duplicate",
    at: "speed_m_s, label: Tag",
    says: /line 11/,
  },
  {
    claim: "a round that is judged must exist",
    change: ["", "sign_off_round: as-lft\n"],
    code: "reference-unknown",
    at: "as-lft",
    says: /Did you mean "as-left"/,
  },
  {
    claim: "a read point's own round must exist",
    change: ["name: Dock 1", "name: Dock 1, sign_off_round: later"],
    code: "reference-unknown",
    at: "later",
    says: /add it under rounds/,
  },
  {
    claim: "settings are of a read point that exists",
    change: ["date: 2026-05-21 }", "date: 2026-05-21, settings: { dock1: { power: 30 } } }"],
    code: "reference-unknown",
    at: "dock1:",
    found: /the key "dock1"/,
    says: /Did you mean "dock-1"/,
  },
  {
    claim: "a place off the floor plan is refused",
    change: ["name: Dock 1", "at: { x: 120, y: 5 }"],
    code: "value-out-of-range",
    at: "120",
    says: /From the left edge/,
  },
  {
    claim: "an area that runs off the plan is refused",
    change: [
      "",
      "floor_plan: { width_m: 20, depth_m: 10, areas: [{ name: A, x: 60, y: 0, width: 50, height: 10 }] }\n",
    ],
    code: "area-off-plan",
    at: "50, height",
    says: /right edge/,
  },
  {
    claim: "band edges rise",
    change: ["[0, 1, 2, 3]", "[0, 1, 1, 3]"],
    code: "bands-not-rising",
    at: "1, 3]",
    says: /lowest to the highest/,
  },
  {
    claim: "one edge makes no band",
    change: ["[0, 1, 2, 3]", "[0]"],
    code: "value-out-of-range",
    at: "[0]",
    says: /cut the numbers into bands/,
  },
  {
    claim: "a condition cannot take the name of a column with a meaning of its own",
    change: ["column: orientation", "column: antenna"],
    code: "column-reserved",
    at: "antenna",
    says: /another name/,
  },
  {
    claim: "an id with blanks at its ends could never be matched",
    change: ["id: dock-2", 'id: " dock-2"'],
    code: "name-unusable",
    at: '" dock-2"',
    says: /Remove the blanks/,
  },
  {
    claim: "a criterion without a limit asks nothing",
    change: ["", criteria("measure: tag-read-rate")],
    code: "limit-missing",
    at: "{ id: c1",
    says: /at_least: 0\.99/,
  },
  {
    claim: "a criterion has one limit",
    change: ["", criteria(`${rate}, at_most: 0.999`)],
    code: "limit-double",
    at: "at_most",
    says: /second criterion/,
  },
  {
    claim: "100 % can never be shown",
    change: ["", criteria("measure: tag-read-rate, at_least: 1")],
    code: "limit-out-of-range",
    at: "1 }",
    says: /0\.999 say/,
  },
  {
    claim: "never can never be shown",
    change: ["", criteria("measure: stray-pass-rate, at_most: 0")],
    code: "limit-out-of-range",
    at: "0 }",
    says: /0\.001 say/,
  },
  {
    claim: "a percentage is told its fraction",
    change: ["", criteria("measure: tag-read-rate, at_least: 99.5")],
    code: "limit-out-of-range",
    at: "99.5",
    says: /Write 0\.995\./,
  },
  {
    claim: "a percentage with its sign is told its fraction",
    change: ["", criteria("measure: tag-read-rate, at_least: 99 %")],
    code: "value-type",
    at: "99 %",
    says: /Write it as a fraction, 0\.99\./,
  },
  {
    claim: "a decimal comma is told the point",
    change: ["", "miss_correlation: 0,02\n"],
    code: "value-type",
    at: "0,02",
    says: /Write a decimal point: 0\.02/,
  },
  {
    claim: "a number in quotes is none",
    change: ["", 'confidence: "0.95"\n'],
    code: "value-type",
    at: '"0.95"',
    says: /without quotes/,
  },
  {
    claim: "an RSSI limit is negative",
    change: ["", criteria("measure: rssi-quantile, quantile: 0.05, at_least: 65")],
    code: "limit-out-of-range",
    at: "65 }",
    says: /write -65/,
  },
  {
    claim: "an RSSI criterion names its quantile",
    change: ["", criteria("measure: rssi-quantile, at_least: -65")],
    code: "quantile-missing",
    at: "{ id: c1",
    says: /quantile: 0\.05/,
  },
  {
    claim: "a quantile in percent is told its fraction",
    change: ["", criteria("measure: rssi-quantile, quantile: 5, at_least: -65")],
    code: "quantile-out-of-range",
    at: "5, at_least",
    says: /Write 0\.05/,
  },
  {
    claim: "a quantile belongs to no other measure",
    change: ["", criteria(`${rate}, quantile: 0.05`)],
    code: "key-unused",
    at: "quantile",
    says: /Remove it/,
  },
  {
    claim: "agreement compares two named columns",
    change: ["", criteria("measure: agreement-rate, at_least: 0.9, observed: dir")],
    code: "agreement-column-missing",
    at: "{ id: c1",
    found: /no expected/,
    says: /both observed and expected/,
  },
  {
    claim: "a column cannot be compared with itself",
    change: ["", criteria("measure: agreement-rate, at_least: 0.9, observed: dir, expected: dir")],
    code: "agreement-column-same",
    at: "dir, expected",
    says: /always agrees with itself/,
  },
  {
    claim: "columns of agreement belong to no other measure",
    change: ["", criteria(`${rate}, observed: dir`)],
    code: "key-unused",
    at: "observed",
    says: /Remove it/,
  },
  {
    claim: "an unknown measure gets the suggestion",
    change: ["", criteria("measure: tag-read-rates, at_least: 0.9")],
    code: "value-not-allowed",
    at: "tag-read-rates",
    says: /Did you mean "tag-read-rate"/,
  },
  {
    claim: "a criterion asks of read points that exist",
    change: ["", criteria(`${rate}, read_points: [dock-1, dock-9]`)],
    code: "reference-unknown",
    at: "dock-9",
    says: /Did you mean/,
  },
  {
    claim: "a criterion that asks of no read point is a slip",
    change: ["", criteria(`${rate}, read_points: []`)],
    code: "value-out-of-range",
    at: "[]",
    found: /an empty list/,
    says: /every one where left out/,
  },
  {
    claim: "a read point is asked once",
    change: ["", criteria(`${rate}, read_points: [dock-1, dock-1]`)],
    code: "entry-duplicate",
    at: "dock-1] }",
    says: /Remove/,
  },
  {
    claim: "where selects by declared conditions",
    change: ["", criteria(`${rate}, where: { speed: { to: 2 } }`)],
    code: "reference-unknown",
    at: "speed: {",
    says: /add it under conditions/,
  },
  {
    claim: "a range goes upwards",
    change: ["", criteria(`${rate}, where: { speed_m_s: { from: 3, to: 2 } }`)],
    code: "range-reversed",
    at: "3, to",
    says: /Swap/,
  },
  {
    claim: "a range has an end",
    change: ["", criteria(`${rate}, where: { speed_m_s: {} }`)],
    code: "range-empty",
    at: "{} }",
    says: /from where to where/,
  },
  {
    claim: "a misspelt end of a range gets the suggestion",
    change: ["", criteria(`${rate}, where: { speed_m_s: { form: 1 } }`)],
    code: "key-unknown",
    at: "form: 1",
    says: /Did you mean "from"/,
  },
  {
    claim: "an empty list selects nothing",
    change: ["", criteria(`${rate}, where: { orientation: [] }`)],
    code: "value-out-of-range",
    at: "[] }",
    says: /Which rows it takes/,
  },
  {
    claim: "a band that does not exist gets those that do",
    change: ["", criteria(`${rate}, where: { speed_m_s: [1 to 2, 2 to 4] }`)],
    code: "band-unknown",
    at: "2 to 4",
    says: /edges/,
  },
  {
    claim: "for_each names declared conditions",
    change: ["", criteria(`${rate}, for_each: [orientaton]`)],
    code: "reference-unknown",
    at: "orientaton",
    says: /Did you mean "orientation"/,
  },
  {
    claim: "minimum passes are whole",
    change: ["", criteria(`${rate}, minimum_passes: 2.5`)],
    code: "value-type",
    at: "2.5",
    says: /untested/,
  },
  {
    claim: "a concession is of a criterion that exists",
    change: ["", "concessions:\n  - { criterion: c9, read_point: dock-1, granted_by: B. Owner }\n"],
    code: "reference-unknown",
    at: "c9",
    says: /add it under criteria/,
  },
  {
    claim: "a concession names who granted it",
    change: ["", `${criteria(rate)}concessions:\n  - { criterion: c1, read_point: dock-1 }\n`],
    code: "key-missing",
    at: "{ criterion",
    says: /Who granted it/,
  },
  {
    claim: "a concession cannot end before it was granted",
    change: [
      "",
      `${criteria(rate)}concessions:\n  - { criterion: c1, read_point: dock-1, granted_by: B, on: 2026-05-22, until: 2026-05-01 }\n`,
    ],
    code: "concession-ends-before-start",
    at: "2026-05-01",
    says: /not before 2026-05-22|cannot end before/,
  },
  {
    claim: "a finding has one concession",
    change: [
      "",
      `${criteria(rate)}concessions:\n  - { criterion: c1, read_point: dock-1, granted_by: B }\n  - { criterion: c1, read_point: dock-1, granted_by: C }\n`,
    ],
    code: "concession-duplicate",
    at: "{ criterion: c1, read_point: dock-1, granted_by: C",
    says: /line 4/,
  },
  {
    claim: "a concession is of a read point that the criterion asks of",
    change: [
      "",
      `${criteria(`${rate}, read_points: [dock-2]`)}concessions:\n  - { criterion: c1, read_point: dock-1, granted_by: B }\n`,
    ],
    code: "concession-without-finding",
    at: "dock-1, granted_by",
    says: /nothing to concede/,
  },
  {
    claim: "an open point is of a read point that exists",
    change: ["", "open_points:\n  - { id: P1, read_point: dock-7, text: Mend it }\n"],
    code: "reference-unknown",
    at: "dock-7",
    says: /Did you mean/,
  },
  {
    claim: "equipment holds texts, not lists",
    change: ["name: Dock 1", "equipment: { antennas: [1, 2] }"],
    code: "value-type",
    at: "[1, 2]",
    says: /./,
  },
  {
    claim: "at least one round is needed",
    change: [
      "rounds:\n  - { id: as-found, date: 2026-05-18 }\n  - { id: as-left, date: 2026-05-21 }\n",
      "rounds: []\n",
    ],
    code: "value-out-of-range",
    at: "[]",
    says: /Campaigns of passes/,
  },
];

describe("facility.yaml", () => {
  test.each(faults)("$claim", async ({ change: [from, to], code, at, found, says }) => {
    const yaml = from === "" ? `${to}${soundYaml}` : soundYaml.replace(from, to);
    const problem = await onlyError(yaml);
    expect(problem.code).toBe(code);
    expect({ line: problem.line, column: problem.column }).toEqual(placeOf(yaml, at));
    if (found !== undefined) expect(problem.found).toMatch(found);
    expect(`${problem.expected} ${problem.advice}`).toMatch(says);
    for (const text of [problem.found, problem.expected, problem.advice]) expect(text.trim()).not.toBe("");
  });

  test("YAML that cannot be parsed is placed", async () => {
    const problem = await onlyError("name: Hall\nrounds: [\n");
    expect(problem.code).toBe("yaml-syntax");
    expect(problem.line).toBeGreaterThan(1);
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
    expect(unknown?.advice).toMatch(/Decimals follow a point/);
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
    });
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
