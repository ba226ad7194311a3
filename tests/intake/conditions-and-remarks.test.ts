import { describe, expect, test } from "vitest";
import { criterion, log, places, read, readSound, soundLog, soundYaml } from "./folder.ts";

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

  test("must be filled on a stray's row where the pass has no other row to say how it was made", async () => {
    const { problems } = await read({
      "facility.yaml": grouped("stray-pass-rate").replace("at_least", "at_most"),
      "passes/a.csv": log(header, "as-left,P1,dock-1,T1,yes,yes,flat,", "as-left,Q1,dock-1,S1,no,yes,,"),
    });
    expect(places(problems)).toEqual(["error passes/a.csv:3:29 condition-blank"]);
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
    const bare = await read({ "passes/walk.ods": "x", "passes/.hidden": "x", "passes/old/a.csv": soundLog });
    expect(places(bare.problems)).toEqual([
      "warning passes:-:- no-pass-log",
      "warning passes/old:-:- file-not-read",
      "warning passes/walk.ods:-:- file-not-read",
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

describe("strays that only some passes write down", () => {
  const listed = (...strays: string[]) => ({
    "facility.yaml": soundYaml,
    "manifests/load.csv": "tag\nT1\n",
    "passes/a.csv": log(
      "round,pass,read_point,manifest,missed_tags,stray_tags",
      ...strays.map((cell, i) => `as-left,P${i},dock-1,load,,${cell}`),
    ),
  });

  test("are remarked on, since a blank says that nobody looked", async () => {
    const { problems } = await read(listed("S1", ""));
    expect(places(problems)).toContain("warning passes/a.csv:1:44 strays-half-recorded");
  });

  test("are remarked on in the line of the header, blank rows above it or not", async () => {
    const files = listed("S1", "");
    const { problems } = await read({ ...files, "passes/a.csv": `\n,,\n${files["passes/a.csv"]}` });
    expect(places(problems)).toContain("warning passes/a.csv:3:44 strays-half-recorded");
  });

  test("are none of anybody's business where every pass has a word on them, or no pass has", async () => {
    for (const cells of [
      ["S1", "none"],
      ["", ""],
    ]) {
      const { problems } = await read(listed(...cells));
      expect(places(problems).join()).not.toContain("strays-half-recorded");
    }
  });
});
