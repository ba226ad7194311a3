import { expect, test } from "vitest";
import { log, read, readSound } from "./folder.ts";

const yaml = (compared: string) => `name: Depot
report: { number: R, revision: A, issued: 2026-05-22 }
rounds: [{ id: as-left, title: As left }]
read_points: [{ id: dock-1 }]
compare_tags: ${compared}
`;
const passes = log("pass,read_point,manifest,missed_tags", "1,dock-1,load,none", "2,dock-1,load,B1");
const files = (compared: string, manifest: string) => ({
  "facility.yaml": yaml(compared),
  "manifests/load.csv": manifest,
  "passes/p.csv": passes,
});

test("the models of tags are read from the column that compare_tags names, declared as a condition or not", async () => {
  const {
    facility,
    log: read,
    problems,
  } = await readSound(files("model", "tag,model\nA1,broad\nB1,narrow\n"));
  expect(facility.compareTags).toBe("model");
  expect(read.rows.columns.get("model")).toEqual({
    values: ["broad", "narrow"],
    index: Int32Array.from([0, 1, 0, 1]),
  });
  expect(problems).toEqual([]);
});

test("a column that nothing has is an error at its place in facility.yaml", async () => {
  const { problems } = await read(files("inlay", "tag,model\nA1,broad\nB1,narrow\n"));
  const found = problems.find(({ code }) => code === "compare-tags-missing")!;
  expect(found).toMatchObject({ severity: "error", file: "facility.yaml", line: 5, column: 15 });
  expect(found.found).toContain("inlay");
});

test("a single model is a remark, since there is nothing to compare", async () => {
  const { problems } = await readSound(files("model", "tag,model\nA1,broad\nB1,broad\n"));
  expect(problems.map(({ code, severity, line }) => [code, severity, line])).toEqual([
    ["compare-tags-alike", "warning", 5],
  ]);
});

test("a tag of two models is an error at the second one", async () => {
  const { problems } = await read({
    ...files("model", "tag,model\nA1,broad\nB1,narrow\n"),
    "manifests/other.csv": "tag,model\nB1,broad\nA1,broad\n",
    "passes/q.csv": log("pass,read_point,manifest,missed_tags", "3,dock-1,other,none"),
  });
  const errors = problems.filter(({ severity }) => severity === "error");
  expect(errors.map(({ code, file, line, column }) => [code, file, line, column])).toEqual([
    ["compare-tags-twice", "manifests/other.csv", 2, 4],
  ]);
});
