import { describe, expect, test } from "vitest";
import { judgeFacility } from "../../src/analysis/judge.ts";
import { log, places, read } from "./folder.ts";

const yaml = `name: Depot
time_zone: Europe/Dublin
report: { number: R, revision: A, issued: 2026-05-22 }
rounds: [{ id: as-left, title: As left, date: 2026-05-21 }]
read_points: [{ id: dock-1 }]
reader_logs:
  - files: reads/*.csv
    read_point: dock-1
    columns: { time: at, epc: code, count: seen }
    time: { unit: iso }
compare_with_reader: true
`;
const [a, b, c] = ["3034AAAA00000001", "3034AAAA00000002", "3034AAAA00000003"];
const files = {
  "facility.yaml": yaml,
  "manifests/load.csv": log("tag", a!, b!, c!),
  "passes/timed.csv": log(
    "pass,read_point,started_at,ended_at,manifest",
    "P1,dock-1,2026-05-21 10:00:00,2026-05-21 10:00:10,load",
    "P2,dock-1,2026-05-21 10:01:00,2026-05-21 10:01:10,load",
  ),
  "reads/r.csv": log(
    "at,code,seen",
    `2026-05-21T10:00:05+01:00,${a},3`,
    `2026-05-21T10:00:06+01:00,${b},1`,
    `2026-05-21T10:01:05+01:00,${a},2`,
    `2026-05-21T10:01:06+01:00,${b},2`,
    `2026-05-21T10:01:07+01:00,${c},2`,
  ),
};
/** P1 has another tag missed than the reader says; P2 agrees. */
const hand = log(
  "pass,read_point,manifest,missed_tags,void_reason",
  `P1,dock-1,load,${b},`,
  "P2,dock-1,load,none,",
);

async function judged(more: Record<string, string>) {
  const { input, problems } = await read({ ...files, ...more });
  if (input === null) throw new Error(JSON.stringify(problems));
  return { round: judgeFacility(input, "0").readPoints[0]!.rounds[0]!, problems, input };
}

describe("a pass logged by hand and by its reader", () => {
  test("the reader's log judges, whichever file comes first, and each tag they disagree on is named", async () => {
    const alone = await judged({ "facility.yaml": yaml.replace("compare_with_reader: true\n", "") });
    for (const name of ["passes/a.csv", "passes/z.csv"]) {
      const { round, problems, input } = await judged({ [name]: hand });
      expect(round).toEqual(alone.round);
      expect(round).toMatchObject({ passes: 2, tagsPresented: 6, tagsRead: 5 });
      expect(places(problems)).toEqual([
        `warning ${name}:2:16 hand-log-disagrees`,
        `warning ${name}:2:16 hand-log-disagrees`,
        `warning ${name}:-:- hand-log-compared`,
      ]);
      const said = problems.map(({ found, expected, advice }) => `${found}; ${expected}. ${advice}`);
      expect(said[0]).toMatch(`the tag "${b}" not read in pass "P1"; as in the reader's log: read 1 time`);
      expect(said[1]).toMatch(`the tag "${c}" read in pass "P1"; as in the reader's log: not read`);
      expect(said[2]).toMatch(/^2 passes.*with 6 rows of tags.*disagree 2 times/);
      expect(input.inputs.find(({ path }) => path === name)).toMatchObject({ rows: 2, used: 0 });
    }
  });

  test("an itemised log is compared row by row, in whatever way it writes the codes", async () => {
    const { problems } = await judged({
      "passes/hand.csv": log(
        "pass,read_point,tag,read",
        `P2,dock-1,${a!.toLowerCase()},yes`,
        `P2,dock-1,${b},no`,
        `P2,dock-1,${c},yes`,
      ),
    });
    expect(places(problems).filter((place) => place.includes("hand-log"))).toEqual([
      "warning passes/hand.csv:3:28 hand-log-disagrees",
      "warning passes/hand.csv:-:- hand-log-compared",
    ]);
  });

  test("a tally is compared by its count", async () => {
    const { problems, round } = await judged({
      "passes/hand.csv": log("pass,read_point,tags_presented,tags_read", "P1,dock-1,3,3", "P2,dock-1,3,3"),
    });
    expect(round.tagsRead).toBe(5);
    expect(problems.map(({ found, expected }) => `${found}; ${expected}`)).toEqual([
      '3 tags read in pass "P1"; as in the reader\'s log: 2',
      "2 passes that a timed log has, too; the same in both",
    ]);
  });

  test("what was logged by hand alone counts as it always did", async () => {
    const { round } = await judged({ "passes/hand.csv": `${hand}P3,dock-1,load,none,\n` });
    expect(round).toMatchObject({ passes: 3, tagsPresented: 9, tagsRead: 8 });
  });

  test("a reason to void stands for the pass, in whichever log it is", async () => {
    const { round } = await judged({ "passes/hand.csv": hand.replace("none,", "none,Cage fell over") });
    expect(round).toMatchObject({ passes: 1, voidPasses: 1 });
  });

  test("without being asked for, the same pass in both is an error that says how to ask", async () => {
    const without = yaml.replace("compare_with_reader: true\n", "");
    const { problems } = await read({ ...files, "facility.yaml": without, "passes/z.csv": hand });
    expect(problems[0]).toMatchObject({ severity: "error", code: "pass-in-two-files" });
    expect(problems[0]!.advice).toMatch(/compare_with_reader: true/);
  });

  test("to ask for it where no pass stands in both is remarked on", async () => {
    const { problems } = await judged({});
    expect(problems).toMatchObject([{ code: "compare-unused", file: "facility.yaml", severity: "warning" }]);
  });
});
