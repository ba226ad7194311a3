import { describe, expect, test } from "vitest";
import { mostOfACause } from "../../src/intake/problems/problem-list.ts";
import { causesOf, type Problem } from "../../src/model/problem.ts";
import { type Files, log, places, read, soundLog } from "./folder.ts";

const header = "round,pass,read_point,tag,read,speed_m_s";

/** Code and count of each cause. */
async function causesIn(files: Files): Promise<string[]> {
  const { problems } = await read(files);
  return causesOf(problems).map(({ problems: [first], count }) => `${first!.code} x ${count}`);
}

const rows = (count: number, row: (i: number) => string) => Array.from({ length: count }, (_, i) => row(i));

describe("one cause", () => {
  test("is a wrong word in fifty rows of three files", async () => {
    const file = (name: string) => log(header, ...rows(50, (i) => `as-left,${name}${i},Dock 1,T${i},yes,1`));
    expect(
      await causesIn({ "passes/a.csv": file("A"), "passes/b.csv": file("B"), "passes/c.csv": file("C") }),
    ).toEqual(["read-point-unknown x 150"]);
  });

  test("is the same slip with another value in each row", async () => {
    const wrong = rows(40, (i) => `as-left,P${i},dock-1,T1,yes,${i + 4}.5`);
    expect(await causesIn({ "passes/a.csv": log(header, ...wrong) })).toEqual(["value-outside-bands x 40"]);
  });

  test("is not two names that want two corrections, nor blanks in two columns", async () => {
    const wrong = [
      "as-left,P1,dok-1,T1,yes,1",
      "as-left,P2,dok-2,T1,yes,1",
      "as-left,P3,dock-1,,yes,1",
      "as-left,P3,dock-1,T1,,1",
    ];
    expect(await causesIn({ "passes/a.csv": log(header, ...wrong) })).toEqual([
      "read-point-unknown x 1",
      "read-point-unknown x 1",
      "tag-blank x 1",
      "answer-blank x 1",
    ]);
  });

  test("is not the same slip in two facilities", () => {
    const base = { severity: "error", code: "a-b", file: "x", line: 1, column: 1 } as const;
    const words = { found: 'a = "1"', expected: "b", advice: "c" };
    const two: Problem[] = [
      { ...base, ...words, facility: "one" },
      { ...base, ...words, facility: "two" },
    ];
    expect(causesOf(two)).toHaveLength(2);
  });
});

test("of one cause a thousand problems are listed over all files, and one more says how many there are beside", async () => {
  const file = (name: string) => log(header, ...rows(700, (i) => `as-left,${name}${i},dock-1,T1,perhaps,1`));
  const { problems } = await read({ "passes/a.csv": file("A"), "passes/b.csv": file("B") });
  const listed = problems.filter(({ count }) => count === undefined);
  expect(listed).toHaveLength(mostOfACause);
  expect(listed[0]).toMatchObject({ file: "passes/a.csv", line: 2 });
  expect(problems.filter(({ count }) => count !== undefined)).toEqual([
    {
      ...listed.at(-1),
      file: "passes/b.csv",
      line: null,
      column: null,
      found: 'read = "perhaps" and 400 more of the same kind',
      count: 400,
    },
  ]);
  expect(causesOf(problems)).toMatchObject([{ count: 1400 }]);
});

test("a kind with thousands of different corrections stays bounded", async () => {
  const names = rows(900, (i) => `n${i}`);
  const { problems } = await read({
    "facility.yaml": `name: T\nrounds: [{ id: as-left }]\nread_points: [${names.map((id) => `{ id: ${id}, name: ${id} }`).join(", ")}]\n`,
    "passes/a.csv": log(
      "round,pass,read_point,tag,read",
      ...rows(1500, (i) => `as-left,P${i},m${i % 900},T1,yes`),
    ),
  });
  const unknown = problems.filter(({ code }) => code === "read-point-unknown");
  expect(unknown.reduce((sum, { count }) => sum + (count ?? 1), 0)).toBe(1500);
  expect(unknown.length).toBeLessThan(1500);
});

describe("a pass log with the same bytes as another", () => {
  const copy = log(header, ...rows(30, (i) => `as-left,P${i},dock-1,T${i},perhaps,1`));

  test("is called a copy of the one with the shorter name, and what is wrong is told once", async () => {
    const { problems } = await read({ "passes/dock.csv": copy, "passes/dock (1).csv": copy });
    expect(causesOf(problems).map(({ count, problems: [first] }) => `${first!.code} x ${count}`)).toEqual([
      "file-copied x 1",
      "answer-unclear x 30",
    ]);
    expect(problems.find(({ code }) => code === "file-copied")).toMatchObject({
      severity: "error",
      file: "passes/dock (1).csv",
      found: "passes/dock (1).csv, which is a copy of passes/dock.csv",
    });
  });

  test("is no error where both have only a header, or differ in one byte", async () => {
    const bare = log(header);
    const { problems } = await read({ "passes/a.csv": bare, "passes/b.csv": bare });
    expect(places(problems)).toEqual([
      "warning passes/a.csv:-:- file-without-rows",
      "warning passes/b.csv:-:- file-without-rows",
    ]);
    const other = soundLog.replaceAll("P1", "P2");
    expect((await read({ "passes/a.csv": soundLog, "passes/b.csv": other })).problems).toEqual([]);
  });

  test("is a remark on a manifest, whose tags may well be walked under two names", async () => {
    const load = log("tag", "T1", "T2");
    const { input, problems } = await read({
      "manifests/full.csv": load,
      "manifests/half.csv": load,
      "passes/a.csv": log(
        "round,pass,read_point,manifest,missed_tags",
        "as-left,P1,dock-1,full,none",
        "as-left,P2,dock-1,half,none",
      ),
    });
    expect(input).not.toBeNull();
    expect(places(problems)).toEqual(["warning manifests/half.csv:-:- file-copied"]);
  });
});
