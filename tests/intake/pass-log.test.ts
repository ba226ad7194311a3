import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { noRssi, type PassLog, Role } from "../../src/intake/pass-log.ts";
import { criterion, log, places, read, readSound, soundLog, soundYaml } from "./folder.ts";

/** The rows of a log as objects, in the order they are kept. */
function rowsOf({ passes, rows, tags }: PassLog) {
  return Array.from({ length: rows.length }, (_, i) => ({
    pass: passes[rows.pass[i]!]!.id,
    tag: rows.tag[i]! < 0 ? null : tags[rows.tag[i]!]!,
    role: rows.role[i],
    presentations: rows.presentations[i],
    reads: rows.reads[i],
    rssi: rows.rssi[i] === noRssi ? null : rows.rssi[i],
    antenna: rows.antenna[i]! < 0 ? null : rows.antennas[rows.antenna[i]!]!,
    columns: Object.fromEntries(
      [...rows.columns].map(([name, c]) => [name, c.index[i]! < 0 ? null : c.values[c.index[i]!]!]),
    ),
  }));
}

const none = { speed_m_s: null, orientation: null };

describe("an itemised log", () => {
  test("gives its passes and rows", async () => {
    const { log: made, inputs, problems } = await readSound({ "passes/a.csv": soundLog });
    expect(problems).toEqual([]);
    expect(made.passes).toEqual([
      {
        round: "as-left",
        readPoint: "dock-1",
        id: "P1",
        form: "itemised",
        startedAt: "2026-05-21T09:00:00Z",
        endedAt: "2026-05-21T09:00:30Z",
        startedAtLocal: "2026-05-21 10:00:00",
        endedAtLocal: "2026-05-21 10:00:30",
        voidReason: null,
        walkedBy: ["A. Walker"],
        notes: [],
        extras: [],
        straysRecorded: true,
        tallyStrays: null,
        rssiRecorded: true,
        manifest: null,
        file: "passes/a.csv",
      },
    ]);
    expect(rowsOf(made)).toEqual([
      {
        pass: "P1",
        tag: "T1",
        role: Role.presented,
        presentations: 1,
        reads: 1,
        rssi: -5350,
        antenna: "1",
        columns: { speed_m_s: "1", orientation: "flat" },
      },
      {
        pass: "P1",
        tag: "T2",
        role: Role.presented,
        presentations: 1,
        reads: 0,
        rssi: null,
        antenna: null,
        columns: { speed_m_s: "1", orientation: "edge-on" },
      },
    ]);
    expect(made.rows.columns.get("speed_m_s")?.numbers).toEqual([1]);
    expect(made.rows.columns.get("orientation")?.numbers).toBeNull();
    expect(inputs.map(({ path, rows, used, void: voids }) => [path, rows, used, voids])).toEqual([
      ["facility.yaml", null, null, null],
      ["passes/a.csv", 2, 2, 0],
    ]);
    // The digest of the log's bytes, from sha256sum.
    expect(inputs[1]?.sha256).toMatch(/^[0-9a-f]{64}$/);
  });

  test("takes yes and no in every spelling", async () => {
    const words = ["yes,YES", "Y,y", "true,True", "1,1", "no,NO", "n,N", "false,FALSE", "0,0"];
    const { log: made } = await readSound({
      "passes/a.csv": log(
        "round,pass,read_point,tag,presented,read",
        ...words.map((pair, i) => `as-left,P1,dock-1,T${i},${pair}`),
      ),
    });
    expect(rowsOf(made).map((row) => [row.role, row.reads])).toEqual([
      ...Array(4).fill([Role.presented, 1]),
      ...Array(4).fill([Role.notPresented, 0]),
    ]);
  });

  test("knows strays only where there is a column for them", async () => {
    const { log: made } = await readSound({
      "passes/a.csv": log("round,pass,read_point,tag,read", "as-left,P1,dock-1,T1,yes"),
      "passes/b.csv": log("round,pass,read_point,tag,presented,read", "as-left,P2,dock-1,S1,no,yes"),
    });
    expect(made.passes.map((pass) => [pass.id, pass.straysRecorded, pass.rssiRecorded])).toEqual([
      ["P1", false, false],
      ["P2", true, false],
    ]);
    expect(rowsOf(made)[1]).toMatchObject({ tag: "S1", role: Role.notPresented, reads: 1 });
  });

  test("may present nothing, and still hear a stray", async () => {
    const { log: made } = await readSound({
      "passes/a.csv": log(
        "round,pass,read_point,tag,presented,read,orientation",
        "as-left,P1,dock-1,,no,no,flat",
        "as-left,P1,dock-1,S1,no,yes,",
      ),
    });
    expect(rowsOf(made)).toEqual([
      expect.objectContaining({
        tag: null,
        role: Role.nothing,
        presentations: 0,
        columns: { ...none, orientation: "flat" },
      }),
      expect.objectContaining({ tag: "S1", role: Role.notPresented, presentations: 1, reads: 1 }),
    ]);
  });

  test("keeps tag codes that look like numbers", async () => {
    const codes = ["30E1", "0012", "123456789012345678901234", "E2801160600002", "12345E10"];
    const { log: made } = await readSound({
      "passes/a.csv": log(
        "round,pass,read_point,tag,read",
        ...codes.map((code) => `as-left,P1,dock-1, ${code} ,yes`),
      ),
    });
    expect(made.tags).toEqual([...codes].sort());
  });

  test("is voided by one reason, and several are all told", async () => {
    const { log: made, inputs } = await readSound({
      "passes/a.csv": log(
        "round,pass,read_point,tag,read,void_reason",
        "as-left,P1,dock-1,T1,yes,wrong door",
        "as-left,P1,dock-1,T2,yes,",
        "as-left,P1,dock-1,T3,yes,cart stopped",
        "as-left,P2,dock-1,T1,yes,",
      ),
    });
    expect(made.passes.map((pass) => pass.voidReason)).toEqual(["cart stopped; wrong door", null]);
    expect(inputs[1]).toMatchObject({ rows: 4, used: 1, void: 3 });
  });

  test("keeps and remarks on columns that nobody declared", async () => {
    const { input, problems } = await read({
      "passes/a.csv": log(
        "round,pass,read_point,tag,read,weather,note",
        "as-left,P1,dock-1,T1,yes,rain,slow",
        "as-left,P1,dock-1,T2,yes,fog,slow",
        "as-left,P1,dock-1,T3,yes,,",
      ),
    });
    expect(input?.log.passes[0]).toMatchObject({
      extras: [{ column: "weather", values: ["fog", "rain"] }],
      notes: ["slow"],
    });
    expect(places(problems)).toEqual(["warning passes/a.csv:1:32 column-undeclared"]);
  });

  test("gets its round filled in where there is only one", async () => {
    const yaml = soundYaml.replace(/ {2}- \{ id: as-found.*\n/, "");
    const { log: made } = await readSound({
      "facility.yaml": yaml,
      "passes/a.csv": log("pass,read_point,tag,read", "P1,dock-1,T1,yes"),
    });
    expect(made.passes[0]?.round).toBe("as-left");
  });

  test("says the same in any order of rows", async () => {
    const rows: string[] = [];
    for (const point of ["dock-1", "dock-2"]) {
      for (let pass = 1; pass <= 3; pass += 1) {
        for (let tag = 1; tag <= 4; tag += 1) {
          const missed = (pass + tag) % 3 === 0;
          const orientation = tag % 2 === 0 ? "flat" : "edge-on";
          rows.push(
            `as-left,P${pass},${point},2026-05-21 1${pass}:00:00,${pass / 2},${orientation},T${tag},${missed ? "no," : `yes,-5${tag}.5`},note ${tag}`,
          );
        }
      }
    }
    const header = "round,pass,read_point,started_at,speed_m_s,orientation,tag,read,rssi_dbm,note";
    const straight = await readSound({ "passes/a.csv": log(header, ...rows) });
    await fc.assert(
      fc.asyncProperty(fc.shuffledSubarray(rows, { minLength: rows.length }), async (shuffled) => {
        const { log: made } = await readSound({ "passes/a.csv": log(header, ...shuffled) });
        expect(made).toEqual(straight.log);
      }),
      { numRuns: 15 },
    );
  });

  test("is ordered by round, read point, start and then the number in its name", async () => {
    const { log: made } = await readSound({
      "passes/b.csv": log(
        "round,pass,read_point,started_at,tag,read",
        "as-left,P10,dock-1,,T1,yes",
        "as-left,P9,dock-1,,T1,yes",
        "as-left,Z,dock-1,2026-05-21T10:00:00Z,T1,yes",
        "as-found,P1,dock-2,,T1,yes",
        "as-found,P2,dock-1,,T1,yes",
      ),
      "passes/a.csv": log(
        "round,pass,read_point,started_at,tag,read",
        "as-left,A,dock-1,2026-05-21T11:30:00+01:00,T1,yes",
      ),
    });
    expect(made.passes.map((pass) => pass.id)).toEqual(["P2", "P1", "Z", "A", "P9", "P10"]);
  });
});

describe("a listed log", () => {
  const manifest = log("tag,presented,orientation,batch", "T1,yes,flat,b1", "T2,yes,edge-on,b1", "B1,no,,");
  const header = "round,pass,read_point,manifest,missed_tags,stray_tags,speed_m_s,void_reason";

  test("expands its manifest", async () => {
    const { input, problems } = await read({
      "manifests/load.csv": manifest,
      "passes/a.csv": log(
        header,
        "as-left,P1,dock-1,load,T2,B1 S9,1,",
        "as-left,P2,dock-1,load,,none,1,",
        "as-left,P3,dock-1,load.csv,,-,2,door jammed",
      ),
    });
    expect(places(problems)).toEqual(["warning manifests/load.csv:1:27 column-undeclared"]);
    const rows = rowsOf(input!.log);
    expect(rows.filter((row) => row.pass === "P1").map((row) => [row.tag, row.role, row.reads])).toEqual([
      ["B1", Role.notPresented, 1],
      ["S9", Role.stray, 1],
      ["T1", Role.presented, 1],
      ["T2", Role.presented, 0],
    ]);
    expect(rows.find((row) => row.tag === "T2")?.columns).toEqual({ speed_m_s: "1", orientation: "edge-on" });
    expect(rows.find((row) => row.tag === "S9")?.columns).toEqual({ speed_m_s: "1", orientation: null });
    expect(rows.filter((row) => row.pass === "P2" && row.tag === "B1")).toMatchObject([{ reads: 0 }]);
    expect(input!.log.passes.map((pass) => [pass.straysRecorded, pass.rssiRecorded, pass.manifest])).toEqual(
      Array(3).fill([true, false, "load"]),
    );
    expect(input!.log.passes[0]?.extras).toEqual([{ column: "batch", values: ["b1"] }]);
    expect(input!.inputs.slice(1)).toMatchObject([
      { path: "manifests/load.csv", rows: 3, used: 3, void: 0 },
      { path: "passes/a.csv", rows: 3, used: 2, void: 1 },
    ]);
  });

  test("leaves bystanders out where nobody listened for them, and says so", async () => {
    const { input, problems } = await read({
      "manifests/load.csv": manifest.replaceAll(/,[^,]*$/gm, ""),
      "passes/a.csv": log(header, "as-left,P1,dock-1,load,,,1,"),
    });
    expect(input?.log.passes[0]?.straysRecorded).toBe(false);
    expect(rowsOf(input!.log).map((row) => row.tag)).toEqual(["T1", "T2"]);
    expect(places(problems)).toEqual(["warning passes/a.csv:2:25 bystanders-not-recorded"]);
  });

  test("marks a manifest that only void passes walk, and one that none does", async () => {
    const { input, problems } = await read({
      "manifests/load.csv": log("tag", "T1"),
      "manifests/spare.csv": log("tag", "T1"),
      "passes/a.csv": log(header, "as-left,P1,dock-1,load,,none,1,tilted"),
    });
    expect(places(problems)).toEqual(["warning manifests/spare.csv:-:- manifest-unused"]);
    expect(input?.inputs.slice(1, 3)).toMatchObject([
      { path: "manifests/load.csv", rows: 1, used: 0, void: 1 },
      { path: "manifests/spare.csv", rows: 1, used: 0, void: 0 },
    ]);
  });

  test("an empty manifest is a pass that presents nothing", async () => {
    const { input, problems } = await read({
      "manifests/empty.csv": "tag\n",
      "passes/a.csv": log(header, "as-left,P1,dock-1,empty,,S1,1,"),
    });
    expect(places(problems)).toEqual(["warning manifests/empty.csv:-:- file-without-rows"]);
    expect(rowsOf(input!.log).map((row) => [row.tag, row.role])).toEqual([
      [null, Role.nothing],
      ["S1", Role.stray],
    ]);
  });
});

describe("a tally", () => {
  test("counts, and knows strays where they were counted", async () => {
    const { log: made, inputs } = await readSound({
      "passes/a.csv": log(
        "round,pass,read_point,tags_presented,tags_read,stray_tags,void_reason",
        "as-left,P1,dock-1,40,38,0,",
        "as-left,P2,dock-1,40,40,,",
        "as-left,P3,dock-1,0,0,2,",
        "as-left,P4,dock-1,40,1,,cable off",
      ),
    });
    expect(rowsOf(made).map((row) => [row.role, row.presentations, row.reads, row.tag])).toEqual([
      [Role.presented, 40, 38, null],
      [Role.presented, 40, 40, null],
      [Role.nothing, 0, 0, null],
      [Role.presented, 40, 1, null],
    ]);
    expect(made.passes.map((pass) => [pass.straysRecorded, pass.tallyStrays])).toEqual([
      [true, 0],
      [false, null],
      [true, 2],
      [false, null],
    ]);
    expect(inputs[1]).toMatchObject({ rows: 4, used: 3, void: 1 });
  });
});

describe("conditions that a criterion uses", () => {
  const grouped = (measure: string) =>
    `${criterion(`measure: ${measure}, at_least: 0.9, for_each: [orientation]`)}${soundYaml}`;
  const header = "round,pass,read_point,tag,presented,read,orientation,void_reason";

  test("may be blank in a void pass, on a stray's own row, and at a read point that is not asked", async () => {
    const yaml = grouped("tag-read-rate").replace("for_each", "read_points: [dock-1], for_each");
    await readSound({
      "facility.yaml": yaml,
      "passes/a.csv": log(
        header,
        "as-left,P1,dock-1,T1,yes,yes,flat,",
        "as-left,P1,dock-1,S1,no,yes,,",
        "as-left,P2,dock-1,T1,yes,yes,,stopped",
        "as-left,P1,dock-2,T1,yes,yes,,",
      ),
    });
  });

  test("must be filled for bystanders where bystanders are counted", async () => {
    const { problems } = await read({
      "facility.yaml": grouped("bystander-read-rate").replace("at_least", "at_most"),
      "passes/a.csv": log(header, "as-left,P1,dock-1,T1,yes,yes,,", "as-left,P1,dock-1,B1,no,no,,"),
    });
    expect(places(problems)).toEqual(["error passes/a.csv:3:28 condition-blank"]);
  });

  test("are not asked of passes without an expectation, nor of those that record no strays", async () => {
    const yaml = grouped("agreement-rate").replace("for_each", "observed: seen, expected: meant, for_each");
    await readSound({
      "facility.yaml": yaml,
      "passes/a.csv": log(
        "round,pass,read_point,tag,read,orientation,seen,meant",
        "as-left,P1,dock-1,T1,yes,flat,in,in",
        "as-left,P2,dock-1,T1,yes,,,",
      ),
    });
    await readSound({
      "facility.yaml": grouped("stray-pass-rate").replace("at_least", "at_most"),
      "passes/a.csv": log("round,pass,read_point,tag,read", "as-left,P1,dock-1,T1,yes"),
    });
  });

  test("a value that nobody walked is remarked on where one like it was", async () => {
    const yaml = `${criterion("measure: tag-read-rate, at_least: 0.9, where: { orientation: [flat, edgeon] }")}${soundYaml}`;
    const { problems } = await read({ "facility.yaml": yaml, "passes/a.csv": soundLog });
    expect(places(problems)).toEqual(["warning facility.yaml:2:83 value-not-walked"]);
    expect(problems[0]?.advice).toMatch(/Did you mean "edge-on"/);
  });

  test("passes without the expected column stay out of an agreement, with a remark", async () => {
    const yaml = `${criterion("measure: agreement-rate, at_least: 0.9, observed: seen, expected: meant")}${soundYaml}`;
    const { input, problems } = await read({ "facility.yaml": yaml, "passes/a.csv": soundLog });
    expect(input).not.toBeNull();
    expect(places(problems)).toEqual(["warning passes/a.csv:1:1 agreement-column-missing"]);
  });
});

describe("remarks that forbid nothing", () => {
  test("no logs, files of other kinds, empty logs, distant days", async () => {
    const bare = await read({ "passes/walk.xlsx": "x", "passes/.hidden": "x", "passes/old/a.csv": soundLog });
    expect(places(bare.problems)).toEqual([
      "warning passes:-:- no-pass-log",
      "warning passes/old:-:- file-not-read",
      "warning passes/walk.xlsx:-:- file-not-read",
    ]);
    expect(bare.input?.log.passes).toEqual([]);
    const misnamed = await read({ "Pases/a.csv": soundLog });
    expect(places(misnamed.problems)).toEqual([
      "warning Pases:-:- folder-not-read",
      "warning passes:-:- no-pass-log",
    ]);
    const empty = await read({ "passes/a.csv": "", "passes/b.csv": "round,pass,read_point,tag,read\n" });
    expect(places(empty.problems)).toEqual([
      "warning passes/a.csv:-:- file-empty",
      "warning passes/b.csv:-:- file-without-rows",
    ]);
    const distant = await read({ "passes/a.csv": soundLog.replaceAll("2026-05-21", "2025-05-21") });
    expect(places(distant.problems)).toEqual(["warning passes/a.csv:2:19 pass-far-from-round"]);
    const cases = await read({
      "passes/a.csv": log(
        "round,pass,read_point,tag,read",
        "as-left,P1,dock-1,ABC,yes",
        "as-left,P1,dock-1,abc,yes",
      ),
    });
    expect(places(cases.problems)).toEqual(["warning passes:-:- tag-in-two-spellings"]);
  });
});
