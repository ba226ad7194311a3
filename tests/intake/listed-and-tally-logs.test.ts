import { describe, expect, test } from "vitest";
import { Role } from "../../src/model/pass-log.ts";
import { log, places, read, readSound, soundYaml } from "./folder.ts";
import { rowsOf } from "./rows.ts";

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
    expect(rows.filter((row) => row.pass === "P1").map((row) => [row.tag, row.role, row.tagsRead])).toEqual([
      ["B1", Role.notPresented, 1],
      ["S9", Role.stray, 1],
      ["T1", Role.presented, 1],
      ["T2", Role.presented, 0],
    ]);
    expect(rows.find((row) => row.tag === "T2")?.columns).toEqual({ speed_m_s: "1", orientation: "edge-on" });
    expect(rows.find((row) => row.tag === "S9")?.columns).toEqual({ speed_m_s: "1", orientation: null });
    expect(rows.filter((row) => row.pass === "P2" && row.tag === "B1")).toMatchObject([{ tagsRead: 0 }]);
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
      "passes/a.csv": log(header, "as-left,P1,dock-1,load,none,,1,"),
    });
    expect(input?.log.passes[0]?.straysRecorded).toBe(false);
    expect(rowsOf(input!.log).map((row) => row.tag)).toEqual(["T1", "T2"]);
    expect(places(problems)).toEqual(["warning passes/a.csv:2:29 bystanders-not-recorded"]);
  });

  test("does not call the load of a planned walk unused", async () => {
    const { problems } = await read({
      "facility.yaml": `${soundYaml}plan: { tags_per_pass: 1, expected_rate: 0.998, manifest: spare }\n`,
      "manifests/load.csv": log("tag", "T1"),
      "manifests/spare.csv": log("tag", "T2"),
      "passes/a.csv": log(header, "as-left,P1,dock-1,load,none,none,1,"),
    });
    expect(places(problems)).toEqual([]);
  });

  test("marks a manifest that only void passes walk, and one that none does", async () => {
    const { input, problems } = await read({
      "manifests/load.csv": log("tag", "T1"),
      "manifests/spare.csv": log("tag", "T2"),
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
    expect(rowsOf(made).map((row) => [row.role, row.presentations, row.tagsRead, row.tag])).toEqual([
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
