import { describe, expect, test } from "vitest";
import { judgeFacility } from "../../src/analysis/judge.ts";
import { type Files, log, read } from "./folder.ts";

const load = ["3034257BF40C0E40000F4245", "3034257BF40C0E40000F4246"];
const other = "E2004216CB60601500951ED6";

/** Two passes of one load at dock-1 and one at dock-2, with what the log of each holds. */
function facility({
  codes,
  entry = "",
  elsewhere = load,
}: {
  codes: string[];
  entry?: string;
  elsewhere?: string[];
}): Files {
  const point = (id: string, keys: string) =>
    `  - { files: reads/${id}.csv, read_point: ${id}, columns: { time: at, epc: code }${keys} }\n`;
  const reads = (texts: string[]) =>
    log("at,code", ...texts.map((code) => `2026-05-21T10:00:0${texts.indexOf(code)}Z,${code}`));
  return {
    "facility.yaml": `name: Depot
time_zone: UTC
report: { number: R, revision: A, issued: 2026-05-22 }
rounds: [{ id: as-left, title: As left, date: 2026-05-21 }]
read_points: [{ id: dock-1 }, { id: dock-2 }]
reader_logs:
${point("dock-1", entry)}${point("dock-2", "")}`,
    "manifests/load.csv": log("tag", ...load),
    "passes/p.csv": log(
      "pass,read_point,started_at,ended_at,manifest",
      "P1,dock-1,2026-05-21 10:00:00,2026-05-21 10:00:10,load",
      "P2,dock-2,2026-05-21 10:00:00,2026-05-21 10:00:10,load",
    ),
    "reads/dock-1.csv": reads(codes),
    "reads/dock-2.csv": reads(elsewhere),
  };
}

const foreign = async (files: Files) => {
  const { input, problems } = await read(files);
  return { input, problems: problems.filter(({ code }) => code === "reader-log-codes-foreign") };
};

describe("a log without any code of the manifests", () => {
  test("is no walk of misses: it is refused, with the entry to write", async () => {
    const codes = [...load.map((code) => Buffer.from(code).toString("hex")), other];
    const { input, problems } = await foreign(facility({ codes }));
    expect(input).toBe(null);
    expect(problems).toMatchObject([{ severity: "error", file: "facility.yaml", line: 7 }]);
    expect(problems[0]!.found).toContain("at dock-1: 3 codes");
    expect(problems[0]!.advice).toContain("2 of them are codes of the manifests");
    expect(problems[0]!.advice).toContain("write epc_form: ascii-hex in the entry");
  });

  test("is read as walked once the entry says how codes are written", async () => {
    const codes = load.map((code) => Buffer.from(code).toString("hex"));
    const { input, problems } = await foreign(facility({ codes, entry: ", epc_form: ascii-hex" }));
    expect(problems).toEqual([]);
    expect(judgeFacility(input!, "0").readPoints[0]!.rounds[0]).toMatchObject({
      tagsPresented: 2,
      tagsRead: 2,
    });
  });

  test("is a dead antenna where somebody has checked the codes: a remark, and every tag missed", async () => {
    const { input, problems } = await foreign(facility({ codes: [other], entry: ", codes_checked: true" }));
    expect(problems).toMatchObject([{ severity: "warning", line: 7 }]);
    expect(judgeFacility(input!, "0").readPoints[0]!.rounds[0]).toMatchObject({
      tagsPresented: 2,
      tagsRead: 0,
    });
  });

  test("says what to check where no reading fits", async () => {
    const { problems } = await foreign(facility({ codes: [other] }));
    expect(problems[0]!.advice).toMatch(/^Check whether read_point, columns\.epc and epc_form/);
    expect(problems[0]!.advice).toContain("codes_checked: true");
  });

  test("is as refused where its lines cannot even be read as codes", async () => {
    const codes = load.map((code) => BigInt(`0x${code}`).toString());
    const { problems } = await foreign(facility({ codes }));
    expect(problems[0]!.advice).toContain("write epc_form: decimal in the entry");
  });
});

describe("a log with two columns of codes, of which the entry names the wrong one", () => {
  const tids = ["E2801190A5030001", "E2801190A5030002"];
  const row = (tid: string, code: string, i: number) => `2026-05-21T10:00:0${i}Z,${tid},${code}`;
  const adviceOn = async (name: string, text: string, keys = "") => {
    const files = facility({ codes: [] });
    files[`reads/${name}`] = text;
    files["facility.yaml"] = String(files["facility.yaml"]).replace(
      "reads/dock-1.csv, read_point: dock-1, columns: { time: at, epc: code }",
      `reads/${name}, read_point: dock-1${keys}`,
    );
    const { problems } = await foreign(files);
    return problems.map(({ advice }) => advice).join();
  };
  const columns = ", columns: { time: at, epc: tid }";

  test("is told the right one, of tables with and without a header and of JSON", async () => {
    const rows = load.map((code, i) => row(tids[i]!, code, i));
    expect(await adviceOn("a.csv", log("at,tid,code", ...rows), columns)).toContain(
      '2 of the codes in the log\'s column "code" are codes of the manifests: write epc: "code" under columns in the entry.',
    );
    const numbers = ", header: no, columns: { time: 1, epc: 2 }";
    expect(await adviceOn("b.csv", log("# 2026", rows[0]!, rows[1]!, rows[1]!), numbers)).toContain(
      "write epc: 3 under",
    );
    const objects = load.map((code, i) =>
      JSON.stringify({ at: `2026-05-21T10:00:0${i}Z`, tag: { tid: tids[i], epc: code } }),
    );
    const path = ", columns: { time: at, epc: tag.tid }";
    expect(await adviceOn("c.jsonl", objects.join("\n"), path)).toContain('write epc: "tag.epc" under');
    const list = `{"reads":[${objects.join(", ")}]}`;
    expect(await adviceOn("d.json", list, `, rows: reads${path}`)).toContain('write epc: "tag.epc" under');
  });

  test("is told the form of the right one too, where it is another", async () => {
    const rows = load.map((code, i) => row(tids[i]!, BigInt(`0x${code}`).toString(), i));
    expect(await adviceOn("a.csv", log("at,tid,code", ...rows), columns)).toContain(
      'write epc: "code" under columns in the entry, and epc_form: decimal',
    );
  });
});

test("one code of the load is enough, even outside every pass", async () => {
  const files = facility({ codes: [other] });
  files["reads/dock-1.csv"] += `2026-05-21T11:00:00Z,${load[0]}\n`;
  const { problems } = await foreign(files);
  expect(problems).toEqual([]);
});

test("a read point where no pass presented a tag may hold any codes", async () => {
  const files = facility({ codes: [other] });
  files["manifests/none.csv"] = log("tag,presented", "E280000000000001,no");
  files["passes/p.csv"] = String(files["passes/p.csv"]).replace("10:00:10,load", "10:00:10,none");
  const { problems } = await foreign(files);
  expect(problems).toEqual([]);
});
