import { readFileSync } from "node:fs";
import { join } from "node:path";
import { writeXlsx } from "hucre/xlsx";
import { describe, expect, test } from "vitest";
import { judgeFacility } from "../../src/analysis/judge.ts";
import type { FacilityInput } from "../../src/model/pass-log.ts";
import { criterion, errors, type Files, log, places, read, readSound, soundYaml } from "./folder.ts";

const workbook = (name: string) => readFileSync(join(import.meta.dirname, "workbooks", `${name}.xlsx`));
const yaml =
  soundYaml +
  criterion("measure: tag-read-rate, at_least: 0.9, read_points: [dock-1], for_each: [orientation]");

/** The rows of walk.xlsx as a spreadsheet program would save them as CSV. */
const tags = Array.from({ length: 10 }, (_, t) => `30395DFA8339C0000000000${t.toString(16).toUpperCase()}`);
const orientation = (t: number) => (t % 2 === 1 ? "flat" : "edge-on");
const walked = [0, 1, 2, 3, 4, 5].flatMap((p) =>
  tags.map((tag, t) => {
    const isRead = (p + 3 * t) % 11 !== 0;
    const level = isRead ? `${-50.5 - t},${1 + (t % 2)}` : ",";
    const minute = String(2 * p).padStart(2, "0");
    const clock = `2026-05-21 09:${minute}:00,2026-05-21 09:${minute}:30.250`;
    const speed = Number((1 + p * 0.1).toPrecision(15));
    return `as-left,${p + 1},dock-1,${clock},${speed},${orientation(t)},${tag},${isRead ? "TRUE" : "FALSE"},${level}`;
  }),
);
const walkCsv = log(
  "round,pass,read_point,started_at,ended_at,speed_m_s,orientation,tag,read,rssi_dbm,antenna",
  ...walked,
);

/** Everything that is judged: all but the inputs, their remarks and the names of their files. */
function judged(input: FacilityInput): string {
  const { inputs: _, problems: __, ...result } = judgeFacility(input, "0");
  return JSON.stringify(result).replaceAll(".xlsx", ".csv");
}

const sound = (files: Files) => readSound({ "facility.yaml": yaml, ...files });

describe("workbooks that other programs saved", () => {
  test("a log judges as the same table in CSV does, to the byte", async () => {
    const fromCsv = await sound({ "passes/walk.csv": walkCsv });
    const fromWorkbook = await sound({ "passes/walk.xlsx": workbook("walk") });
    expect(judgeFacility(fromCsv, "0").findings.map(({ estimate }) => estimate)).toHaveLength(2);
    expect(judged(fromWorkbook)).toBe(judged(fromCsv));
  });

  test("a manifest judges as the same list in CSV does, formulas by the values they were saved with", async () => {
    const passes = log("round,pass,read_point,manifest,missed_tags", `as-left,P1,dock-1,cage,${tags[3]}`);
    const cage = log("tag,orientation", ...tags.map((tag, t) => `${tag},${orientation(t)}`));
    const fromCsv = await sound({ "passes/a.csv": passes, "manifests/cage.csv": cage });
    const fromWorkbook = await sound({ "passes/a.csv": passes, "manifests/cage.xlsx": workbook("cage") });
    expect(judged(fromWorkbook)).toBe(judged(fromCsv));
  });

  test("titles, hidden sheets, empty rows and columns need no attention, and further sheets are named", async () => {
    const { problems } = await read({ "facility.yaml": yaml, "passes/walk.xlsx": workbook("walk") });
    expect(places(problems)).toEqual([
      "warning passes/walk.xlsx:2:2 title-above-header",
      "warning passes/walk.xlsx:4:2 column-read-as",
      "warning passes/walk.xlsx:-:- sheets-not-read",
    ]);
    for (const problem of problems) expect(problem.sheet).toBe("Dock 1");
    expect(problems[2]!.found).toBe('further sheets: "Notes"');
    expect(problems[2]!.advice).toContain('sheets: { "passes/walk.xlsx": ["Dock 1", "Notes"] }');
  });

  test("the workbook is listed among the inputs with its rows and its hash", async () => {
    const { inputs } = await sound({ "passes/walk.xlsx": workbook("walk") });
    const listed = inputs.find(({ path }) => path === "passes/walk.xlsx")!;
    expect(listed).toMatchObject({ rows: 60, used: 60, void: 0, bytes: workbook("walk").length });
    expect(listed.sha256).toMatch(/^[0-9a-f]{64}$/);
  });

  test("faults name sheet and cell", async () => {
    const { problems } = await read({ "passes/faults.xlsx": workbook("faults") });
    expect(errors(problems).map(({ sheet, line, column, code }) => [sheet, line, column, code])).toEqual([
      ["Dock 1", 2, 4, "tag-in-exponent-notation"],
      ["Dock 1", 3, 5, "cell-with-error"],
      ["Dock 1", 4, 4, "formula-without-value"],
      ["Dock 1", 5, 5, "answer-unclear"],
    ]);
  });

  test("facility.yaml may name the sheet, or several", async () => {
    const named = `${soundYaml}sheets: { passes/faults.xlsx: Dock 2 }\n`;
    const input = await readSound({ "facility.yaml": named, "passes/faults.xlsx": workbook("faults") });
    expect(input.log.passes.map(({ readPoint }) => readPoint)).toEqual(["dock-2"]);
    const sheets = await writeXlsx({
      sheets: ["Dock 1", "Dock 2"].map((name, i) => ({
        name,
        rows: [
          ["round", "pass", "read_point", "tag", "read"],
          ["as-left", "P1", `dock-${i + 1}`, "T1", "yes"],
        ],
      })),
    });
    const both = await readSound({
      "facility.yaml": `${soundYaml}sheets: { passes/a.xlsx: [Dock 1, Dock 2] }\n`,
      "passes/a.xlsx": Buffer.from(sheets),
    });
    expect(both.log.passes.map(({ readPoint }) => readPoint)).toEqual(["dock-1", "dock-2"]);
    expect(both.inputs.filter(({ path }) => path.endsWith(".xlsx"))).toMatchObject([{ rows: 2, used: 2 }]);
  });

  test("a sheet that is not there gets the names of those that are", async () => {
    const { problems } = await read({
      "facility.yaml": `${soundYaml}sheets: { passes/faults.xlsx: Dock 3, passes/b.xlsx: A }\n`,
      "passes/faults.xlsx": workbook("faults"),
    });
    expect(errors(problems).map(({ file, code }) => [file, code])).toEqual([
      ["facility.yaml", "sheets-unused"],
      ["passes/faults.xlsx", "sheet-unknown"],
    ]);
    expect(errors(problems)[1]!.expected).toBe('one of its sheets: "Dock 1", "Dock 2"');
  });
});

describe("files that are called workbooks", () => {
  const refused = async (bytes: Buffer) => {
    const { problems } = await read({ "passes/a.xlsx": bytes });
    return errors(problems).map(({ code }) => code);
  };
  /** The directory of an archive, told another size of its first part. */
  const declaring = (size: number) => {
    const bytes = Buffer.from(workbook("walk"));
    bytes.writeUInt32LE(size, bytes.indexOf(Buffer.from("504b0102", "hex")) + 24);
    return bytes;
  };

  test("a text, a stump and an empty file are no workbooks", async () => {
    expect(await refused(Buffer.from(walkCsv))).toEqual(["workbook-unreadable"]);
    expect(await refused(workbook("walk").subarray(0, 3000))).toEqual(["workbook-unreadable"]);
    expect(await refused(Buffer.alloc(0))).toEqual(["workbook-unreadable"]);
  });

  test("an archive that unpacks to more than any walk needs is not unpacked", async () => {
    expect(await refused(declaring(4_000_000_000))).toEqual(["workbook-too-large"]);
  });

  test("an archive that holds more than it declares is not unpacked further", async () => {
    expect(await refused(declaring(20))).toEqual(["workbook-unreadable"]);
    expect(await refused(declaring(0))).toEqual(["workbook-unreadable"]);
  });

  test("what a spreadsheet program leaves beside an open workbook is no file of the report", async () => {
    const { problems } = await read({
      "passes/~$a.xlsx": "x",
      "passes/.~lock.a.xlsx#": "x",
      "passes/a.csv": walkCsv,
    });
    expect(problems).toEqual([]);
  });
});
