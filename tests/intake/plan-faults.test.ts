import { describe, expect, test } from "vitest";
import { errors, read, soundLog, soundYaml } from "./folder.ts";
import { describeYamlFaults } from "./yaml-fault.ts";

const plan = (text: string) => `plan: { tags_per_pass: 40, expected_rate: 0.998${text} }\n`;

describeYamlFaults("a plan", [
  {
    claim: "expects a rate below 1",
    change: ["", "plan: { tags_per_pass: 40, expected_rate: 1 }\n"],
    code: "expected-rate-out-of-range",
    at: "1 }",
    says: /for example 0\.999/,
  },
  {
    claim: "that expects a percentage is told its fraction",
    change: ["", "plan: { tags_per_pass: 40, expected_rate: 99.8 }\n"],
    code: "expected-rate-out-of-range",
    at: "99.8",
    says: /Write 0\.998\./,
  },
  {
    claim: "says how many tags a pass carries",
    change: ["", "plan: { expected_rate: 0.998 }\n"],
    code: "key-missing",
    at: "{ expected_rate",
    says: /Tags carried through/,
  },
  {
    claim: "carries at least one tag",
    change: ["", "plan: { tags_per_pass: 0, expected_rate: 0.998 }\n"],
    code: "value-out-of-range",
    at: "0, expected",
    says: /at least 1/,
  },
  {
    claim: "walks read points that exist",
    change: ["", plan(", read_points: [dock-1, dock-3]")],
    code: "reference-unknown",
    at: "dock-3",
    says: /Did you mean "dock-[12]"/,
  },
  {
    claim: "varies declared conditions",
    change: ["", plan(", each: { speed: [1] }")],
    code: "reference-unknown",
    at: "speed: [1]",
    says: /speed_m_s/,
  },
  {
    claim: "walks values that lie in a band",
    change: ["", plan(", each: { speed_m_s: [1, 5] }")],
    code: "band-unknown",
    at: "5] }",
    says: /0 to 1/,
  },
  {
    claim: "names each value once",
    change: ["", plan(", each: { orientation: [flat, flat] }")],
    code: "entry-duplicate",
    at: "flat] }",
    says: /repeated/,
  },
  {
    claim: "names values, not blanks",
    change: ["", plan(', each: { orientation: [flat, ""] }')],
    code: "value-blank",
    at: '""] }',
    says: /to be walked/,
  },
  {
    claim: "walks no two values of one band",
    change: ["", plan(", each: { speed_m_s: [1.2, 1.5] }")],
    code: "plan-values-in-one-band",
    at: "1.5] }",
    says: /"1\.2" and "1\.5" both lie in the band "1 to 2"/,
  },
  {
    claim: "that nobody could walk is refused",
    change: [
      "",
      plan(`, each: { orientation: [${Array.from({ length: 1001 }, (_, i) => `o${i}`).join(", ")}] }`),
    ],
    code: "plan-too-large",
    at: "each: {",
    says: /at most 1000/,
  },
]);

test("a plan is read with its defaults, its read points in the order of the file", async () => {
  const yaml = `${plan(", read_points: [dock-2, dock-1], each: { speed_m_s: [1, 1 to 2], orientation: [flat] }")}${soundYaml}`;
  const { input, problems } = await read({ "facility.yaml": yaml, "passes/a.csv": soundLog });
  expect(errors(problems)).toEqual([]);
  expect(input!.facility.plan).toEqual({
    seed: 1,
    tagsPerPass: 40,
    manifest: null,
    sameTags: false,
    expectedRate: 0.998,
    each: [
      { column: "speed_m_s", values: ["1", "1 to 2"] },
      { column: "orientation", values: ["flat"] },
    ],
    readPoints: ["dock-1", "dock-2"],
  });
});

describe("the load of a plan", () => {
  const folder = (said: string, files: Record<string, string> = {}) =>
    read({
      "facility.yaml": `plan: { tags_per_pass: 3, expected_rate: 0.998${said} }\n${soundYaml}`,
      "passes/a.csv": soundLog,
      ...files,
    });
  const pallet = "tag,presented\nT3,yes\nT1,yes\nT9,no\nT2,yes\n";

  test("is the tags that its manifest presents, and every pass carries them", async () => {
    const { input, problems } = await folder(", manifest: pallet", { "manifests/pallet.csv": pallet });
    expect(errors(problems)).toEqual([]);
    expect(input!.facility.plan).toMatchObject({ manifest: "pallet", sameTags: true });
    expect(input!.plannedLoad).toEqual({ tags: ["T1", "T2", "T3"], columns: {} });
  });

  test("brings what its manifest says of each tag", async () => {
    const stated = "tag,orientation\nT3,flat\nT1,\nT2,edge-on\n";
    const { input, problems } = await folder(", manifest: pallet", { "manifests/pallet.csv": stated });
    expect(errors(problems)).toEqual([]);
    expect(input!.plannedLoad!.columns).toEqual({ orientation: [null, "edge-on", "flat"] });
  });

  test("says once how its tags lie: in the manifest or in the plan", async () => {
    const stated = "tag,orientation\nT3,flat\nT1,flat\nT2,edge-on\n";
    const said = ", manifest: pallet, each: { orientation: [flat] }";
    const { problems } = await folder(said, { "manifests/pallet.csv": stated });
    expect(errors(problems)).toMatchObject([{ code: "plan-states-twice", line: 1 }]);
  });

  test("goes through in every pass, so that nothing else can be said of its tags", async () => {
    const files = { "manifests/pallet.csv": pallet };
    const { problems } = await folder(", manifest: pallet, same_tags: false", files);
    expect(errors(problems)).toMatchObject([{ code: "plan-tags-contradict", line: 1, column: 78 }]);
  });

  test("that is no manifest is met with the one that is meant", async () => {
    const { input, problems } = await folder(", manifest: palet", { "manifests/pallet.csv": pallet });
    expect(input).toBeNull();
    expect(errors(problems)).toMatchObject([
      { code: "reference-unknown", line: 1, advice: expect.stringMatching(/Did you mean "pallet"\?/) },
    ]);
  });

  test("that presents another number of tags than the plan says is refused with both numbers", async () => {
    const { problems } = await folder(", manifest: pallet", { "manifests/pallet.csv": "tag\nT1\nT2\n" });
    expect(errors(problems)).toMatchObject([
      {
        code: "plan-load-differs",
        line: 1,
        column: 24,
        advice: expect.stringMatching(/says 3 tags a pass and its load presents 2/),
      },
    ]);
  });
});

test("a facility without a plan has none", async () => {
  const { input } = await read({ "passes/a.csv": soundLog });
  expect(input!.facility.plan).toBeNull();
});
