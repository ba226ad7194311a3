import { describe, expect, test } from "vitest";
import { judgeFacility } from "../../src/analysis/judge.ts";
import { log, places, read, readSound } from "./folder.ts";

const yaml = `name: Depot
time_zone: Europe/Dublin
report: { number: R, revision: A, issued: 2026-05-22 }
rounds: [{ id: as-left, title: As left, date: 2026-05-21 }]
read_points: [{ id: dock-1 }, { id: dock-2 }]
reader_logs:
  - files: reads/*.csv
    read_point: { column: reader, values: { R1: dock-1, R2: dock-2 } }
    columns: { time: at, epc: code, antenna: antenna, rssi: rssi, count: seen }
    time: { unit: iso }
pass_window: { before_s: 1, after_s: 2 }
`;
const passHeader = "pass,read_point,started_at,ended_at,manifest";
const pass = (id: string, from: string, to: string, point = "dock-1") =>
  `${id},${point},2026-05-21 ${from},2026-05-21 ${to},load`;
const readHeader = "reader,at,code,antenna,rssi,seen";
const heard = (at: string, code: string, antenna = 1, rssi = -60, seen = 1, reader = "R1") =>
  `${reader},2026-05-21T${at}+01:00,${code},${antenna},${rssi},${seen}`;

const manifest = "tag,presented\n3034AAAA00000001,yes\n3034AAAA00000002,yes\n3034BBBB00000001,no\n";

function files(passes: string[], reads: string[]): Record<string, string> {
  return {
    "facility.yaml": yaml,
    "manifests/load.csv": manifest,
    "passes/p.csv": log(passHeader, ...passes),
    "reads/r.csv": log(readHeader, ...reads),
  };
}

describe("a timed pass", () => {
  test("read what its reader heard within the window, missed the rest, and heard the others uninvited", async () => {
    const input = await readSound(
      files(
        [pass("P1", "10:00:00", "10:00:10"), pass("P2", "10:01:00", "10:01:10")],
        [
          heard("09:59:59", "0x3034aaaa00000001", 2, -64.5, 3),
          heard("10:00:12", "3034 AAAA 0000 0001", 1, -61.25),
          heard("10:00:13", "3034AAAA00000002"),
          heard("10:00:05", "E280000000000009", 1, -70),
          heard("10:01:05", "3034BBBB00000001"),
          heard("10:01:05", "3034AAAA00000002"),
        ],
      ),
    );
    const { readPoints } = judgeFacility(input, "0");
    const round = readPoints[0]!.rounds[0]!;
    expect(round).toMatchObject({ passes: 2, tagsPresented: 4, tagsRead: 2 });
    expect(round.passList.map(({ id, missedTags, strayTags }) => ({ id, missedTags, strayTags }))).toEqual([
      { id: "P1", missedTags: ["3034AAAA00000002"], strayTags: ["E280000000000009"] },
      { id: "P2", missedTags: ["3034AAAA00000001"], strayTags: ["3034BBBB00000001"] },
    ]);
    expect(round.bystanderReadRate).toMatchObject({ k: 1, n: 2 });
    // Three reads and one of the first tag; one of the second. The stray and the bystander were not presented.
    expect(round.passList.map(({ reads, readsFrom }) => [reads, readsFrom])).toEqual([
      [4, "reader-log"],
      [1, "reader-log"],
    ]);
    expect(round.heard).toMatchObject({
      tagsPresented: 4,
      tagsRead: 2,
      readsPerTag: { n: 2, min: 1, max: 4 },
      firstReadMs: { min: 0, max: 6000 },
      antennas: [
        { antenna: "1", tagsRead: 2, onlyHere: 1 },
        { antenna: "2", tagsRead: 1, onlyHere: 0, strongestDbm: { max: -64.5 } },
      ],
      strays: [
        { tag: "3034BBBB00000001", passes: 1, reads: 1 },
        { tag: "E280000000000009", uri: "urn:epc:raw:64.xE280000000000009", strongestDbm: -70 },
      ],
    });
  });

  test("hears to the microsecond: what comes before its end counts, what comes after does not", async () => {
    const input = await readSound({
      ...files(
        [pass("P1", "10:00:00", "10:00:20.0007")],
        [
          heard("10:00:20.0005", "3034AAAA00000001"),
          heard("10:00:20.000701", "3034AAAA00000002"),
          heard("10:01:00", "3034AAAA00000001"),
        ],
      ),
      "facility.yaml": yaml.replace(/pass_window.*\n/, "pass_window: { before_s: 0, after_s: 0 }\n"),
    });
    const { passList } = judgeFacility(input, "0").readPoints[0]!.rounds[0]!;
    expect(passList).toMatchObject([
      { endedAt: "2026-05-21T09:00:20.000700Z", missedTags: ["3034AAAA00000002"] },
    ]);
  });

  test("has the settings that a log states above its data, for each round that the log covers there", async () => {
    const given = files(
      [pass("P1", "10:00:00", "10:00:10")],
      [heard("10:00:05", "3034AAAA00000001"), heard("10:00:06", "3034AAAA00000002")],
    );
    const input = await readSound({
      ...given,
      "reads/r.csv": `# Tx power: 27 dBm\n# session = 1\n${given["reads/r.csv"]}`,
    });
    expect(input.log.heard!.settings).toEqual([
      {
        file: "reads/r.csv",
        readPoint: "dock-1",
        round: "as-left",
        values: [
          { name: "Tx power", value: "27 dBm" },
          { name: "session", value: "1" },
        ],
      },
    ]);
  });

  test("leaves what was heard between the passes to the idle time, by clock minute", async () => {
    const input = await readSound(
      files(
        [pass("P1", "10:00:00", "10:00:10"), pass("P2", "10:05:00", "10:05:10")],
        [
          heard("10:00:05", "3034AAAA00000001"),
          heard("10:02:00", "3034AAAA00000001", 1, -60, 5),
          heard("10:02:30", "3034AAAA00000001"),
          heard("10:02:59", "E280000000000009"),
          heard("10:05:05", "3034AAAA00000001"),
          heard("10:59:00", "3034AAAA00000001"),
        ],
      ),
    );
    const idle = judgeFacility(input, "0").readPoints[0]!.rounds[0]!.heard!.idle!;
    // From 09:59:59 to 10:05:12 less two windows of 13 s: 313 - 26 = 287 s.
    expect(idle.minutes).toBeCloseTo(287 / 60, 9);
    expect(idle.heard).toEqual([{ minute: "2026-05-21T09:02Z", reads: 7, tags: 2 }]);
    expect(idle.rate).toMatchObject({ k: 2, method: "poisson" });
    expect(input.log.heard!.idle[0]!.tags).toEqual([
      { tag: "3034AAAA00000001", reads: 6, rssiDbm: -60, antennas: ["1"] },
      { tag: "E280000000000009", reads: 1, rssiDbm: -60, antennas: ["1"] },
    ]);
  });

  test("knows how long tags stayed: minutes that heard them, and from the first to the last, but for those that a pass takes whole", async () => {
    const input = await readSound(
      files(
        [
          pass("P1", "10:00:00", "10:00:10"),
          pass("P2", "10:05:00", "10:07:00"),
          pass("P3", "10:30:00", "10:30:10"),
        ],
        [
          heard("10:00:05", "3034AAAA00000001"),
          // Four minutes of nine; two of these nine are taken by the second pass.
          heard("10:02:00", "E280000000000009", 1, -60, 5),
          heard("10:02:30", "E280000000000009", 2),
          heard("10:04:00", "E280000000000009"),
          heard("10:06:00", "E280000000000009"),
          heard("10:08:00", "E280000000000009"),
          heard("10:10:00", "E280000000000009"),
          heard("10:20:00", "E280000000000008"),
          heard("10:30:05", "3034AAAA00000001"),
        ],
      ),
    );
    expect(input.log.heard!.idle[0]!.stays).toEqual({ tags: 2, squares: 17, longestMinutes: 7 });
    const idle = judgeFacility(input, "0").readPoints[0]!.rounds[0]!.heard!.idle!;
    expect(idle.stays).toEqual({ tags: 2, meanMinutes: 17 / 5, longestMinutes: 7 });
    expect(idle.rate.designEffect).toBeGreaterThanOrEqual(17 / 5);
  });

  test("neither opens nor closes a session earlier or later than its window does, be it within one clock minute", async () => {
    const input = await readSound(
      files(
        [pass("P1", "10:00:05", "10:00:10"), pass("P2", "10:05:00", "10:05:10")],
        [
          heard("10:00:03", "3034AAAA00000001"),
          heard("10:00:06", "3034AAAA00000001"),
          heard("10:00:13", "3034AAAA00000002"),
          heard("10:04:58", "3034AAAA00000001"),
          heard("10:05:05", "3034AAAA00000001"),
          heard("10:05:13", "E280000000000009"),
          heard("10:05:40", "3034AAAA00000001"),
        ],
      ),
    );
    const idle = judgeFacility(input, "0").readPoints[0]!.rounds[0]!.heard!.idle!;
    expect(idle.heard).toEqual([
      { minute: "2026-05-21T09:00Z", reads: 1, tags: 1 },
      { minute: "2026-05-21T09:04Z", reads: 1, tags: 1 },
    ]);
    // From 10:00:04 to 10:05:12 less windows of 8 and of 13 s: 308 - 21 = 287 s.
    expect(idle.rate.k).toBe(2);
    expect(idle.minutes).toBeCloseTo(287 / 60, 9);
  });

  test("may not overlap another at its read point, and both are named", async () => {
    const { problems } = await read(
      files(
        [
          pass("P1", "10:00:00", "10:00:10"),
          pass("P2", "10:00:12", "10:00:20"),
          pass("P3", "10:00:05", "10:00:15", "dock-2"),
        ],
        [heard("10:00:05", "3034AAAA00000001"), heard("10:00:06", "3034AAAA00000001", 1, -60, 1, "R2")],
      ),
    );
    expect(places(problems)).toEqual(["error passes/p.csv:3:11 passes-overlap"]);
    expect(problems[0]!.found).toContain("P2");
    expect(problems[0]!.expected).toContain("P1");
  });

  test("at a read point without reads, or outside the time of its log, is an error and no walk of misses", async () => {
    const { problems } = await read(
      files(
        [
          pass("P1", "10:00:00", "10:00:10"),
          pass("P2", "12:00:00", "12:00:10"),
          pass("P3", "10:00:00", "10:00:10", "dock-2"),
        ],
        [heard("10:00:05", "3034AAAA00000001")],
      ),
    );
    expect(places(problems).filter((place) => place.startsWith("error"))).toEqual([
      "error passes/p.csv:3:11 pass-outside-log",
      "error passes/p.csv:4:11 reader-log-silent",
    ]);
  });

  test("needs both its times, which tell its reads from those of other passes", async () => {
    const { problems } = await read(
      files(["P1,dock-1,2026-05-21 10:00:00,,load"], [heard("10:00:05", "3034AAAA00000001")]),
    );
    expect(places(problems)).toEqual(["error passes/p.csv:2:31 time-blank"]);
    expect(problems[0]!.advice).toMatch(/start and the end.*which reads belong to the pass/);
  });

  test("are read as what they are where reader_logs has a slip, so that only the slip is told", async () => {
    const sound = files([pass("P1", "10:00:00", "10:00:10")], [heard("10:00:05", "3034AAAA00000001")]);
    const slips: [string, string, string, string][] = [
      ["time: at, ", "", "9:14", "a text or a whole number"],
      ["time: { unit: iso }", "time: { unit: sec }", "10:19", "one of iso, s, ms, us, ns"],
      ["time: { unit: iso }", 'delimiter: ";;"', "10:16", "a single character"],
      ["time: { unit: iso }", 'delimiter: ""', "10:16", "a single character"],
    ];
    for (const [from, to, place, expected] of slips) {
      const { problems } = await read({ ...sound, "facility.yaml": yaml.replace(from, to) });
      expect(problems).toHaveLength(1);
      expect(places(problems)[0]).toContain(`error facility.yaml:${place} `);
      expect(problems[0]!.expected).toBe(expected);
    }
  });

  test("with a load of names that no reader writes says that they count as missed", async () => {
    const passes = [pass("P1", "10:00:00", "10:00:10"), pass("P2", "10:01:00", "10:01:10")];
    const load = { "manifests/load.csv": "tag,presented\n3034AAAA00000001,yes\nbox-7,yes\nlane-9,no\n" };
    const reads = [heard("10:00:05", "3034AAAA00000001"), heard("10:01:05", "3034AAAA00000001")];
    const { problems, input } = await read({ ...files(passes, reads), ...load });
    expect(places(problems)).toEqual(["warning manifests/load.csv:3:1 labels-never-heard"]);
    expect(problems[0]!.found).toMatch(/^1 of 2 tags .*"box-7"$/);
    expect(input).not.toBeNull();
    const named = await read({ ...files(passes, [...reads, heard("10:01:05", "box-7")]), ...load });
    expect(places(named.problems)).toEqual([]);
  });

  test("is none where the pass log says itself what was missed, and the reader's log is said to stand unused", async () => {
    const [header, line] = [`${passHeader},missed_tags`, `${pass("P1", "10:00:00", "10:00:10")},`];
    const { problems, input } = await read({
      ...files([], [heard("10:00:05", "3034AAAA00000001")]),
      "passes/p.csv": log(header, line),
    });
    expect(places(problems)).toContain("warning facility.yaml:7:3 reader-logs-unused");
    expect(input?.log.passes[0]?.form).toBe("listed");
  });

  test("at a reader log that cannot be read are not told of its silence too", async () => {
    const { problems } = await read({
      ...files([pass("P1", "10:00:00", "10:00:10")], [heard("10:00:05", "3034AAAA00000001")]),
      "facility.yaml": yaml.replace("time: at", "time: moment"),
    });
    expect(places(problems)).toEqual(["error reads/r.csv:-:- reader-log-column-missing"]);
  });

  test("whose reader runs 32 s fast is told so, with the value to write, and nothing is shifted", async () => {
    const starts = [0, 90, 200, 340, 410, 555, 700];
    const clock = (s: number) => new Date(Date.UTC(2026, 4, 21, 10, 0, s)).toISOString().slice(11, 19);
    const { problems, input } = await read(
      files(
        starts.map((s, i) => pass(`P${i}`, clock(s), clock(s + 10))),
        starts.flatMap((s) => [4, 5, 6].map((more) => heard(clock(s + more + 32), "3034AAAA00000001"))),
      ),
    );
    const remark = problems.find(({ code }) => code === "clock-shifted")!;
    expect(remark).toMatchObject({ severity: "warning", file: "facility.yaml", line: 7 });
    expect(remark.advice).toContain("clock_offset_s: -3");
    expect(input).toBeNull();
  });

  describe("with two readers in one log", () => {
    const starts = [0, 90, 200, 340, 410, 555, 700];
    const clock = (s: number) => new Date(Date.UTC(2026, 4, 21, 10, 0, s)).toISOString().slice(11, 19);
    const said = async (firstS: number, secondS: number) => {
      const { problems } = await read(
        files(
          ["dock-1", "dock-2"].flatMap((point) =>
            starts.map((s, i) => pass(`P${i}`, clock(s), clock(s + 10), point)),
          ),
          [
            ["R1", firstS],
            ["R2", secondS],
          ].flatMap(([reader, offS]) =>
            starts.flatMap((s) =>
              [4, 5, 6].map((more) =>
                heard(clock(s + more + Number(offS)), "3034AAAA00000001", 1, -60, 1, String(reader)),
              ),
            ),
          ),
        ),
      );
      return problems
        .filter(({ code }) => code === "clock-shifted")
        .map(({ found, advice }) => `${found.slice(0, 9)}: ${advice}`);
    };

    test("that run fast alike, both are told to state the difference in their entry", async () => {
      const [one, other, ...rest] = await said(47, 47);
      expect(rest).toEqual([]);
      expect(one).toMatch(/^at dock-1: .*write clock_offset_s: -4[67]\.\d in this entry of reader_logs/);
      expect(other).toMatch(/^at dock-2: .*write clock_offset_s: -4[67]\.\d in this entry of reader_logs/);
    });

    test("that differ, each is told to take its rows to an entry of their own, since one entry has one offset", async () => {
      const [one, other, ...rest] = await said(47, 23);
      expect(rest).toEqual([]);
      expect(one).toMatch(
        /^at dock-1: .*an entry of reader_logs of their own, with clock_offset_s: -4[67]\.\d/,
      );
      expect(other).toMatch(
        /^at dock-2: .*an entry of reader_logs of their own, with clock_offset_s: -2[23]\.\d/,
      );
    });

    test("of which one is right, the other is told so alone, and not to shift both", async () => {
      const [one, ...rest] = await said(47, 0);
      expect(rest).toEqual([]);
      expect(one).toMatch(/^at dock-1: .*into a log and an entry of reader_logs of their own/);
    });
  });

  test("lists a code as a bystander where it was placed, and as a stray where it was not", async () => {
    const input = await readSound({
      ...files(
        [pass("P1", "10:00:00", "10:00:10"), pass("P2", "10:01:00", "10:01:10").replace("load", "bare")],
        [heard("10:00:05", "3034BBBB00000001"), heard("10:01:05", "3034BBBB00000001", 1, -66, 2)],
      ),
      "manifests/bare.csv": "tag\n3034AAAA00000001\n",
    });
    expect(judgeFacility(input, "0").readPoints[0]!.rounds[0]!.heard?.strays).toMatchObject([
      { tag: "3034BBBB00000001", bystander: false, passes: 1, reads: 2, strongestDbm: -66 },
      { tag: "3034BBBB00000001", bystander: true, passes: 1, reads: 1, strongestDbm: -60 },
    ]);
  });
});
