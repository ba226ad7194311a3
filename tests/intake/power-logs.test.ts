import { writeXlsx } from "hucre/xlsx";
import { describe, expect, it } from "vitest";
import { describeFaults } from "./fault.ts";
import { type Files, log, places, read, readSound, soundLog, soundYaml } from "./folder.ts";

const yaml = soundYaml.replace(
  "{ id: as-left, date: 2026-05-21 }",
  "{ id: as-left, date: 2026-05-21, settings: { dock-1: { transmit_power_dbm: 30 } } }",
);
const header = "round,read_point,power_dbm,tags_presented,tags_read";
const folder = (power: Files): Files => ({ "facility.yaml": yaml, "passes/a.csv": soundLog, ...power });
const counts = (...rows: string[]): Files => folder({ "power/dock-1.csv": log(header, ...rows) });
const sound = ["as-left,dock-1,24,40,34", "as-left,dock-1,15,40,2"];

const powerOf = async (files: Files) => (await readSound(files)).log.power;
const remarks = async (files: Files) =>
  (await read(files)).problems.filter(({ file }) => file?.startsWith("power/") || file === "facility.yaml");

describe("a power log", () => {
  it("gives the tags presented and read at each power, the lowest first, rows of one power together", async () => {
    const power = await powerOf(counts(...sound, "as-left,dock-1,24.0,10,10", "as-found,dock-1,24,5,5"));
    expect(power).toEqual([
      {
        readPoint: "dock-1",
        round: "as-found",
        inUseDbm: null,
        steps: [{ powerDbm: 24, presented: 5, read: 5 }],
        cohorts: null,
      },
      {
        readPoint: "dock-1",
        round: "as-left",
        inUseDbm: 30,
        steps: [
          { powerDbm: 15, presented: 40, read: 2 },
          { powerDbm: 24, presented: 50, read: 44 },
        ],
        cohorts: null,
      },
    ]);
  });

  it("may name its tags, one row a tag, with the same counts, and says then which were presented where", async () => {
    const rows = [15, 24].flatMap((dbm) =>
      Array.from(
        { length: 40 },
        (_, i) => `as-left,dock-1,${dbm},T${i},${i < (dbm === 15 ? 2 : 34) ? "yes" : "no"}`,
      ),
    );
    const itemised = folder({ "power/x.csv": log("round,read_point,power_dbm,tag,read", ...rows) });
    const [counted] = await powerOf(counts(...sound));
    expect(await powerOf(itemised)).toEqual([
      { ...counted, cohorts: [{ subjects: 40, groups: [0, 1], trials: [1, 1] }] },
    ]);
  });

  it("puts tags together that were presented equally often at the same powers, in any order of rows and files", async () => {
    const rows = [
      ...["24,T1,no", "24,T2,yes", "24,T2,yes", "24,T3,yes", "15,T1,no", "15,T2,no"],
      ...["27,T9,yes", "27,T3,yes", "24,T9,yes"],
    ].map((row) => `as-left,dock-1,${row}`);
    const of = (...files: string[][]) =>
      powerOf(
        folder(
          Object.fromEntries(
            files.map((each, i) => [`power/${i}.csv`, log("round,read_point,power_dbm,tag,read", ...each)]),
          ),
        ),
      );
    const whole = await of(rows);
    expect(whole[0]!.cohorts).toEqual([
      { subjects: 1, groups: [0, 1], trials: [1, 1] },
      { subjects: 1, groups: [0, 1], trials: [1, 2] },
      { subjects: 2, groups: [1, 2], trials: [1, 1] },
    ]);
    expect(await of([...rows].reverse())).toEqual(whole);
    expect(await of(rows.slice(4), rows.slice(0, 4))).toEqual(whole);
  });

  it("does not know which tags were presented where as soon as some of its rows only count them", async () => {
    const named = log("round,read_point,power_dbm,tag,read", "as-left,dock-1,27,T1,yes");
    const [power] = await powerOf({ ...counts(...sound), "power/named.csv": named });
    expect(power).toMatchObject({ cohorts: null });
    expect(power!.steps).toHaveLength(3);
  });

  it("is read with semicolons, decimal commas and other names for its columns, with remarks", async () => {
    const text = log(
      "Round;Read point;Power (dBm);Tags presented;Tags read",
      "as-left;dock-1;24,5;40;34",
      "as-left;dock-1;15,0;40;2",
    );
    const files = folder({ "power/x.csv": text });
    expect((await powerOf(files))[0]!.steps.map(({ powerDbm }) => powerDbm)).toEqual([15, 24.5]);
    expect(places(await remarks(files))).toEqual([
      "warning power/x.csv:1:1 column-read-as",
      "warning power/x.csv:1:1 semicolon-separated",
    ]);
  });

  it("may be a workbook, of which facility.yaml names the sheets", async () => {
    const rows = [
      ["round", "read_point", "power_dbm", "tags_presented", "tags_read"],
      ["as-left", "dock-1", 24.5, 40, 34],
      ["as-left", "dock-1", 15, 40, 2],
    ];
    const bytes = await writeXlsx({
      sheets: [
        { name: "Notes", rows: [["nothing"]] },
        { name: "Steps", rows },
      ],
    });
    const { log: passLog, problems } = await readSound({
      ...folder({ "power/x.xlsx": Buffer.from(bytes) }),
      "facility.yaml": `${yaml}sheets: { power/x.xlsx: Steps }\n`,
    });
    expect(problems).toEqual([]);
    expect(passLog.power[0]!.steps.map(({ powerDbm, read }) => [powerDbm, read])).toEqual([
      [15, 2],
      [24.5, 34],
    ]);
  });

  it("is an input with its hash, its rows and how many were used", async () => {
    const { inputs } = await readSound(counts(...sound));
    expect(inputs.find(({ path }) => path === "power/dock-1.csv")).toMatchObject({
      sha256: expect.stringMatching(/^[0-9a-f]{64}$/),
      rows: 2,
      used: 2,
      void: 0,
    });
  });

  it("leaves a folder without one as it was", async () => {
    const { log: passLog, problems } = await readSound(folder({}));
    expect(passLog.power).toEqual([]);
    expect(problems).toEqual([]);
  });
});

describe("what a power log cannot carry is a remark", () => {
  it("a single power makes no curve; a power without tags is none", async () => {
    const files = counts("as-left,dock-1,24,40,34", "as-left,dock-1,27,0,0");
    expect(places(await remarks(files))).toEqual(["warning power/dock-1.csv:-:- powers-too-few"]);
  });

  it("a power in use that nobody stated makes no margin", async () => {
    const files = counts(...sound, "as-left,dock-2,24,40,34", "as-left,dock-2,15,40,3");
    const [problem, ...others] = await remarks(files);
    expect(others).toEqual([]);
    expect(places([problem!])).toEqual(["warning facility.yaml:6:5 power-in-use-missing"]);
    expect(problem!.found).toContain('"dock-2"');
  });

  it("a column that it does not have is not read", async () => {
    const files = folder({ "power/x.csv": log(`${header},weather`, ...sound.map((row) => `${row},dry`)) });
    expect(places(await remarks(files))).toEqual(["warning power/x.csv:1:53 column-undeclared"]);
  });

  it("a folder whose name is nearly power is told", async () => {
    const { problems } = await read(folder({ "powers/x.csv": log(header, ...sound) }));
    expect(problems.map(({ code, advice }) => [code, advice])).toEqual([
      ["folder-not-read", 'The folder was not read. Did you mean "power"?'],
    ]);
  });
});

const fault = (row: string, ...rows: string[]) => counts(row, ...rows, ...sound);
const at = { file: "power/dock-1.csv", line: 2 };
describeFaults("a fault in a power log is refused with its place", [
  {
    claim: "a read point that facility.yaml does not list",
    files: fault("as-left,dock-3,24,40,34"),
    ...at,
    code: "read-point-unknown",
    at: "dock-3",
    says: /Did you mean "dock-1"/,
  },
  {
    claim: "a round that facility.yaml does not list",
    files: fault("as-lefft,dock-1,24,40,34"),
    ...at,
    code: "round-unknown",
    at: "as-lefft",
    says: /Did you mean "as-left"/,
  },
  {
    claim: "more tags read than presented",
    files: fault("as-left,dock-1,24,40,41"),
    ...at,
    code: "read-more-than-presented",
    at: "41",
    says: /at most 40/,
  },
  {
    claim: "a blank power",
    files: fault("as-left,dock-1,,40,34"),
    ...at,
    code: "power-out-of-range",
    at: ",40",
    says: /Fill it in/,
  },
  {
    claim: "a power in hundredths of a dB",
    files: fault("as-left,dock-1,3000,40,34"),
    ...at,
    code: "power-out-of-range",
    at: "3000",
    says: /write 30\./,
  },
  {
    claim: "a power in milliwatts",
    files: fault("as-left,dock-1,500,40,34"),
    ...at,
    code: "power-out-of-range",
    at: "500",
    says: /write 27\.0\./,
  },
  {
    claim: "a count that is none",
    files: fault("as-left,dock-1,24,forty,34"),
    ...at,
    code: "count-unreadable",
    at: "forty",
    says: /whole number/,
  },
  {
    claim: "a log of both forms",
    files: folder({ "power/dock-1.csv": log(`${header},tag,read`, "as-left,dock-1,24,40,34,T1,yes") }),
    file: "power/dock-1.csv",
    line: 1,
    code: "power-log-unclear",
    at: "round",
    says: /Keep the columns of one/,
  },
  {
    claim: "a log without a power",
    files: folder({
      "power/dock-1.csv": log("round,read_point,tags_presented,tags_read", "as-left,dock-1,40,34"),
    }),
    file: "power/dock-1.csv",
    line: 1,
    code: "column-missing",
    at: "round",
    says: /power_dbm, which a power log needs/,
  },
  {
    claim: "an answer that is none",
    files: folder({
      "power/dock-1.csv": log("round,read_point,power_dbm,tag,read", "as-left,dock-1,24,T1,perhaps"),
    }),
    ...at,
    code: "answer-unclear",
    at: "perhaps",
    says: /yes/,
  },
  {
    claim: "a tag without a code",
    files: folder({
      "power/dock-1.csv": log("round,read_point,power_dbm,tag,read", "as-left,dock-1,24,,yes"),
    }),
    ...at,
    code: "tag-blank",
    at: ",yes",
    says: /every row/,
  },
  {
    claim: "the same file twice",
    files: folder({ "power/a.csv": log(header, ...sound), "power/a copy.csv": log(header, ...sound) }),
    file: "power/a copy.csv",
    line: null,
    code: "file-copied",
    at: null,
    says: /counted twice/,
  },
]);
