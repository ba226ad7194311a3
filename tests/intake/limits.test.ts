import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { mostColumns, mostRecordBytes } from "../../src/intake/csv/records.ts";
import { mostTableRows, Sheet } from "../../src/intake/csv/sheet.ts";
import type { TableSource } from "../../src/intake/csv/table-source.ts";
import { mostPasses } from "../../src/intake/pass-log/read.ts";
import { ProblemList } from "../../src/intake/problems/problem-list.ts";
import { CsvReport } from "../../src/intake/problems/reports.ts";
import { limits } from "../../src/intake/reader-log/source/survey.ts";
import { type Files, log, places, read, soundYaml } from "./folder.ts";

const header = "round,pass,read_point,tag,read";
const row = "as-left,P1,dock-1,T1,yes";

async function told(files: Files): Promise<string[]> {
  const { input, problems } = await read(files);
  expect(input === null).toBe(problems.some(({ severity }) => severity === "error"));
  return places(problems);
}

describe("a row of a pass log", () => {
  test("of a megabyte without a line break is an error at its start, and nothing after it is read", async () => {
    const endless = `as-left,P2,dock-1,T1,yes,${"x".repeat(3 * mostRecordBytes)}`;
    expect(await told({ "passes/a.csv": log(`${header},note`, `${row},`, endless, "round") })).toEqual([
      "error passes/a.csv:3:1 row-too-long",
    ]);
  });

  test("that a quote which is never closed makes of all the rest is an error at once", async () => {
    const rest = Array.from({ length: 60_000 }, (_, i) => `as-left,P${i},dock-1,T1,yes,`);
    expect(await told({ "passes/a.csv": log(`${header},note`, `${row},"oh`, ...rest) })).toEqual([
      "error passes/a.csv:2:1 row-too-long",
    ]);
  });

  test("of the longest length is read", async () => {
    const note = "x".repeat(mostRecordBytes - row.length - 10);
    expect(await told({ "passes/a.csv": log(`${header},note`, `${row},${note}`) })).toEqual([]);
  });

  test("of more cells than a table can have columns is an error that says how many", async () => {
    const wide = `${row}${",".repeat(200_000)}`;
    const { problems } = await read({ "passes/a.csv": log(header, row, wide, row) });
    expect(places(problems)).toEqual(["error passes/a.csv:3:1 columns-too-many"]);
    expect(problems[0]).toMatchObject({
      found: "a row of 200005 cells",
      expected: `at most ${mostColumns} columns`,
    });
  });
});

test("a table of more rows than can be read is an error, and the rest is left unread", async () => {
  const problems = new ProblemList(null);
  const batch = (first: number) => [first, first + 1].map((at) => ({ cells: ["P", "yes"], at }));
  let read = 0;
  const source: TableSource = {
    ...{ fault: null, style: null, sha256: "", bytes: 0, isCsv: true },
    async *records() {
      yield [{ cells: ["pass", "read"], at: 0 }];
      for (; read < 100; read += 2) yield batch(read + 1);
    },
  };
  const report = new CsvReport("a.csv", problems);
  const sheet = new Sheet({ report, source, onDisk: "", rowsAre: "passes", mostRows: 30 });
  await sheet.header();
  for await (const _ of sheet.rows(2));
  expect(read).toBeLessThan(40);
  expect(problems.sorted(() => null)).toMatchObject([
    { severity: "error", code: "rows-too-many", expected: "at most 30 rows in one table" },
  ]);
});

test("more passes than a site can be made of are an error where the last of them stands", async () => {
  const passes = Array.from({ length: mostPasses + 1 }, (_, i) => `as-left,${i},dock-1,2,1`);
  expect(
    await told({ "passes/a.csv": log("round,pass,read_point,tags_presented,tags_read", passes.join("\n")) }),
  ).toEqual(["error passes/a.csv:200002:9 passes-too-many"]);
});

test("a header of a hundred thousand columns is one error, in a log and in a manifest", async () => {
  const names = Array.from({ length: 100_000 }, (_, i) => `c${i}`).join(",");
  expect(
    await told({ "passes/a.csv": log(`${header},${names}`, row), "manifests/m.csv": log(`tag,${names}`) }),
  ).toEqual(["error manifests/m.csv:1:1 columns-too-many", "error passes/a.csv:1:1 columns-too-many"]);
});

describe("the combinations of a criterion", () => {
  const letters = ["a", "b", "c", "d"];
  const yaml = (columns: string[], where = "") =>
    `${soundYaml}${letters.map((column) => `  - { column: ${column}, label: ${column} }\n`).join("")}criteria:
  - { id: c1, measure: tag-read-rate, at_least: 0.9, for_each: [${columns.join(", ")}]${where} }
`;
  const walk = log(
    `${header},a,b,c,d`,
    ...Array.from({ length: 7 }, (_, i) => `as-left,P${i},dock-1,T1,yes,${i},${i},${i},${i}`),
    ...Array.from({ length: 9 }, (_, i) => `as-left,P${i},dock-2,T1,yes,z${i},z,z,z`),
  );
  const groups = (columns: string[], where = "") =>
    told({ "facility.yaml": yaml(columns, where), "passes/a.csv": walk });

  test("are refused above 2000, with their number and where it comes from", async () => {
    const { problems } = await read({ "facility.yaml": yaml(letters), "passes/a.csv": walk });
    expect(places(problems)).toEqual(["error facility.yaml:18:64 groups-too-many"]);
    expect(problems[0]).toMatchObject({
      found: '8192 combinations in criterion "c1": 16 of "a", 8 of "b", 8 of "c", 8 of "d"',
      expected: "at most 2000 combinations",
    });
  });

  test("count what where lists, what the bands are, and what was seen at the read points asked", async () => {
    expect(await groups(letters, ", where: { a: [1], b: [1] }")).toEqual([]);
    expect(
      await groups(
        [...letters.slice(0, 3), "speed_m_s"],
        ", read_points: [dock-1], where: { speed_m_s: { to: 2 } }",
      ),
    ).not.toContain("error facility.yaml:18:64 groups-too-many");
    expect((await groups(letters, ", read_points: [dock-1]")).join()).toContain("groups-too-many");
  });
});

test("the documentation states the bounds and their errors", () => {
  const page = readFileSync("docs/limits.md", "utf8").replaceAll(/(\d) (?=\d{3})/g, "$1");
  for (const stated of [
    `| ${mostColumns} | \`columns-too-many\``,
    `| ${mostRecordBytes} | \`row-too-long\``,
    `| ${mostTableRows} | \`rows-too-many\``,
    `| ${mostPasses} | \`passes-too-many\``,
    `| ${limits.rows} | \`reader-log-rows-too-many\``,
    "| 2000 | `groups-too-many`",
    "| 1000 | `plan-too-large`",
    "| 32768 | `antennas-too-many`",
  ])
    expect(page).toContain(stated);
});
