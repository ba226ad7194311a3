import { describe, expect, it } from "vitest";
import { journeyLines } from "../../src/commands/lines/journey-lines.ts";
import { problemCount, problemLines } from "../../src/commands/lines/problem-lines.ts";
import { entryLines, nameColumn } from "../../src/commands/lines/text.ts";
import type { Problem } from "../../src/model/problem.ts";
import { sampleJourney } from "../pages/journey/sample-journey.ts";

const said = {
  head: "  met  ",
  text: "240 of 240 tags read: 100\u202f%; 99\u202f% asked.",
  below: ["Under it."],
};

describe("an entry in the terminal", () => {
  it("stands beside its name, and what belongs to it under the name", () => {
    expect(entryLines({ ...said, name: "Gate" }, 6, 42)).toEqual([
      "  met  Gate    240 of 240 tags read:",
      "       100\u202f%; 99\u202f% asked.",
      "       Under it.",
    ]);
  });

  it("starts under a name that is longer than the column, and no line is longer than asked", () => {
    const name = "Tunnel reader between the hall and cage lane 14b";
    const lines = entryLines({ ...said, name }, nameColumn(["Gate", name]), 42);
    expect(lines).toEqual([
      "  met  Tunnel reader between the hall and",
      "       cage lane 14b",
      "       240 of 240 tags read: 100\u202f%; 99\u202f%",
      "       asked.",
      "       Under it.",
    ]);
  });

  it("has a column as wide as the longest name, up to what leaves room for a sentence", () => {
    expect(nameColumn(["Gate", "Shelf room"])).toBe(10);
    expect(nameColumn(["Gate", "x".repeat(80)])).toBe(28);
    expect(nameColumn([])).toBe(0);
  });
});

describe("problems in the terminal", () => {
  const at = (line: number, found = 'round = "as left"', file = "passes/a.csv"): Problem => ({
    severity: "error",
    code: "round-unknown",
    facility: "yard",
    file,
    line,
    column: 1,
    found,
    expected: 'the id of a round: "as-found", "as-left"',
    advice: 'Did you mean "as-left"? Correct it.',
  });

  it("with one cause are one block: the answer before the names, its count, three places", () => {
    const fifty = Array.from({ length: 50 }, (_, i) => at(i + 2));
    expect(problemLines([...fifty, at(2, undefined, "passes/b.csv")], "data")).toBe(
      `data/yard/passes/a.csv:2:1  error, 51 times
  Found round = "as left". Did you mean "as-left"? Correct it. Expected the id of a round: "as-found", "as-left".
  data/yard/passes/a.csv:3:1
  data/yard/passes/a.csv:4:1
  and 48 more, in 2 files in all
`,
    );
    expect(problemCount(fifty)).toBe("1 error, in 50 places");
  });

  it("show what was found at each place where that differs", () => {
    const times = ["a", "b"].map((text, i) => ({
      ...at(i + 2, `started_at = "${text}"`),
      advice: "Write the year first.",
    }));
    expect(problemLines(times, "data")).toBe(
      `data/yard/passes/a.csv:2:1  error, 2 times
  Found started_at = "a"; expected the id of a round: "as-found", "as-left". Write the year first.
  data/yard/passes/a.csv:3:1  started_at = "b"
`,
    );
  });

  it("count those that are not listed", () => {
    const rest = {
      ...at(9),
      line: null,
      column: null,
      found: 'round = "as left" and 400 more of the same kind',
      count: 400,
    };
    expect(problemLines([at(2), at(3), rest], "data")).toContain("error, 402 times\n");
    expect(problemLines([at(2), at(3), rest], "data")).toContain("\n  and 400 more\n");
    expect(problemCount([at(2), at(3), rest])).toBe("1 error, in 402 places");
  });

  it("let no control character of a path, a cell or a name through", () => {
    const odd = { ...at(2, 'a = "\u001b[31m"', "passes/\u001b]0;x\u0007.csv"), facility: "y\u009bard" };
    // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for
    expect(problemLines([odd], "da\u001b[2Jta")).not.toMatch(/[\u0000-\u0009\u000b-\u001f\u007f-\u009f]/);
  });
});
describe("a journey in the terminal", () => {
  const text = journeyLines(sampleJourney).replace(/\n/g, " ");

  it("says where a lost item was last seen, and where one was that was not sent there, by the read points' names", () => {
    expect(text).toContain("CRATE-2 on run R1: Not seen on Carried. Last seen at Desk, Plant.");
    expect(text).toContain("CRATE-3 on run R1 was seen where it was not sent: Yard behind the depot, Depot.");
  });

  it("counts what would settle a finding in runs, and a rate that is not good enough in series of runs", () => {
    const toSettle = { unit: "items", furtherWithoutMiss: 60, chance: 0.36, retune: false };
    const findings = sampleJourney.findings.map((finding) => ({
      ...finding,
      state: "undecided" as const,
      toSettle,
    }));
    const said = journeyLines({ ...sampleJourney, findings }).replace(/\s+/g, " ");
    expect(said).toContain("in 36 of 100 series of runs like this one");
    expect(said).toContain(
      "60 further items without a missed leg would settle it: about 15 more runs like these.",
    );
  });

  it("says once that fewer journeys are whole than the walks allow", () => {
    expect(text.match(/below the bounds/g)).toHaveLength(1);
    expect(text).not.toContain("is below what the read points' own walks allow");
  });
});
