import { describe, expect, test } from "vitest";
import { judgeFacility } from "../../src/analysis/judge.ts";
import { log, read, readSound } from "./folder.ts";

const load = ["3034257BF40C0E40000F4245", "3034257BF40C0E40000F4246"];
const stray = "E2004216CB60601500951ED6";

/** Two passes of one load at dock-1: from 10:00:00 and from 10:01:00, ten seconds each. */
const facility = (rows: string[], voided = "") => ({
  "facility.yaml": `name: Depot
time_zone: UTC
report: { number: R, revision: A, issued: 2026-05-22 }
rounds: [{ id: as-left, title: As left, date: 2026-05-21 }]
read_points: [{ id: dock-1 }]
reader_logs:
  - { files: reads/r.csv, read_point: dock-1, columns: { time: first, last_time: last, epc: code } }
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
    expect(judgeFacility(input!, "0").readPoints[0]!.rounds[0]).toMatchObject({
      tagsPresented: 2,
      tagsRead: 2,
    });
  });

  test("leaves the strays of the pass unrecorded, with a warning, where it is not of the load", async () => {
    const { input, problems } = await read(facility([...both, row("09:59:50", "10:00:20", stray)]));
    const [problem] = problems.filter(({ code }) => code === "reader-log-strays-unknown");
    expect(problem).toMatchObject({ severity: "warning", line: 7 });
    expect(problem!.found).toContain(stray);
    expect(input!.log.passes.map(({ straysRecorded }) => straysRecorded)).toEqual([false, true]);
  });
});
