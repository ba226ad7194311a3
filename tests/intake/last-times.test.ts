import { describe, expect, test } from "vitest";
import { judgeFacility } from "../../src/analysis/judge.ts";
import { log, read, readSound } from "./folder.ts";

const load = ["3034257BF40C0E40000F4245", "3034257BF40C0E40000F4246"];
const stray = "E2004216CB60601500951ED6";

/** Two passes of one load at dock-1: from 10:00:00 and from 10:01:00, ten seconds each. */
const facility = (rows: string[], voided = "", columns = "{ time: first, last_time: last, epc: code }") => ({
  "facility.yaml": `name: Depot
time_zone: UTC
report: { number: R, revision: A, issued: 2026-05-22 }
rounds: [{ id: as-left, title: As left, date: 2026-05-21 }]
read_points: [{ id: dock-1 }]
reader_logs:
  - { files: reads/r.csv, read_point: dock-1, columns: ${columns} }
criteria:
  - { id: c1, measure: tag-read-rate, at_least: 0.5 }
`,
  "manifests/load.csv": log("tag", ...load),
  "passes/p.csv": log(
    "pass,read_point,started_at,ended_at,manifest,void_reason",
    `P1,dock-1,2026-05-21 10:00:00,2026-05-21 10:00:10,load,${voided}`,
    "P2,dock-1,2026-05-21 10:01:00,2026-05-21 10:01:10,load,",
  ),
  "reads/r.csv": log("first,last,code", ...rows),
});
const row = (first: string, last: string, code: string) => `2026-05-21T${first}Z,2026-05-21T${last}Z,${code}`;

const both = load.map((code) => row("10:00:05", "10:01:05", code));
const before = row("09:59:50", "10:00:20", load[0]!);

describe("a tag that a row reports once for many reads", () => {
  test("is read in the pass of its first time and in that of its last", async () => {
    const { readPoints } = judgeFacility(await readSound(facility(both)), "0");
    expect(readPoints[0]!.rounds[0]).toMatchObject({ tagsPresented: 4, tagsRead: 4 });
  });

  test("is unknown in a pass that the row spans: an error with pass, tag and what to set", async () => {
    const { input, problems } = await read(facility([before, row("10:00:05", "10:01:05", load[1]!)]));
    expect(input).toBe(null);
    const [problem] = problems.filter(({ code }) => code === "reader-log-tags-unknown");
    expect(problem).toMatchObject({ severity: "error", file: "facility.yaml", line: 7 });
    expect(problem!.found).toContain(`"P1"`);
    expect(problem!.found).toContain(load[0]);
    expect(problem!.advice).toMatch(/end a sighting sooner .* void these passes/);
  });

  test("counts as missed in the rate with voids where the pass that the row spans is void", async () => {
    const rows = [before, row("10:00:05", "10:01:05", load[1]!), row("10:01:05", "10:01:06", load[0]!)];
    const { input, problems } = await read(facility(rows, "forklift"));
    expect(problems.filter(({ severity }) => severity === "error")).toEqual([]);
    const result = judgeFacility(input!, "0");
    expect(result.readPoints[0]!.rounds[0]).toMatchObject({ tagsPresented: 2, tagsRead: 2 });
    const [finding] = result.findings;
    expect(finding!.estimate).toMatchObject({ k: 2, n: 2 });
    expect(finding!.withVoids).toMatchObject({ k: 3, n: 4 });
  });

  test("leaves the strays of the pass unrecorded, with a warning, where it is not of the load", async () => {
    const { input, problems } = await read(facility([...both, row("09:59:50", "10:00:20", stray)]));
    const [problem] = problems.filter(({ code }) => code === "reader-log-strays-unknown");
    expect(problem).toMatchObject({ severity: "warning", line: 7 });
    expect(problem!.found).toContain(stray);
    expect(input!.log.passes.map(({ straysRecorded }) => straysRecorded)).toEqual([false, true]);
  });
});

describe("a log with a last time that its entry does not name", () => {
  const lasting = [
    row("09:59:50", "10:00:20", load[0]!),
    row("10:00:05", "10:01:05", load[1]!),
    row("10:01:06", "10:01:07", load[1]!),
  ];
  const told = async (rows: string[], columns: string, header = "first,LastSeenTime,code") => {
    const files = facility(rows, "", columns);
    const { input, problems } = await read({ ...files, "reads/r.csv": log(header, ...rows) });
    return { input, unread: problems.filter(({ code }) => code === "reader-log-last-time-unread") };
  };

  test("is an error where rows last longer than a pass, with the column and what to write", async () => {
    const { input, unread } = await told(lasting, "{ time: first, epc: code }");
    expect(input).toBe(null);
    expect(unread).toMatchObject([{ severity: "error", file: "facility.yaml", line: 7 }]);
    expect(unread[0]!.found).toBe(
      'a column of last times, "LastSeenTime", and 2 rows that last longer than a pass of 10 s, the longest 60 s',
    );
    expect(unread[0]!.advice).toContain("last_time: none");
  });

  test("is read by the first time where the entry says none, and where no row lasts as long as a pass", async () => {
    const none = await told(lasting, "{ time: first, last_time: none, epc: code }");
    expect([none.unread, none.input === null]).toEqual([[], false]);
    const short = [row("10:00:01", "10:00:09", load[0]!), row("10:01:05", "10:01:06", load[1]!)];
    const brief = await told(short, "{ time: first, epc: code }");
    expect([brief.unread, brief.input === null]).toEqual([[], false]);
  });

  test("takes no other column for one, however late its times are", async () => {
    const { input, unread } = await told(lasting, "{ time: first, epc: code }", "first,uploaded,code");
    expect([unread, input === null]).toEqual([[], false]);
  });

  test("is an error in JSON lines and in lists of reads too", async () => {
    const object = (line: string) => {
      const [first, last, code] = line.split(",");
      return { first, code, seen: { lastSeenTime: last } };
    };
    const items = lasting.map(object);
    for (const [name, text, key] of [
      ["r.jsonl", items.map((item) => JSON.stringify(item)).join("\n"), ""],
      ["r.json", JSON.stringify({ reads: items }), ", rows: reads"],
    ] as const) {
      const files = facility([], "", "{ time: first, epc: code }");
      const yaml = files["facility.yaml"].replace("reads/r.csv,", `reads/${name}${key},`);
      const { problems } = await read({ ...files, "facility.yaml": yaml, [`reads/${name}`]: text });
      expect(problems.map(({ code }) => code)).toContain("reader-log-last-time-unread");
    }
  });
});
