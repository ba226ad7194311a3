import { readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import { beforeAll, describe, expect, it } from "vitest";
import { judgeFacility } from "../../../src/analysis/judge.ts";
import { airInterfaceCrc } from "../../../src/codes/air-interface.ts";
import { openFacility } from "../../../src/intake/facility/facility.ts";
import { readFacility } from "../../../src/intake/read-facility-folder.ts";
import { describeLog } from "../../../src/intake/reader-log/describe/describe.ts";
import { shownTime } from "../../../src/intake/reader-log/describe/times.ts";
import { errors, inFolder } from "../folder.ts";

const yaml = `name: Depot
time_zone: Europe/Dublin
report: { number: R, revision: A, issued: 2026-05-22 }
rounds: [{ id: as-left, title: As left, date: 2026-05-21 }]
read_points: [{ id: dock-1 }, { id: dock-2 }]
pass_window: { before_s: 1, after_s: 2 }
`;

const [first, second, bystander, stranger] = [
  "3034AAAA0000000000000001",
  "3034AAAA0000000000000002",
  "3034BBBB0000000000000003",
  "E28011600000000000000009",
] as const;

const walk = `pass,read_point,started_at,ended_at,manifest
P1,dock-1,2026-05-21 10:00:00,2026-05-21 10:00:10,load
P2,dock-1,2026-05-21 10:03:00,2026-05-21 10:03:10,load
`;

interface Read {
  /** Minutes and seconds after nine in UTC, ten on the facility's clock. */
  at: string;
  ms: number;
  code: string;
  antenna: number;
  rssiCdbm: number;
}

/** What the reader heard: nine reads, of which one lies between the passes. */
const reads: Read[] = [
  { at: "00:02", ms: 250, code: first, antenna: 1, rssiCdbm: -5550 },
  { at: "00:03", ms: 500, code: first, antenna: 2, rssiCdbm: -6100 },
  { at: "00:05", ms: 125, code: second, antenna: 1, rssiCdbm: -7050 },
  { at: "00:06", ms: 0, code: bystander, antenna: 2, rssiCdbm: -7200 },
  { at: "01:30", ms: 750, code: first, antenna: 1, rssiCdbm: -5800 },
  { at: "03:03", ms: 0, code: first, antenna: 2, rssiCdbm: -6450 },
  { at: "03:04", ms: 0, code: first, antenna: 2, rssiCdbm: -6500 },
  { at: "03:09", ms: 5, code: stranger, antenna: 1, rssiCdbm: -7350 },
  { at: "03:11", ms: 999, code: stranger, antenna: 1, rssiCdbm: -7400 },
];

/** The same as counted by hand. */
const counted = {
  passes: [
    { id: "P1", missedTags: [], strayTags: [bystander] },
    { id: "P2", missedTags: [second], strayTags: [stranger] },
  ],
  heard: {
    tagsPresented: 4,
    tagsRead: 3,
    readsPerTag: { n: 3, min: 1, max: 2 },
    antennas: [
      { antenna: "1", tagsRead: 2, onlyHere: 1, strongestDbm: { n: 2, min: -70.5, max: -55.5 } },
      { antenna: "2", tagsRead: 2, onlyHere: 1, strongestDbm: { n: 2, min: -64.5, max: -61 } },
    ],
    strays: [
      { tag: stranger, bystander: false, passes: 1, reads: 2, strongestDbm: -73.5 },
      { tag: bystander, bystander: true, passes: 1, reads: 1, strongestDbm: -72 },
    ],
    idle: { heard: [{ minute: "2026-05-21T09:01Z", reads: 1, tags: 1 }] },
  },
};

const utc = ({ at, ms }: Read) => `2026-05-21T09:${at}.${String(ms).padStart(3, "0")}Z`;
const epochMs = (read: Read) => Date.parse(utc(read));
const local = ({ at }: Read) => `10:${at}`;
const dbm = ({ rssiCdbm }: Read, mark = ".") => (rssiCdbm / 100).toFixed(1).replace(".", mark);
const lines = (all: string[], end = "\n") => all.map((line) => line + end).join("");

/**
 * Describes a log, puts the entry into facility.yaml as somebody would who knows only what was said, and judges. `answers`
 * are what a person has to fill in: lines of the entry by what they hold, and what to put for it.
 */
async function judged(name: string, log: string | Buffer, answers: [string, string][]) {
  return inFolder(
    {
      "facility.yaml": yaml,
      "manifests/load.csv": `tag,presented\n${first},yes\n${second},yes\n${bystander},no\n`,
      "passes/walk.csv": walk,
      [`reads/${name}`]: log,
    },
    async (folder) => {
      const described = await describeLog(join(folder, "reads", name));
      let entry = described.entry;
      for (const [asked, answer] of answers) {
        expect(entry).toContain(asked);
        entry = entry.replace(asked, answer);
      }
      const path = join(folder, "facility.yaml");
      await writeFile(path, (await readFile(path, "utf8")) + entry);
      const { input, problems } = await readFacility(await openFacility(folder));
      expect(errors(problems)).toEqual([]);
      const { readPoints, inputs } = judgeFacility(input!, "0");
      const round = readPoints[0]!.rounds[0]!;
      const file = inputs.find(({ path: each }) => each.startsWith("reads/"))!;
      return { described, round, file, passes: round.passList };
    },
  );
}

const oneReader: [string, string][] = [["read_point: gate ", "read_point: dock-1 "]];

describe("a log is described, its entry pasted, and judged as counted by hand", () => {
  const heartbeat = `{"type":"heartbeat","at":{"time":${Date.parse("2026-05-21T09:02:00Z")}}}`;
  const air = (code: string) => `3000${code}${airInterfaceCrc(`3000${code}`)}`;
  it.each<[string, string, string | Buffer, [string, string][], { rows: number; used: number }]>([
    [
      "semicolons, decimal commas, a date by day, and a reader's column that no name gives away",
      "gate.csv",
      `\ufeff${lines(
        [
          "Zeit;Leser;EPC;Antenne;RSSI",
          ...reads.map(
            (read, i) =>
              `21.05.2026 ${local(read)},${String(read.ms).padStart(3, "0")};L-1;${i % 2 ? read.code.toLowerCase() : read.code};${read.antenna};${dbm(read, ",")}`,
          ),
          ...[1, 2, 3].map((s) => `21.05.2026 10:00:0${s},000;L-2;${first};1;-50,0`),
        ],
        "\r\n",
      )}`,
      [
        [
          "    read_point: gate  # guess: put the id of the read point that wrote this log: dock-1, dock-2\n    # read_point: { column: Leser, values: { L-1: l-1, L-2: l-2 } }",
          "    read_point: { column: Leser, values: { L-1: dock-1, L-2: dock-2 } }",
        ],
      ],
      { rows: 12, used: 12 },
    ],
    [
      "packed JSON lines with values inside values, and a line that is no read",
      "gate.jsonl.gz",
      gzipSync(
        lines([
          ...reads.map((read) =>
            JSON.stringify({
              at: { time: epochMs(read) },
              tag: { epc: `0x${read.code}`, rssi: Number(dbm(read)) },
              antenna: { port: read.antenna },
            }),
          ),
          heartbeat,
        ]),
      ),
      oneReader,
      { rows: 10, used: 9 },
    ],
    [
      "quoted fields, halves of the day, and a line of totals at the end",
      "gate.csv",
      lines([
        '"Read Time","EPC","Antenna","RSSI","Place"',
        ...reads.map(
          (read) =>
            `"05/21/2026 ${local(read)} AM","${read.code}","${read.antenna}","${dbm(read)}","dock, ""north"""`,
        ),
        '"Total: 9"',
      ]),
      oneReader,
      { rows: 10, used: 9 },
    ],
    [
      "fourteen digits for the time, vertical bars also at the ends of lines",
      "gate.log",
      lines([
        "epc|antenna|rssi|time|",
        ...reads.map(
          (read) => `${read.code}|${read.antenna}|${dbm(read)}|20260521${local(read).replaceAll(":", "")}|`,
        ),
      ]),
      oneReader,
      { rows: 9, used: 9 },
    ],
    [
      "no header, tabs, seconds with a fraction, and the words of the air interface round each code",
      "gate.txt",
      lines(
        reads.map((read) =>
          [(epochMs(read) / 1000).toFixed(3), air(read.code), read.antenna, dbm(read)].join("\t"),
        ),
      ),
      oneReader,
      { rows: 9, used: 9 },
    ],
    [
      "settings and header behind #, hundredths of a dBm, times that were never set, and a repeated row",
      "gate.csv",
      lines([
        "# power_cdbm = 3000",
        "# first_seen_us,epc,antenna,rssi_cdbm,count",
        ...[...reads, reads[0]!].map(
          (read) => `${epochMs(read) * 1000},${read.code},${read.antenna},${read.rssiCdbm},1`,
        ),
        `0,${first},1,-4000,1`,
      ]),
      oneReader,
      { rows: 11, used: 9 },
    ],
    [
      "push messages with lists, levels in lists, a time for the message, and messages without a list",
      "gate.jsonl",
      lines([
        ...reads.map((read) =>
          JSON.stringify({
            timestamp: utc(read),
            report: {
              tags: [{ epc: read.code, antenna: read.antenna, rssi: [-90, Number(dbm(read)), -91.5] }],
            },
          }),
        ),
        '{"timestamp":"2026-05-21T09:02:00Z","status":"alive"}',
      ]),
      oneReader,
      { rows: 9, used: 9 },
    ],
    [
      "one JSON document, packed, with the code under one of two names",
      "gate.json.gz",
      gzipSync(
        JSON.stringify(
          {
            RO_ACCESS_REPORT: reads.map((read, i) => ({
              TagReportData: {
                [i % 2 ? "EPC_96" : "EPCData"]: { EPC: read.code },
                AntennaID: { AntennaID: read.antenna },
                PeakRSSI: { PeakRSSI: Number(dbm(read)) },
                FirstSeenTimestampUTC: { Microseconds: epochMs(read) * 1000 },
              },
            })),
          },
          null,
          1,
        ),
      ),
      oneReader,
      { rows: 9, used: 9 },
    ],
    [
      "server-sent events among others",
      "gate.log",
      lines([
        ...reads.flatMap((read) => [
          "event: read",
          `data: ${JSON.stringify({ t: epochMs(read) / 1000, epc: read.code, ant: read.antenna, rssi: Number(dbm(read)) })}`,
          "",
        ]),
        "event: alive",
        "data: {}",
        "",
      ]),
      oneReader,
      { rows: 10, used: 9 },
    ],
    [
      "key=value behind the time",
      "gate.log",
      lines(
        reads.map(
          (read) =>
            `2026-05-21 ${local(read)}.${String(read.ms).padStart(3, "0")} epc=${read.code} antenna=${read.antenna} rssi=${dbm(read)}`,
        ),
      ),
      oneReader,
      { rows: 9, used: 9 },
    ],
    [
      "XML reports behind each other",
      "gate.xml",
      reads
        .map(
          (read, i) => `<?xml version="1.0" encoding="UTF-8"?>
<r:RO_ACCESS_REPORT xmlns:r="urn:r" MessageID="${i}"><r:TagReportData><r:EPC_96><r:EPC>${read.code}</r:EPC></r:EPC_96>
<r:AntennaID><r:AntennaID>${read.antenna}</r:AntennaID></r:AntennaID><r:PeakRSSI><r:PeakRSSI>${dbm(read)}</r:PeakRSSI></r:PeakRSSI>
<r:FirstSeenTimestampUTC><r:Microseconds>${utc(read).replace("Z", "")}</r:Microseconds></r:FirstSeenTimestampUTC></r:TagReportData></r:RO_ACCESS_REPORT>
`,
        )
        .join(""),
      oneReader,
      { rows: 9, used: 9 },
    ],
    [
      "a day and a time of day in two columns",
      "gate.tsv",
      lines([
        "Date\tTime\tEPC\tAntenna\tRSSI",
        ...reads.map(
          (read) =>
            `05/21/2026\t${local(read)}.${String(read.ms).padStart(3, "0")}\t${read.code}\t${read.antenna}\t${dbm(read)}`,
        ),
      ]),
      oneReader,
      { rows: 9, used: 9 },
    ],
  ])("%s", async (_, name, log, answers, rows) => {
    const { described, round, passes, file } = await judged(name, log, answers);
    const { rows: read, otherEvents, repeated, refused } = described.read!;
    expect([read + otherEvents, repeated, refused]).toEqual([
      file.rows,
      file.reader!.repeated,
      file.reader!.refused,
    ]);
    expect(passes.map(({ id, missedTags, strayTags }) => ({ id, missedTags, strayTags }))).toEqual(
      counted.passes,
    );
    expect(round.heard).toMatchObject(counted.heard);
    expect(round.bystanderReadRate).toMatchObject({ k: 1, n: 2 });
    expect(file).toMatchObject(rows);
  });

  it("antennas of one reader that belong to two read points are parted by the line that the entry offers", async () => {
    const log = lines([
      "time,epc,antenna,rssi",
      ...reads.map((read) => `${utc(read)},${read.code},${read.antenna},${dbm(read)}`),
    ]);
    const { round } = await judged("gate.csv", log, [
      [
        '    read_point: gate  # guess: put the id of the read point that wrote this log: dock-1, dock-2\n    # read_point: { column: antenna, values: { "1": "1", "2": "2" } }',
        '    read_point: { column: antenna, values: { "1": dock-1, "2": dock-2 } }',
      ],
    ]);
    expect(round.heard).toMatchObject({
      tagsRead: 2,
      antennas: [{ antenna: "1", tagsRead: 2, onlyHere: 2 }],
    });
  });
});

describe("every form of time that is proposed is the one by which the log is read", () => {
  const times: [string, string, string | null][] = [
    ["%d.%m.%Y %H:%M:%S,%f", "21.05.2026 10:00:02,250", null],
    ["%d.%m.%y %H:%M:%S", "21.05.26 10:00:02", null],
    ["%m/%d/%Y %I:%M:%S %p", "5/21/2026 10:00:02 AM", null],
    ["%m/%d/%Y %I:%M:%S%p", "05/21/2026 10:00:02am", null],
    ["%d/%m/%Y %H:%M:%S.%n", "21/05/2026 10:00:02.2500000", null],
    ["%Y/%m/%d %H:%M:%S.%f", "2026/05/21 10:00:02.25", null],
    ["%Y-%m-%d %H:%M:%S:%f", "2026-05-21 10:00:02:250", null],
    ["%Y-%m-%d-%H:%M:%S", "2026-05-21-10:00:02", null],
    ["%Y-%m-%d_%H-%M-%S", "2026-05-21_10-00-02", null],
    ["%Y%m%d%H%M%S", "20260521100002", null],
    ["%Y%m%d%H%M%S%f", "20260521100002250", null],
    ["%Y%m%dT%H%M%SZ", "20260521T090002Z", "UTC"],
    ["%Y%m%d_%H%M%S.%f", "20260521_100002.250", null],
    ["%d %b %Y %H:%M:%S", "21 May 2026 10:00:02", null],
    ["%d %B %Y %H:%M:%S", "21 August 2026 10:00:02", null],
    ["%b %d, %Y %I:%M:%S %p", "May 21, 2026 10:00:02 AM", null],
    ["%d-%b-%Y %H:%M:%S.%f", "21-May-2026 10:00:02.250", null],
    ["%a %b %d %H:%M:%S %Y", "Thu May 21 10:00:02 2026", null],
    ["%a, %d %b %Y %H:%M:%S %z", "Thu, 21 May 2026 10:00:02 +0100", null],
    ["%Y-%m-%d %H:%M:%S.%f UTC", "2026-05-21 09:00:02.250 UTC", "UTC"],
    ["%Y/%m/%d %H:%M:%SZ", "2026/05/21 09:00:02Z", "UTC"],
    ["%d.%m.%Y %H:%M:%S %z", "21.05.2026 03:00:02 -06:00", null],
  ];

  // An hour ahead of UTC all the year round: what zones do to times is asked elsewhere.
  const fixed = yaml.replace("Europe/Dublin", "Etc/GMT-1");

  /** A read point for each form, with one pass and a log of its own: described one by one, and read together. */
  async function judgedTogether() {
    const points = times.map((_, i) => `door-${i}`);
    const passes = times.map(([format], i) => {
      const day = format.includes("%B") ? "2026-08-21" : "2026-05-21";
      return `P${i},${points[i]},${day} 10:00:00,${day} 10:00:10,load`;
    });
    const files = {
      "facility.yaml": fixed,
      "manifests/load.csv": `tag\n${first}\n`,
      "passes/walk.csv": lines([walk.split("\n")[0]!, ...passes]),
      ...Object.fromEntries(
        times.map(([, time], i) => [
          `reads/door-${i}.csv`,
          lines(["time|epc|antenna", `${time}|${first}|1`, `${time}|${first}|2`]),
        ]),
      ),
    };
    return inFolder(files, async (folder) => {
      const described = [];
      for (const point of points) described.push(await describeLog(join(folder, "reads", `${point}.csv`)));
      const entries = described.map(({ entry }, i) =>
        entry.replace(/^reader_logs:\n/m, "").replace(/read_point: \S+/, `read_point: ${points[i]}`),
      );
      const named = fixed.replace(
        /read_points: .*/,
        `read_points: [${points.map((id) => `{ id: ${id} }`).join(", ")}]`,
      );
      await writeFile(join(folder, "facility.yaml"), `${named}reader_logs:\n${entries.join("")}`);
      const { input, problems } = await readFacility(await openFacility(folder));
      expect(errors(problems)).toEqual([]);
      const { readPoints } = judgeFacility(input!, "0");
      return described.map((log, i) => ({ described: log, round: readPoints[i]!.rounds[0]! }));
    });
  }

  let all: Awaited<ReturnType<typeof judgedTogether>>;
  beforeAll(async () => {
    all = await judgedTogether();
  });

  it.each(times.map(([format, time, zone], i) => ({ format, time, zone, i })))(
    "$format for $time",
    ({ format, time, zone, i }) => {
      const { described, round } = all[i]!;
      expect(described.guess.time).toMatchObject({ style: { unit: "iso", format } });
      expect(described.entry.includes("zone: UTC }")).toBe(zone === "UTC");
      const fraction = /[.,:](25\d*)(?: UTC)?$|(?<=\d{14})(250)$/.test(time) ? 250 : 0;
      // The window opens a second before the pass begins at ten.
      expect(round.heard?.firstReadMs).toMatchObject({ n: 1, min: 3000 + fraction });
      expect(shownTime(described.read!.sums.firstUs, described.guess.time)).toContain(
        zone === "UTC" ? "09:00:02" : /%z/.test(format) ? "09:00:02" : "10:00:02",
      );
    },
  );
});
