import { createHash } from "node:crypto";
import { describe, expect, it } from "vitest";
import { judgeFacility } from "../../src/analysis/judge.ts";
import { recordView } from "../../src/pages/record/record.ts";
import { errors, type Files, read, readSound, soundLog, soundYaml } from "./folder.ts";
import { describeYamlFaults } from "./yaml-fault.ts";

const sha256 = (text: string) => createHash("sha256").update(text).digest("hex");

const yamlB = soundYaml.replace("revision: A", "revision: B");
const keptPath = "revisions/A/result.json";

/** The archived result of revision A, as far as it matters: which files it judged. */
function resultOfA(files: Record<string, string>, revision = "A"): string {
  const inputs = Object.entries(files).map(([path, text]) => ({ path, sha256: sha256(text) }));
  return `${JSON.stringify({ schemaVersion: 1, report: { revision }, inputs }, null, 2)}\n`;
}

function withA(kept: string, { mark = sha256(kept).slice(0, 32), corrections = "" } = {}): Files {
  return {
    "facility.yaml": `${yamlB}revisions:\n  - { revision: A, issued: 2026-05-19, mark: "${mark}", result: ${keptPath} }\n${corrections}`,
    [keptPath]: kept,
    "passes/a.csv": soundLog,
  };
}

const correction = (on: string, file = "passes/a.csv") =>
  `corrections:\n  - { file: ${file}, what: Tag T2 added, why: it was on the sheet, by: R. Calder, on: ${on} }\n`;

const codesOf = async (files: Files) => (await read(files)).problems.map(({ code }) => code);

describe("a log that differs from the one that an earlier revision judged", () => {
  const other = resultOfA({ "facility.yaml": "old", "passes/a.csv": "another log" });

  it("is a warning at that log where no correction names it", async () => {
    const { input, problems } = await read(withA(other));
    expect(input).not.toBeNull();
    expect(problems).toHaveLength(1);
    expect(problems[0]).toMatchObject({
      severity: "warning",
      code: "file-changed-since-revision",
      file: "passes/a.csv",
      found: 'other bytes than revision "A" judged',
    });
    expect(problems[0]!.advice).toContain("corrections");
  });

  it("is none where a correction of that day or later names it", async () => {
    expect(await codesOf(withA(other, { corrections: correction("2026-05-19") }))).toEqual([]);
    expect(await codesOf(withA(other, { corrections: correction("2026-05-21") }))).toEqual([]);
  });

  it("is one all the same where the correction is older than the revision, which judged it corrected", async () => {
    expect(await codesOf(withA(other, { corrections: correction("2026-05-18") }))).toEqual([
      "file-changed-since-revision",
    ]);
  });

  it("is one where it was taken out, until a correction says why", async () => {
    const gone = resultOfA({ "passes/a.csv": soundLog, "passes/b.csv": "gone" });
    const { problems } = await read(withA(gone));
    expect(problems.map(({ code, file, found }) => [code, file, found])).toEqual([
      ["file-changed-since-revision", "facility.yaml", 'no "passes/b.csv", which revision "A" judged'],
    ]);
    expect(await codesOf(withA(gone, { corrections: correction("2026-05-20", "passes/b.csv") }))).toEqual([]);
  });

  it("is said of facility.yaml and of kept results never: they are no evidence of the walk", async () => {
    const kept = resultOfA({ "facility.yaml": "old", [keptPath]: "older", "passes/a.csv": soundLog });
    expect(await codesOf(withA(kept))).toEqual([]);
  });
});

describe("the result of an earlier revision", () => {
  const same = resultOfA({ "passes/a.csv": soundLog });

  it("is an input with its hash, and the pages say that nothing was changed since", async () => {
    const input = await readSound(withA(same));
    expect(input.inputs).toContainEqual(
      expect.objectContaining({ path: keptPath, sha256: sha256(same), rows: null }),
    );
    const view = recordView(judgeFacility(input, "0"))!;
    expect(view.revisions[0]!.files).toBe(
      "The one file that it judged is the same to the byte. None was added.",
    );
  });

  it.each([
    [
      "in groups and capitals",
      (hash: string) =>
        hash
          .slice(0, 32)
          .toUpperCase()
          .replace(/(.{4})/g, "$1 ")
          .trim(),
    ],
    ["whole", (hash: string) => hash],
  ])("fits its mark written %s", async (_, write) => {
    expect(await codesOf(withA(same, { mark: write(sha256(same)) }))).toEqual([]);
  });

  it.each([
    [
      "one digit of the mark differs",
      withA(same, { mark: `0${sha256(same).slice(1, 32)}`.replace(/^00/, "10") }),
      "revision-mark-differs",
    ],
    ["the file is not there", { ...withA(same), [keptPath]: undefined }, "revision-result-unfit"],
    ["the file is no result", withA("[1]"), "revision-result-unfit"],
    ["the file is no JSON", withA("{"), "revision-result-unfit"],
    ["the file is of another revision", withA(resultOfA({}, "C")), "revision-result-unfit"],
  ] as [string, Record<string, string | undefined>, string][])(
    "is refused at its entry where %s",
    async (_, files, code) => {
      const given = Object.fromEntries(Object.entries(files).filter(([, text]) => text !== undefined));
      const { input, problems } = await read(given as Files);
      expect(input).toBeNull();
      expect(errors(problems).map((one) => [one.code, one.file])).toEqual([[code, "facility.yaml"]]);
      expect(errors(problems)[0]!.line).toBe(yamlB.split("\n").length + 1);
    },
  );

  it("need not be kept: then the pages say that nothing was compared", async () => {
    const files = withA(same);
    const yaml = files["facility.yaml"]!.toString().replace(`, result: ${keptPath}`, "");
    const input = await readSound({ ...files, "facility.yaml": yaml });
    expect(recordView(judgeFacility(input, "0"))!.revisions[0]!.files).toContain("not compared");
  });
});

describe("remarks on revisions and corrections", () => {
  it.each([
    [
      "an earlier revision without a mark",
      "revisions: [{ revision: A, issued: 2026-05-19 }]\n",
      "revision-mark-missing",
    ],
    [
      "a correction of a file that is no input",
      correction("2026-05-20", "passes/dock.csv"),
      "correction-file-unknown",
    ],
    ["a correction later than the report", correction("2026-06-01"), "correction-after-report"],
  ])("warn of %s", async (_, text, code) => {
    const { input, problems } = await read({ "facility.yaml": yamlB + text, "passes/a.csv": soundLog });
    expect(input).not.toBeNull();
    expect(problems.map((one) => one.code)).toEqual([code]);
  });

  it("warn of a correction of a file that is the same as before", async () => {
    const same = resultOfA({ "passes/a.csv": soundLog });
    expect(await codesOf(withA(same, { corrections: correction("2026-05-20") }))).toEqual([
      "correction-without-change",
    ]);
  });

  it("warn of a clock that was found elsewhere than the entry puts it, by more than the margin of a pass", async () => {
    const logs = (found: number) => `pass_window: { before_s: 2, after_s: 1 }
reader_logs:
  - files: reads/dock-1.csv
    read_point: dock-1
    columns: { time: time, epc: epc }
    clock_offset_s: -32
    clock_compared: [{ by: R. Calder, on: 2026-05-21, how: both displays photographed, offset_s: ${found} }]
`;
    const files = (found: number): Files => ({
      "facility.yaml": soundYaml + logs(found),
      "reads/dock-1.csv": "time,epc\n2026-05-21T09:00:05Z,3034257BF400B7800004CB2F\n",
      "passes/a.csv": soundLog,
    });
    expect(await codesOf(files(-40))).toContain("clock-comparison-differs");
    expect(await codesOf(files(-34))).not.toContain("clock-comparison-differs");
  });
});

describe("pseudonyms", () => {
  it("hold for who issued, corrected and compared", async () => {
    const files = withA(resultOfA({ "passes/a.csv": "x" }), { corrections: correction("2026-05-20") });
    const yaml = files["facility.yaml"]!.toString();
    const input = await readSound({
      ...files,
      "facility.yaml": `pseudonyms: true\n${yaml.replace("result:", "by: Una Drisk, changes: Una Drisk walked again, result:")}`,
    });
    const { record } = judgeFacility(input, "0");
    expect(record!.revisions[0]).toMatchObject({ by: "U.D.", changes: "U.D. walked again", revision: "A" });
    expect(record!.corrections[0]).toMatchObject({ by: "R.C.", file: "passes/a.csv" });
  });
});

const revisions = (text: string): [string, string] => ["", `revisions:\n${text}`];

describeYamlFaults("revisions in facility.yaml", [
  {
    claim: "a mark has 32 or 64 digits",
    change: revisions("  - { revision: 0, issued: 2026-05-19, mark: 12ab }\n"),
    code: "revision-mark-invalid",
    at: "12ab",
    says: /32 digits/,
  },
  {
    claim: "the report's own revision has no mark yet",
    change: revisions(`  - { revision: A, issued: 2026-05-22, mark: ${"ab".repeat(16)} }\n`),
    code: "revision-mark-own",
    at: "abab",
    says: /only once this revision is judged/,
  },
  {
    claim: "the report's own revision has the report's own date",
    change: revisions("  - { revision: A, issued: 2026-05-21 }\n"),
    code: "revisions-out-of-order",
    at: "2026-05-21",
    says: /as under report/,
  },
  {
    claim: "earlier revisions come first",
    change: revisions(
      `  - { revision: 1, issued: 2026-05-19, mark: ${"ab".repeat(16)} }\n  - { revision: 2, issued: 2026-05-18, mark: ${"cd".repeat(16)} }\n`,
    ),
    code: "revisions-out-of-order",
    at: "2026-05-18",
    says: /2026-05-19 or later/,
  },
  {
    claim: "no revision is later than the report",
    change: revisions(`  - { revision: C, issued: 2026-05-30, mark: ${"ab".repeat(16)} }\n`),
    code: "revisions-out-of-order",
    at: "2026-05-30",
    says: /2026-05-22 or earlier/,
  },
  {
    claim: "a revision is listed once",
    change: revisions(
      `  - { revision: 1, issued: 2026-05-18, mark: ${"ab".repeat(16)} }\n  - { revision: 1, issued: 2026-05-19, mark: ${"cd".repeat(16)} }\n`,
    ),
    code: "id-duplicate",
    at: "1, issued: 2026-05-19",
    says: /already used/,
  },
  {
    claim: "a kept result lies in the facility's folder",
    change: revisions(
      `  - { revision: 1, issued: 2026-05-18, mark: ${"ab".repeat(16)}, result: ../result.json }\n`,
    ),
    code: "path-outside",
    at: "../result.json",
    says: /below the facility's folder/,
  },
  {
    claim: "a correction says who made it",
    change: ["", "corrections:\n  - { file: passes/a.csv, what: x, why: y, on: 2026-05-20 }\n"],
    code: "key-missing",
    at: "{ file: passes/a.csv",
    says: /Who changed it/,
  },
]);
