import { describe, expect, test } from "vitest";
import { type Files, log, places, read, soundYaml } from "./folder.ts";

async function errorsIn(files: Files): Promise<string[]> {
  const { input, problems } = await read(files);
  expect(input).toBeNull();
  return places(problems.filter(({ severity }) => severity === "error"));
}

const itemised = "round,pass,read_point,speed_m_s,tag,read";
const listed = "round,pass,read_point,speed_m_s,manifest,missed_tags";
const load = { "manifests/load.csv": log("tag", "T1", "T2") };

describe("facility.yaml that cannot be read does not hide", () => {
  const broken = soundYaml.replace("  - { id: as-left, date: 2026-05-21 }", "  - { id: as-left");
  const wrong = log(itemised, "as-left,P1,dock-1,1,3.08E+23,yes", "as-left,P1,dock-1,1,T2,perhaps");

  test("what is wrong with the logs by themselves", async () => {
    expect(await errorsIn({ "facility.yaml": broken, "passes/a.csv": wrong })).toEqual([
      "error facility.yaml:7:1 yaml-syntax",
      "error passes/a.csv:2:21 tag-in-exponent-notation",
      "error passes/a.csv:3:24 answer-unclear",
    ]);
    expect(
      await errorsIn({ "facility.yaml": "name: Hall\nread_points: []\n", "passes/a.csv": wrong }),
    ).toContain("error passes/a.csv:3:24 answer-unclear");
  });

  test("and no name, column or time of a sound log is blamed for it", async () => {
    const header = `${itemised},started_at,wet`;
    const sound = [
      "any,P1,anywhere,9,T1,yes,2026-05-21 10:00,yes",
      "other,P1,anywhere,9,T1,no,2026-05-21 10:00,yes",
    ];
    const { problems } = await read({
      "facility.yaml": broken,
      ...load,
      "passes/a.csv": log(header, ...sound),
    });
    expect(places(problems)).toEqual(["error facility.yaml:7:1 yaml-syntax"]);
  });

  test("its own other faults, where a text with a colon or a key that stands twice is all that stops it", async () => {
    const colon = soundYaml
      .replace("name: Test hall", "name: Hall: north")
      .replace("id: dock-2", "id: dock-1");
    expect(await errorsIn({ "facility.yaml": colon, "passes/a.csv": wrong })).toEqual([
      "error facility.yaml:1:7 yaml-syntax",
      "error facility.yaml:9:11 id-duplicate",
      "error passes/a.csv:2:21 tag-in-exponent-notation",
      "error passes/a.csv:3:24 answer-unclear",
    ]);
    const twice = `name: Hall\n${soundYaml.replace("id: dock-2", "id: dock-1")}`;
    expect(await errorsIn({ "facility.yaml": twice, "passes/a.csv": wrong })).toContain(
      "error facility.yaml:10:11 id-duplicate",
    );
  });
});

describe("a wrong round or read point does not hide", () => {
  test("values outside the bands, blanks in a condition, and tags that come twice", async () => {
    const yaml = `${soundYaml}criteria:\n  - { id: c, measure: tag-read-rate, at_least: 0.9, where: { speed_m_s: { to: 2 } } }\n`;
    const rows = ["as left,P1,dock-1,7,T1,yes", "as left,P1,dock-1,,T2,yes", "as left,P1,dock-1,1,T1,yes"];
    expect(await errorsIn({ "facility.yaml": yaml, "passes/a.csv": log(itemised, ...rows) })).toEqual([
      "error passes/a.csv:2:1 round-unknown",
      "error passes/a.csv:2:19 value-outside-bands",
      "error passes/a.csv:3:1 round-unknown",
      "error passes/a.csv:3:19 condition-blank",
      "error passes/a.csv:4:1 round-unknown",
      "error passes/a.csv:4:21 tag-twice",
    ]);
  });

  test("and the same pass in a second round is not called a repetition, nor its manifest unused", async () => {
    const rows = ["as found,P1,dock-1,1,load,none", "as left,P1,dock-1,1,load,none"];
    const { problems } = await read({ ...load, "passes/a.csv": log(listed, ...rows) });
    expect(places(problems)).toEqual([
      "error passes/a.csv:2:1 round-unknown",
      "error passes/a.csv:3:1 round-unknown",
    ]);
  });
});

test("a wrong manifest does not hide codes that are not separated by spaces, nor a value outside the bands", async () => {
  const rows = ['as-left,P1,dock-1,7,laod,"T1,T2"', "as-left,P2,dock-1,1,load,none"];
  expect(await errorsIn({ ...load, "passes/a.csv": log(listed, ...rows) })).toEqual([
    "error passes/a.csv:2:19 value-outside-bands",
    "error passes/a.csv:2:21 manifest-unknown",
    "error passes/a.csv:2:26 tags-not-parted",
  ]);
});

test("a header without the columns that name a pass does not hide what is wrong with the rows", async () => {
  const rows = ["P1,7,T1,yes", "P1,1,T1,perhaps", "P2,1,T1,yes"];
  expect(await errorsIn({ "passes/a.csv": log("pass,speed_m_s,tag,read", ...rows) })).toEqual([
    "error passes/a.csv:1:1 column-missing",
    "error passes/a.csv:1:1 column-missing",
    "error passes/a.csv:2:4 value-outside-bands",
    "error passes/a.csv:3:9 answer-unclear",
  ]);
});

test("a pass that stands twice does not hide what else is wrong with its second row", async () => {
  const rows = ["as-left,P1,dock-1,1,load,none", 'as-left,P1,dock-1,1,load,"T1,T2"'];
  expect(await errorsIn({ ...load, "passes/a.csv": log(listed, ...rows) })).toEqual([
    "error passes/a.csv:3:9 pass-twice",
    "error passes/a.csv:3:26 tags-not-parted",
  ]);
});

test("bands that do not rise are one error, and no value is held against them", async () => {
  const yaml = soundYaml.replace("[0, 1, 2, 3]", "[0, 2, 1]");
  const rows = ["as-left,P1,dock-1,7,T1,yes", "as-left,P1,dock-1,1,T2,yes"];
  expect(await errorsIn({ "facility.yaml": yaml, "passes/a.csv": log(itemised, ...rows) })).toEqual([
    "error facility.yaml:11:65 bands-not-rising",
  ]);
});
