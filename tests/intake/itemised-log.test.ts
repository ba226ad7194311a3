import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { judgeFacility } from "../../src/analysis/judge.ts";
import { Role } from "../../src/model/pass-log.ts";
import { log, places, read, readSound, soundLog, soundYaml } from "./folder.ts";
import { rowsOf } from "./rows.ts";

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
        namesTags: true,
        readsFrom: "pass-log",
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
        tagsRead: 1,
        readCount: 3,
        rssiDbm: -53.5,
        antenna: "1",
        columns: { speed_m_s: "1", orientation: "flat" },
      },
      {
        pass: "P1",
        tag: "T2",
        role: Role.presented,
        presentations: 1,
        tagsRead: 0,
        readCount: 0,
        rssiDbm: null,
        antenna: null,
        columns: { speed_m_s: "1", orientation: "edge-on" },
      },
    ]);
    expect(made.rows.columns.get("speed_m_s")?.values).toEqual(["1"]);
    expect(inputs.map(({ path, rows, used, void: voids }) => [path, rows, used, voids])).toEqual([
      ["facility.yaml", null, null, null],
      ["passes/a.csv", 2, 2, 0],
    ]);
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
    expect(rowsOf(made).map((row) => [row.role, row.tagsRead])).toEqual([
      ...Array(4).fill([Role.presented, 1]),
      ...Array(4).fill([Role.notPresented, 0]),
    ]);
  });

  test("keeps how often each tag was read, and its pass how often all that were presented", async () => {
    const input = await readSound({
      "passes/a.csv": log(
        "round,pass,read_point,tag,presented,read,reads",
        "as-left,P1,dock-1,T1,yes,yes,12",
        "as-left,P1,dock-1,T2,yes,yes,3",
        "as-left,P1,dock-1,T3,yes,no,0",
        "as-left,P1,dock-1,S1,no,yes,40",
        "as-left,P2,dock-1,T1,yes,yes,5",
        "as-left,P2,dock-1,T2,yes,yes,",
      ),
    });
    expect(rowsOf(input.log).map(({ pass, tag, readCount }) => [pass, tag, readCount])).toEqual([
      ["P1", "S1", 40],
      ["P1", "T1", 12],
      ["P1", "T2", 3],
      ["P1", "T3", 0],
      ["P2", "T1", 5],
      ["P2", "T2", 0],
    ]);
    const [, round] = judgeFacility(input, "0").readPoints[0]!.rounds;
    // Of the second pass nobody knows all reads.
    expect(round!.passList.map(({ id, reads }) => [id, reads])).toEqual([
      ["P1", 15],
      ["P2", null],
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
    expect(rowsOf(made)[1]).toMatchObject({ tag: "S1", role: Role.notPresented, tagsRead: 1 });
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
        columns: { speed_m_s: null, orientation: "flat" },
      }),
      expect.objectContaining({ tag: "S1", role: Role.notPresented, presentations: 1, tagsRead: 1 }),
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
