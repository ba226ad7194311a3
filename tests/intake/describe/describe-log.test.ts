import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import fc from "fast-check";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { parse } from "yaml";
import { readerLogSchema } from "../../../src/intake/facility/reader-logs.ts";
import { type DescribedLog, describeLog } from "../../../src/intake/reader-log/describe/describe.ts";
import { UnreadableLog } from "../../../src/intake/reader-log/describe/sample.ts";
import { descriptionText } from "../../../src/intake/reader-log/describe/text.ts";
import { shownTime } from "../../../src/intake/reader-log/describe/times.ts";
import { draws } from "../../draws.ts";

let room: string;

beforeAll(async () => {
  room = await mkdtemp(join(tmpdir(), "proofwalk-describe-"));
});

afterAll(() => rm(room, { recursive: true }));

const described = new Map<string | Buffer, Promise<DescribedLog>>();

/** A log described in a folder of its own; claims about the same log share its description. */
function told(text: string | Buffer, name = "gate.csv"): Promise<DescribedLog> {
  const key = typeof text === "string" ? `${name}\n${text}` : text;
  const log = described.get(key) ?? describedAnew(text, name);
  described.set(key, log);
  return log;
}

async function describedAnew(text: string | Buffer, name: string): Promise<DescribedLog> {
  const path = join(await mkdtemp(join(room, "log-")), name);
  await writeFile(path, text);
  return describeLog(path);
}

/** The entry as facility.yaml would hold it, checked by facility.yaml's own schema. */
function entry(log: DescribedLog) {
  const { reader_logs: entries } = parse(log.entry) as { reader_logs: unknown[] };
  return readerLogSchema.parse(entries[0]);
}

/** Reads with made-up values: `row` says how one is written. */
function rows(count: number, row: (i: number, code: string) => string, end = "\n"): string {
  let text = "";
  for (let i = 0; i < count; i += 1) {
    text += row(i, `3034257BF40C0E400000${(i % 7).toString(16).toUpperCase().padStart(4, "0")}`) + end;
  }
  return text;
}

const firstUs = 1_779_350_400_000_000;

/** The first time and the last one. */
function span({ read, guess }: DescribedLog): string[] {
  return [read!.sums.firstUs, read!.sums.lastUs].map((us) => shownTime(us, guess.time));
}

function remarks(log: DescribedLog): string {
  return log.remarks.join("\n");
}

describe("a log in the words of LLRP", () => {
  const header =
    "ROSpecID,EPC,AntennaID,PeakRSSI,ChannelIndex,FirstSeenTimestampUTC,LastSeenTimestampUTC,TagSeenCount\n";
  const made =
    header +
    rows(
      60,
      (i, code) =>
        `1,${code},${1 + (i % 4)},${-50 - (i % 9)},${i % 50},${firstUs + i * 50_000},${firstUs + i * 50_000 + 900},${1 + (i % 3)}`,
    );

  it("is recognised column by column, and its entry fits facility.yaml", async () => {
    const log = await told(made);
    expect(log.columns.map(({ role }) => role)).toEqual([
      "reader's own settings",
      "code",
      "antenna",
      "RSSI",
      "channel",
      "time",
      "last time",
      "count",
    ]);
    expect(entry(log)).toEqual({
      files: "reads/gate.csv",
      read_point: "gate",
      columns: {
        time: "FirstSeenTimestampUTC",
        last_time: "LastSeenTimestampUTC",
        epc: "EPC",
        antenna: "AntennaID",
        rssi: "PeakRSSI",
        count: "TagSeenCount",
      },
      time: { unit: "us" },
      rssi_unit: "dBm",
    });
    expect(log.remarks.join("\n")).toContain("A row reports its tag at two instants");
    expect(log.remarks.join("\n")).toContain("Write last_time: none");
  });

  it("is counted: rows, tags, time span, strength, reads a row stands for", async () => {
    const log = await told(made);
    expect(log.read?.rows).toBe(60);
    expect(log.read?.tags).toMatchObject({
      distinct: 7,
      form: "hex",
      shapes: [{ shape: "24 hexadecimal digits", codes: 7 }],
    });
    expect(span(log)).toEqual(["2026-05-21T08:00:00.000Z", "2026-05-21T08:00:02.950Z"]);
    expect(log.read?.order.falls).toBe(0);
    expect(log.rssi).toMatchObject({ min: -58, median: -54, max: -50, scale: "dBm" });
    expect(log.read?.sums).toMatchObject({ reads: 120, mostReads: 3, countedRows: 40 });
    expect(log.read?.antennas).toMatchObject([1, 2, 3, 4].map((name) => ({ name: String(name), rows: 15 })));
    expect(remarks(log)).toContain("40 rows stand for more than one read: 120 reads in 60 rows.");
  });

  it("marks what is a guess and nothing that is not", async () => {
    const lines = (await told(made)).entry.split("\n");
    const guessed = lines
      .filter((line) => line.includes("# guess: "))
      .map((line) => line.trim().replace(/:.*/, ""));
    expect(guessed).toEqual(["- files", "read_point", "time", "rssi_unit"]);
  });
});

describe("spellings of the standards and of plain English", () => {
  it.each([
    ["eventTime,epcList", "2026-05-21T08:00:00+01:00"],
    ["UII,Timestamp (UTC)", "2026-05-21T08:00:00Z"],
    ["tag_id;First Seen;rssi_dbm;Antenna Port;read count;reader name", "2026-05-21 08:00:00"],
    ["TAG ID\tTIME\tSIGNAL STRENGTH", "2026-05-21 08:00:00"],
    ["ScanData|Timestamp|Strength|Antenna", "2026-05-21T08:00:00Z"],
    ["epc,firstSightingTime", "2026-05-21T08:00:00Z"],
  ])("%s is understood by its names", async (header, time) => {
    const mark = /[;\t|]/.exec(header)?.[0] ?? ",";
    const value = (name: string) => {
      if (/time|seen|stamp/i.test(name)) return time;
      if (/rssi|strength/i.test(name)) return "-61";
      return /ant|count/i.test(name) ? "2" : /reader/.test(name) ? "R-1" : "3034257BF40C0E4000000001";
    };
    const names = header.split(mark);
    const log = await told(`${header}\n${`${names.map(value).join(mark)}\n`.repeat(3)}`);
    expect(log.columns.filter(({ used }) => !used)).toEqual([]);
    expect(log.columns.filter(({ by }) => by !== "name")).toEqual([]);
    expect(entry(log).columns.time).toBe(names.find((name) => /time|seen|stamp/i.test(name)));
  });

  it("a chip's own number is not taken for the code beside it", async () => {
    const log = await told(
      `tid,epc,time\n${rows(5, (_, code) => `E2003412012345678901,${code},2026-05-21T08:00:00Z`)}`,
    );
    expect(entry(log).columns.epc).toBe("epc");
    expect(log.columns[0]?.role).toBe("chip number");
  });

  it("a rival column for the same thing is named", async () => {
    const log = await told(
      `epc,tag_id,time\n${rows(5, (_, code) => `${code},${code},2026-05-21T08:00:00Z`)}`,
    );
    expect(remarks(log)).toContain('"tag_id" could be the code as well as "epc", which was taken.');
  });
});

describe("a log without a header", () => {
  const made = rows(40, (i, code) =>
    [firstUs / 1e6 + i / 8, `0x${code}`, 1 + (i % 4), -6100 - i, 1 + (i % 5)].join("\t"),
  );

  it("goes by the numbers of its columns, each a guess by what it holds", async () => {
    const log = await told(made, "gate.txt");
    expect(entry(log)).toMatchObject({
      columns: { time: 1, epc: 2, antenna: 3, rssi: 4 },
      time: { unit: "s" },
      rssi_unit: "cdBm",
      delimiter: "\t",
      header: "no",
    });
    expect(log.entry).toContain("epc: 2  # guess: going by what it holds");
    expect(log.read?.tags?.shapes).toEqual([{ shape: "24 hexadecimal digits, after 0x", codes: 7 }]);
  });

  it("leaves out small numbers that could be several things, and says so", async () => {
    const log = await told(made);
    expect(entry(log).columns.count).toBeUndefined();
    expect(remarks(log)).toContain("column 3 and column 5 could each be the antenna; column 3 was taken.");
  });

  it("that has tabs in a .tsv needs no delimiter", async () => {
    expect(entry(await told(made, "gate.tsv")).delimiter).toBeUndefined();
  });
});

describe("a log of decimal commas with its header and settings in comments", () => {
  const head =
    "\ufeff// reader: north gate\r\n// power = 30\r\n// Time;Reader Name;EPC;Antenna;RSSI (dBm);Frequency\r\n";
  const made =
    head +
    rows(
      30,
      (i, code) => `21.05.2026 08:00:${10 + i},25;R-${17 + (i % 2)};${code.toLowerCase()};1;-61,5;${i % 50}`,
      "\r\n",
    );

  it("is told with its byte-order mark, line ends, settings and marks", async () => {
    const log = await told(made);
    expect(log.table).toMatchObject({ delimiter: ";", decimal: ",", header: "commented", headerLine: 3 });
    expect(log.text).toMatchObject({
      byteOrderMark: true,
      lineEnds: { lf: 0, crlf: 33, cr: 0 },
      comments: [
        { line: 1, text: "reader: north gate" },
        { line: 2, text: "power = 30" },
      ],
    });
  });

  it("gets an entry that names both readers, the format of its times and the marks", async () => {
    expect(entry(await told(made))).toMatchObject({
      read_point: { column: "Reader Name", values: { "R-17": "r-17", "R-18": "r-18" } },
      time: { unit: "iso", format: "%d.%m.%Y %H:%M:%S,%f" },
      rssi_unit: "dBm",
      delimiter: ";",
      decimal: ",",
      header: "commented",
    });
  });

  it("says that its frequency is a channel index and that its times state no offset", async () => {
    const said = remarks(await told(made));
    expect(said).toContain(
      '"Frequency" is called a frequency but holds small whole numbers: a channel index',
    );
    expect(said).toContain('Times in "Time" state no offset from UTC');
  });
});

it("decimal commas inside quotes do not break a comma file", async () => {
  const log = await told(
    `time,epc,rssi\n${rows(9, (i, code) => `2026-05-21T08:00:0${i}Z,${code},"-61,${i}"`)}`,
  );
  expect(log.rssi).toMatchObject({ min: -61.8, max: -61, outside: 0 });
  expect(log.read?.refused).toBe(0);
  expect(entry(log)).toMatchObject({ decimal: "," });
});

describe("lines of a log that are odd", () => {
  const good = (i: number) => `2026-05-21T08:00:0${i}Z,3034257BF40C0E400000000${i},-60`;

  it("are told with their numbers: short, long, unclosed, without time or code, header again, cut off", async () => {
    const made = [
      "time,epc,rssi",
      good(1),
      "2026-05-21T08:00:02Z,3034257BF40C0E4000000002",
      `${good(3)},extra`,
      good(4),
      'x,"open,-60',
      "yesterday,3034257BF40C0E4000000005,-60",
      "2026-05-21T08:00:06Z,,-60",
      "time,epc,rssi",
      "",
      good(7),
      "2026-05-21T08:00:08Z,3034",
    ].join("\n");
    const log = await told(made);
    expect(log.read?.odd.map(({ words, first }) => [words, ...first.map(({ line }) => line)])).toEqual([
      ["too few columns", 3, 12],
      ["too many columns", 4],
      ["a quote that does not close", 6],
      ["a time that cannot be read", 7],
      ["no code", 8],
      ["the header once more", 9],
    ]);
    expect(remarks(log)).toContain("The last line has no line end: it may have been cut off.");
    expect(log.text).toMatchObject({ finalNewline: false, blankLines: 1 });
  });

  it("are counted beyond the first few of a kind", async () => {
    const log = await told(
      `time,epc\n${rows(20, (_, code) => `2026-05-21T08:00:00Z,${code}`)}${"broken\n".repeat(15)}`,
    );
    expect(log.read?.odd).toMatchObject([{ reason: "few-columns", count: 15 }]);
    expect(log.read?.odd[0]?.first).toHaveLength(3);
  });

  it("line ends of both kinds, exact repeats and steps back in time are said", async () => {
    const log = await told(`time,epc,rssi\r\n${good(5)}\n${good(3)}\r\n${good(3)}\n${good(5)}\n`);
    expect(log.read?.repeated).toBe(2);
    expect(log.read).toMatchObject({ order: { falls: 1 }, longestFallUs: 2e6 });
    expect(remarks(log)).toContain("Lines end in more than one way");
    expect(remarks(log)).toContain("2 rows repeat another one exactly");
  });

  it("a file of nothing but CR is parted all the same", async () => {
    const log = await told(`time,epc\r${rows(3, (i, code) => `2026-05-21T08:00:0${i}Z,${code}`, "\r")}`);
    expect(log.read?.rows).toBe(3);
    expect(log.text?.lineEnds).toEqual({ lf: 0, crlf: 0, cr: 4 });
  });
});

describe("RSSI that cannot be dBm is left out of the entry, and why is said", () => {
  it.each([
    [(i: number) => 40 + i, "not negative"],
    [(i: number) => 190 + i, "signed byte written without its sign"],
    [(i: number) => -600 - i, "tenths of a dBm"],
  ])("%s", async (rssi, why) => {
    const log = await told(
      `time,epc,rssi\n${rows(20, (i, code) => `2026-05-21T08:00:00Z,${code},${rssi(i)}`)}`,
    );
    expect(entry(log).columns.rssi).toBeUndefined();
    expect(entry(log).rssi_unit).toBeUndefined();
    expect(remarks(log)).toContain(why);
  });

  it("numbers with their unit behind them are no numbers", async () => {
    const log = await told(`time,epc,rssi\n${rows(5, (_, code) => `2026-05-21T08:00:00Z,${code},-61 dBm`)}`);
    expect(entry(log).columns.rssi).toBeUndefined();
    expect(remarks(log)).toContain("have the log write RSSI without its unit");
  });

  it("single placeholders of 0 among them do not hide the unit", async () => {
    const log = await told(
      `time,epc,rssi\n${rows(20, (i, code) => `2026-05-21T08:00:00Z,${code},${i === 3 ? 0 : -55}`)}`,
    );
    expect(entry(log).rssi_unit).toBe("dBm");
    expect(remarks(log)).toContain("1 row has an RSSI of 0, which no tag gives");
  });
});

describe("JSON lines", () => {
  const line = (i: number, code: string) =>
    JSON.stringify({ timestamp: firstUs / 1e3 + i, epc: code, rssi: -61.5, reader: "10.0.0.5" });

  it("packed with gzip are described like the others", async () => {
    const log = await told(gzipSync(rows(25, line)), "gate.jsonl.gz");
    expect(log).toMatchObject({ kind: "jsonl", gzipped: true, read: { rows: 25 } });
    expect(entry(log)).toMatchObject({
      read_point: "10-0-0-5",
      columns: { time: "timestamp", epc: "epc", rssi: "rssi" },
      time: { unit: "ms" },
    });
  });

  it("with lists of codes are read code by code", async () => {
    const made = rows(5, (i, code) =>
      JSON.stringify({
        eventTime: `2026-05-21T08:00:0${i}.000+00:00`,
        epcList: [code, "3034257BF40C0E40000000FF"],
      }),
    );
    const log = await told(made, "events.jsonl");
    expect(entry(log)).toMatchObject({ rows: "epcList", columns: { time: "eventTime", epc: "epcList" } });
    expect(log.read).toMatchObject({ rows: 10, tags: { distinct: 6 } });
  });

  it("with other events among the reads say which rows are reads", async () => {
    const made = rows(9, (i, code) =>
      JSON.stringify(
        i % 3 === 2
          ? { kind: "alive", time: firstUs + i }
          : { kind: i === 4 ? "tagLost" : "tagRead", time: firstUs + i, epc: code },
      ),
    );
    const log = await told(made, "gate.jsonl");
    expect(entry(log).only).toEqual({ kind: "tagRead" });
    expect(log.entry).toContain("only: { kind: tagRead }  # guess: not alive, tagLost");
    expect(log.read).toMatchObject({ rows: 5, otherEvents: 4, refused: 0 });
  });

  it("with codes as numbers are warned of: the digits are lost", async () => {
    const made = rows(5, (i) => `{"time":"2026-05-21T08:00:00Z","epc":30342579400000000000000${i}}`);
    expect(remarks(await told(made, "gate.jsonl"))).toContain('"epc" is written as a number without quotes');
  });

  it("with values inside values go by their paths, and a key with a dot by its own name", async () => {
    const made = rows(5, (i, code) =>
      JSON.stringify({
        "tag.epc": code,
        event: { at: { time: firstUs + i } },
        antenna: { port: 1 + (i % 2) },
      }),
    );
    const log = await told(made, "gate.jsonl");
    expect(entry(log).columns).toEqual({ time: "event.at.time", epc: "tag.epc", antenna: "antenna.port" });
  });

  it("spread over several lines each are a document", async () => {
    const made = rows(3, (i, code) => JSON.stringify({ time: firstUs + i, epc: code }, null, 2));
    const log = await told(made, "gate.jsonl");
    expect(log).toMatchObject({ kind: "items", text: null, read: { rows: 3, refused: 0 } });
    expect(entry(log).columns).toEqual({ time: "time", epc: "epc" });
  });

  it("in a document larger than what is looked at are known by its beginning", async () => {
    const reads = Array.from({ length: 2000 }, (_, i) => ({
      epc: `3034257BF40C0E400000${1000 + i}`,
      rssi: -60,
    }));
    const made = JSON.stringify([{ at: firstUs, door: "north", tags: reads }], null, 1);
    expect(made.length).toBeGreaterThan(1 << 16);
    const log = await told(made, "gate.json");
    expect(entry(log)).toMatchObject({ rows: "tags", columns: { time: "at", epc: "epc", rssi: "rssi" } });
    expect(log.read).toMatchObject({ rows: 2000, tags: { distinct: 2000 } });
  });

  it("with a broken line are told where", async () => {
    const log = await told(`${rows(3, line)}{"timestamp": 17\n`, "gate.jsonl");
    expect(log.read?.odd).toMatchObject([{ words: "no whole JSON object", first: [{ line: 4 }] }]);
  });
});

it("a parquet file is described through its own column types", async () => {
  const { DuckDBInstance } = await import("@duckdb/node-api");
  const connection = await (await DuckDBInstance.create(":memory:")).connect();
  const path = join(room, "gate.parquet");
  await connection.run(`copy (select timestamptz '2026-05-21 08:00:00.25+00' + to_seconds(i) as "read time",
    '3034257BF40C0E400000000' || i as EPC, (-60 - i)::double as rssi from range(5) t(i)) to '${path}' (format parquet)`);
  const log = await describeLog(path);
  expect(log).toMatchObject({ kind: "parquet", text: null, read: { rows: 5, odd: [] } });
  expect(span(log)).toEqual(["2026-05-21T08:00:00.250Z", "2026-05-21T08:00:04.250Z"]);
  expect(entry(log)).toMatchObject({
    columns: { time: "read time", epc: "EPC", rssi: "rssi" },
    rssi_unit: "dBm",
  });
});

describe("what is missing for an entry is said, and no entry is made up", () => {
  it.each([
    ["epc,uptime\n3034257BF40C0E4000000001,12\n", "A reader's uptime says nothing about the time of day."],
    ["epc,time\n3034257BF40C0E4000000001,08:00:00.5\n", "times of day without a date"],
    ["epc,time\n3034257BF40C0E4000000001,46163.33401\n", "a spreadsheet's day numbers"],
    ["time,weight\n2026-05-21T08:00:00Z,5\n", "No column was recognised as the code"],
  ])("%j", async (made, why) => {
    const log = await told(made);
    expect(log.entry).toBe("");
    expect(remarks(log)).toContain(why);
    expect(descriptionText(log)).toContain("No entry for facility.yaml can be written");
  });
});

describe("a day and a time of day in two columns are one time", () => {
  it.each([
    [
      "under a header",
      "Date,Time,EPC\n",
      (i: number, code: string) => `2026-05-21,08:00:0${i}.5,${code}`,
      { date: "Date", time: "Time", epc: "EPC" },
      { unit: "iso" },
    ],
    [
      "under no header",
      "",
      (i: number, code: string) => `21/05/2026,08:00:0${i},${code}`,
      { date: 1, time: 2, epc: 3 },
      { unit: "iso", format: "%d/%m/%Y %H:%M:%S" },
    ],
  ])("%s", async (_, header, row, columns, time) => {
    const log = await told(header + rows(5, row));
    expect(entry(log)).toMatchObject({ columns, time });
    expect(log.read).toMatchObject({ rows: 5, refused: 0 });
    expect(span(log)[1]).toMatch(/^2026-05-21T08:00:04/);
  });
});

describe("a log whose times cannot be used", () => {
  it("a column called a date that holds the time too is the time", async () => {
    const log = await told(`Date,EPC\n${rows(5, (i, code) => `2026-05-21 08:00:0${i},${code}`)}`);
    expect(entry(log).columns.time).toBe("Date");
  });

  it.each([
    ["time", "639149472021234567", 1],
    ["stamp", "639149472021234567", 1],
    ["time", "134238240021234567", 1601],
  ])("because %s counts 100 ns, says since when", async (name, ticks, year) => {
    const log = await told(`${name},epc\n${rows(5, (_, code) => `${ticks},${code}`)}`);
    expect(log.entry).toBe("");
    expect(remarks(log)).toContain(`counts of 100 ns since the year ${year}`);
  });
});

it("times that were never set are counted apart, and the log does not begin in 1970", async () => {
  const made = rows(8, (i, code) => `${i < 2 ? 0 : firstUs + i * 1000},${code}`);
  const log = await told(`firstSeen,epc\n${made}`);
  expect(span(log)[0]).toBe("2026-05-21T08:00:00.002Z");
  expect(log.read?.order.falls).toBe(0);
  expect(log.read?.odd).toMatchObject([
    {
      words: "a time outside 1990 to 2100",
      count: 2,
      first: [{ line: 2 }, { line: 3 }],
    },
  ]);
  expect(remarks(log)).toContain("2 rows have a time outside 1990 to 2100 and will be refused");
  expect(log.entry).toContain("so that the log begins at 2026-05-21");
});

it("more than a tenth of lines without a code is said to be refused as a log read wrongly, and a tenth is not", async () => {
  const log = (bad: number) =>
    told(
      `time,epc\n${rows(90, (i, code) => `2026-05-21T08:00:${10 + (i % 50)}Z,${code}`)}${rows(bad, () => "2026-05-21T08:00:00Z,")}`,
    );
  expect(remarks(await log(10))).not.toContain("more than a tenth");
  expect(remarks(await log(11))).toContain("11 lines will be refused, more than a tenth");
});

it("lines in an older encoding are counted, since they will be refused", async () => {
  const text = `time;epc;place\n${rows(20, (i, code) => `2026-05-21T08:00:${10 + i}Z;${code};${i === 4 ? "T\u00fcr" : "Tor"}`)}`;
  const log = await told(Buffer.from(text, "latin1"));
  expect(log.read?.odd).toMatchObject([
    { words: "bytes that are not UTF-8", count: 1, first: [{ line: 6 }] },
  ]);
  expect(remarks(log)).toContain("1 line holds bytes that are not UTF-8 and will be refused");
});

it("a run of NULs, as a power cut leaves it, is an odd line and no other encoding", async () => {
  const log = await told(
    `time,epc\n${"\0".repeat(200)}\n${rows(3, (i, code) => `2026-05-21T08:00:0${i}Z,${code}`)}`,
  );
  expect(log.read).toMatchObject({ rows: 4, refused: 1 });
  expect(log.read?.odd).toMatchObject([{ count: 1, first: [{ line: 2 }] }]);
});

it("labels that are no hexadecimal code are said to be compared as they are written", async () => {
  const log = await told(`time,epc\n${rows(9, (i, code) => `2026-05-21T08:00:0${i}Z,'${code}`)}`);
  expect(remarks(log)).toContain("7 codes are not runs of hexadecimal digits");
});

it("columns that runs of blanks part are told to be unreadable, with what to do", async () => {
  const log = await told(
    `time                  epc\n${rows(9, (i, code) => `2026-05-21T08:00:0${i}Z  ${code}  -${50 + i * 7}`)}`,
  );
  expect(log.entry).toBe("");
  expect(remarks(log)).toContain("separated by runs of blanks, which an entry cannot say");
});

it.each([
  ["texts", "gate-a", "gate-b"],
  ["numbers", "101", "102"],
])(
  "a column of a few %s that no name gives away is offered as the one that names the reader",
  async (_, one, other) => {
    const log = await told(
      `where;epc;time\n${rows(12, (i, code) => `${i < 9 ? one : other};${code};2026-05-21T08:00:${10 + i}Z`)}`,
    );
    expect(log.read?.readerCandidates).toEqual([{ column: "where", names: [one, other] }]);
    const offered = log.entry
      .replace(/^ {4}read_point: .*\n/m, "")
      .replace("    # read_point:", "    read_point:");
    expect(parse(offered)).toMatchObject({
      reader_logs: [{ read_point: { column: "where", values: { [one]: one, [other]: other } } }],
    });
  },
);

it("codes written as URIs are said to be compared as text", async () => {
  const log = await told(
    `time,epc\n${rows(3, (i) => `2026-05-21T08:00:0${i}Z,urn:epc:id:grai:0614141.12345.${i}`)}`,
  );
  expect(remarks(log)).toContain("3 codes are URIs, compared as text");
});

it("a code that will be refused is named, one or several", async () => {
  const made = (...codes: string[]) =>
    told(`time,epc\n${codes.map((code) => `2026-05-21T08:00:00Z,${code}\n`).join("")}`);
  const good = "3034257BF40C0E4000000001";
  expect(remarks(await made(good, "3034257BF40C0E400000000"))).toContain(
    '1 distinct code will be refused as it stands, "3034257BF40C0E400000000" for one.',
  );
  expect(remarks(await made(good, "3034257BF40C0E400000000", "3034257BF40C0E400000001"))).toContain(
    "2 distinct codes will be refused as they stand",
  );
});

it("levels above 0 far into a log, which would be refused, keep RSSI out of the entry", async () => {
  const log = await told(
    `time,epc,rssi\n${rows(3000, (i, code) => `2026-05-21T08:00:${10 + (i % 50)}Z,${code},${i === 2900 ? 12 : -55}`)}`,
  );
  expect(log.rssi).toMatchObject({ scale: "dBm", outside: 1 });
  expect(entry(log).columns.rssi).toBeUndefined();
  expect(remarks(log)).toContain("1 row has an RSSI that cannot be dBm");
  expect(log.read?.refused).toBe(0);
});

it("levels above 0, which would be refused, keep RSSI out of the entry", async () => {
  const log = await told(
    `time,epc,rssi\n${rows(20, (i, code) => `2026-05-21T08:00:${10 + i}Z,${code},${i === 3 ? 127 : -55}`)}`,
  );
  expect(log.rssi?.outside).toBe(1);
  expect(entry(log).columns.rssi).toBeUndefined();
  expect(remarks(log)).toMatch(/1 row has an RSSI that cannot be dBm|unit of RSSI cannot be told/);
});

it("a blank count is one read, and a count of none is refused", async () => {
  const log = await told(
    `time,epc,count\n${rows(6, (i, code) => `2026-05-21T08:00:0${i}Z,${code},${["", "3", "0"][i % 3]}`)}`,
  );
  expect(log.read?.sums.reads).toBe(8);
  expect(log.read?.odd).toMatchObject([{ words: "a count that is not a whole number from 1 up", count: 2 }]);
});

it("repeats in a log of whole seconds may be reads of their own, which is said", async () => {
  const made = (ms: string) =>
    told(`time,epc\n${rows(9, (i, code) => `2026-05-21T08:00:0${i % 7}${ms}Z,${code}`)}`);
  expect(remarks(await made(""))).toContain(
    "2 rows repeat another one exactly, down to the time; such rows count once. The times are whole seconds",
  );
  expect(remarks(await made(".25"))).not.toContain("whole seconds");
});

it("a log inside a facility's folder is named from there, which is no guess", async () => {
  const folder = await mkdtemp(join(room, "facility-"));
  await writeFile(join(folder, "facility.yaml"), "name: x\n");
  await writeFile(join(folder, "gate.csv"), "time,epc\n2026-05-21T08:00:00Z,3034257BF40C0E4000000001\n");
  const log = await describeLog(join(folder, "gate.csv"));
  expect(log.entry).toContain("  - files: gate.csv\n");
});

it("lines above the header that are no comments are told, and that they are passed over", async () => {
  const log = await told(
    `Reader export\nGate North\ntime,epc\n${rows(4, (_, code) => `2026-05-21T08:00:00Z,${code}`)}`,
  );
  expect(log.table).toMatchObject({ header: "yes", headerLine: 3 });
  expect(log.read?.odd).toMatchObject([{ reason: "above the header", count: 2 }]);
  expect(log.read).toMatchObject({ rows: 4, refused: 0 });
  expect(remarks(log)).toContain("Lines above the header that are not comments are passed over.");
});

it("a name that ends in something else than what is in the file is told", async () => {
  const made = rows(3, (_, code) => JSON.stringify({ time: "2026-05-21T08:00:00Z", epc: code }));
  expect(remarks(await told(made, "gate.dat"))).toContain("rename this one to end in .jsonl");
  expect(remarks(await told(gzipSync(made), "gate.jsonl"))).toContain("to end in .jsonl, with .gz behind it");
  expect(remarks(await told(made, "gate.jsonl"))).not.toContain("rename");
});

it("times that name UTC in words get a format and a zone", async () => {
  const log = await told(`time,epc\n${rows(3, (i, code) => `2026-05-21 08:00:0${i} UTC,${code}`)}`);
  expect(entry(log).time).toEqual({ unit: "iso", format: "%Y-%m-%d %H:%M:%S UTC", zone: "UTC" });
  expect(span(log)[0]).toBe("2026-05-21T08:00:00.000Z");
});

describe("hostile text in a log", () => {
  const name = 'E\u001b[31mPC"\u202e: # no\\';
  const made = `time,"${name.replace('"', '""')}",reader\n${rows(6, (i, code) => `2026-05-21T08:00:0${i}Z,${code},"x\u0007: [${i % 2}] # {"`)}`;

  it("comes out of the entry as the same text", async () => {
    const log = await told(made);
    const { columns, read_point: point } = entry(log);
    expect(columns.epc).toBe(name);
    expect(Object.keys((point as { values: object }).values)).toEqual([
      "x\u0007: [0] # {",
      "x\u0007: [1] # {",
    ]);
  });

  it("reaches the terminal with nothing that a terminal obeys", async () => {
    const said = descriptionText(await told(made));
    // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is looked for
    expect(said).not.toMatch(/[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u202e]/);
  });

  it("a header of names that objects have anyway is only a header", async () => {
    const log = await told(
      rows(3, (_, code) => `{"__proto__":1,"constructor":"x","epc":"${code}","time":"2026-05-21T08:00:00Z"}`),
      "gate.jsonl",
    );
    expect(entry(log).columns).toEqual({ time: "time", epc: "epc" });
  });
});

it("any text at all is described or refused, and never a fault", async () => {
  const piece = fc.oneof(
    fc.constantFrom(
      ",",
      ";",
      "\t",
      '"',
      "\n",
      "\r\n",
      "#",
      "// ",
      "{",
      "epc",
      "time",
      "-61,5",
      "3034257BF40C0E4000000001",
      "\ufeff",
    ),
    fc.string({ maxLength: 4 }),
  );
  await fc.assert(
    fc.asyncProperty(fc.array(piece, { maxLength: 40 }), async (pieces) => {
      try {
        const log = await told(pieces.join(""));
        if (log.entry !== "") entry(log);
        descriptionText(log);
      } catch (fault) {
        expect(fault).toBeInstanceOf(UnreadableLog);
      }
    }),
    { numRuns: draws(15) },
  );
});
