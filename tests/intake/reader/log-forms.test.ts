import { gzipSync } from "node:zlib";
import { describe, expect, test } from "vitest";
import type { ReaderLogSpec } from "../../../src/model/facility.ts";
import {
  codeA,
  codeB,
  columns,
  counts,
  header,
  heard,
  readFiles,
  row,
  spec,
  startUs,
  told,
} from "./log-folder.ts";

const at = (second: number) => startUs + Math.round(second * 1e6);
const read = (second: number, epc = codeA, antenna = 1, rssi = -61.5) => ({
  time: at(second),
  epc,
  antenna,
  rssi,
  count: 1,
});
/** What `row(11), row(12), row(13, codeB)` amounts to: pass, code, antenna, reads, hundredths of a dBm, first and last second. */
const two = [`0 ${codeA} 1 2 -6150 11 12`, `0 ${codeB} 1 1 -6150 13 13`];
const reads = [read(11), read(12), read(13, codeB)];

const none = { time: "time", date: null, lastTime: null, antenna: null, rssi: null, count: null };

const only = (file: string, change: Partial<ReaderLogSpec> = {}) => [spec({ files: [file], ...change })];
const one = async (file: string, text: string | Buffer, change: Partial<ReaderLogSpec> = {}) => {
  const outcome = await readFiles({ [file]: text }, only(file, change));
  return { heard: heard(outcome), counts: counts(outcome), told: told(outcome) };
};
const whole = { heard: two, counts: ["3 = 3 + 0 + 0 + 0"], told: [] };

describe("lists of reads are read item by item:", () => {
  test("a file that is one JSON list, on one line, on several, or packed", async () => {
    for (const text of [JSON.stringify(reads), JSON.stringify(reads, null, 2)]) {
      expect(await one("log.json", text)).toEqual(whole);
      expect(await one("log.json.gz", gzipSync(text))).toEqual(whole);
    }
  });

  test("lines that hold a list each, or a list of lists", async () => {
    const lines = [JSON.stringify(reads.slice(0, 2)), "", "[]", JSON.stringify([[reads[2]]])];
    expect(await one("log.jsonl", lines.join("\n"))).toEqual(whole);
  });

  test("push messages, whose names are looked up in the item and then in the objects around it, before it or behind it", async () => {
    const tag = ({ epc, rssi, count, time }: ReturnType<typeof read>) => ({ epc, rssi, count, time });
    const messages = [
      { antenna: 1, report: { tags: [tag(reads[0]!), tag(reads[1]!)] } },
      { report: { tags: tag(reads[2]!) }, antenna: 1 },
      { antenna: 1, alive: true },
    ];
    const rows = ["report", "tags"];
    const lines = messages.map((message) => JSON.stringify(message)).join("\n");
    expect(await one("log.jsonl", lines, { rows })).toEqual(whole);
    expect(await one("log.json", JSON.stringify(messages, null, 1), { rows })).toEqual(whole);
    expect(await one("log.json", JSON.stringify({ kept: messages }), { rows: ["kept", ...rows] })).toEqual(
      whole,
    );
  });

  test("codes that stand in a list by themselves go by the name of the list", async () => {
    const sightings = [
      { at: at(11), codes: [codeA] },
      { at: at(12), codes: [codeA, codeB] },
    ];
    const outcome = await one("log.json", JSON.stringify(sightings), {
      rows: ["codes"],
      columns: { ...none, time: "at", epc: ["codes"] },
    });
    expect(outcome.heard).toEqual([`0 ${codeA} - 2 -2147483648 11 12`, `0 ${codeB} - 1 -2147483648 12 12`]);
  });

  test("in an item, a number too long to keep as a number keeps its digits, and an object of one value is worth it", async () => {
    const report = `{"TagReportData":[{"EPC_96":{"EPC":"${codeA}"},"at":{"us":${at(11)}123}},{"EPCData":{"EPC":"${codeB}"},"at":{"us":${at(13)}456}}]}`;
    const outcome = await one("log.json", report, {
      rows: ["TagReportData"],
      columns: { ...none, time: "at.us", epc: ["EPC_96", "EPCData"] },
      time: { unit: "ns", zone: null, format: null },
    });
    expect(outcome.heard.map((line) => line.split(" ")[1])).toEqual([codeA, codeB]);
    expect(outcome.counts).toEqual(["2 = 2 + 0 + 0 + 0"]);
  });

  test("an item that cannot be read is refused with the line and the column where it begins", async () => {
    const fine = Array.from({ length: 30 }, (_, i) => JSON.stringify(read(11 + i / 10)));
    const items = [fine[0], JSON.stringify({ ...reads[1], time: "soon" }), ...fine.slice(1)];
    const { problems } = await readFiles({ "log.json": `[ ${items.join(", ")} ]` }, only("log.json"));
    const [refused] = problems;
    expect(refused).toMatchObject({ code: "reader-log-line-refused", line: 1, column: fine[0]!.length + 5 });
    expect(refused!.found).toContain('"time":"soon"');
  });

  test("a document that is cut off or broken is an error with its line; a broken line is only refused", async () => {
    const text = JSON.stringify(reads, null, 1);
    const cut = await readFiles({ "log.json": text.slice(0, -20) }, only("log.json"));
    expect(cut.problems[0]).toMatchObject({ severity: "error", code: "reader-log-unreadable" });
    expect(cut.problems[0]!.found).toContain("a JSON value that does not end, in line 20");
    expect(counts(cut)).toEqual(["0 = 0 + 0 + 0 + 0"]);
    const lines = [...Array(20).fill(JSON.stringify(reads)), '[{"time":'].join("\n");
    expect((await one("log.jsonl", lines)).told).toContain("warning reader-log-line-refused 21");
  });

  test("a column that no read has is an error that names those there are", async () => {
    const { problems } = await readFiles(
      { "log.json": JSON.stringify(reads) },
      only("log.json", { columns: { ...columns, rssi: "rsi" } }),
    );
    expect(problems[0]).toMatchObject({ severity: "error", code: "reader-log-column-missing" });
    expect(problems[0]!.expected).toContain('"rsi", which columns.rssi names');
    expect(problems[0]!.found).toContain('"rssi"');
  });

  test("where rows leads to nothing, that is said", async () => {
    expect(
      (await one("log.json", JSON.stringify({ tags: reads }), { rows: ["report", "tags"] })).told,
    ).toEqual(["warning reader-log-form"]);
    expect((await one("log.csv", `${header}\n${row(11)}\n`, { rows: ["tags"] })).told).toEqual([
      "error reader-log-form",
    ]);
  });
});

describe("server-sent events are read by their data, whatever the file is called:", () => {
  const data = reads.map((each) => JSON.stringify(each));

  test("with names, comments and pauses between them", async () => {
    const text = [
      `: open`,
      `id: 1`,
      `event: read`,
      `data: ${data[0]}`,
      "",
      "retry: 100",
      `data:${data[1]}`,
      "",
      "event: alive",
      "data: {}",
      "",
      "event: read",
      `data: ${data[2]}`,
      "",
    ].join("\n");
    for (const name of ["log.jsonl", "log.log", "log.csv"]) {
      const outcome = await one(name, text, { only: [{ column: "event", values: ["read"] }] });
      expect(outcome.heard).toEqual([`0 ${codeA} 1 1 -6150 11 11`, two[1]]);
      expect(outcome.counts).toEqual(["4 = 2 + 0 + 0 + 0, 2 other"]);
    }
  });

  test("over several lines, and without blank lines between messages", async () => {
    expect(await one("log.txt", data.map((each) => `data: ${each}`).join("\n"))).toEqual(whole);
    const spread = reads.map((each) => JSON.stringify(each, null, 1).replace(/^/gm, "data: ")).join("\n\n");
    expect(await one("log.txt", spread)).toEqual(whole);
  });
});

describe("reads among other events", () => {
  const events = [
    { type: "read", ok: true, ...reads[0] },
    { type: "alive", ok: true },
    { type: "seen", ok: true, ...reads[1] },
    { type: "read", ok: false, ...reads[1] },
    { ok: true, ...reads[1] },
    { type: "read", ok: true, ...reads[2] },
  ];
  const wanted = [
    { column: "type", values: ["read", "seen"] },
    { column: "ok", values: ["true"] },
  ];

  test("are those that hold every value that is asked for; the others are counted, not refused", async () => {
    const lines = events.map((event) => JSON.stringify(event)).join("\n");
    const expected = { heard: two, counts: ["6 = 3 + 0 + 0 + 0, 3 other"], told: [] };
    expect(await one("log.jsonl", lines, { only: wanted })).toEqual(expected);
    expect(await one("log.json", JSON.stringify(events), { only: wanted })).toEqual(expected);
  });

  test("stand in tables, where a row that is no read may be of another width", async () => {
    const table = [
      "type,time,epc,antenna,rssi,count",
      ...[row(11), row(12), row(13, codeB)].map((each) => `read,${each}`),
      "alive",
      "alive,1,2,3,4,5,6,7,8",
      ",,,,,",
      "note,not a time,,,,",
    ];
    const outcome = await one("log.csv", table.join("\n"), { only: [{ column: "type", values: ["read"] }] });
    expect(outcome).toEqual({ heard: two, counts: ["7 = 3 + 0 + 0 + 0, 4 other"], told: [] });
  });

  test("are none where a value is misspelt, and that is said", async () => {
    const lines = events.map((event) => JSON.stringify(event)).join("\n");
    expect((await one("log.jsonl", lines, { only: [{ column: "type", values: ["reed"] }] })).told).toEqual([
      "warning reader-log-only-others",
    ]);
  });
});

describe("a value that does not stand in one column", () => {
  test("is the code in the first column that is filled", async () => {
    const table = `time,short,long\n${at(11)},,${codeA}\n${at(12)},${codeA},\n${at(13)},${codeB},${codeA}\n`;
    const outcome = await one("log.csv", table, {
      columns: { ...none, time: "time", epc: ["short", "long", "none"] },
    });
    expect(outcome.heard.map((line) => line.split(" ").slice(0, 4).join(" "))).toEqual([
      `0 ${codeA} - 2`,
      `0 ${codeB} - 1`,
    ]);
    const lines = `{"time":${at(11)},"short":"","long":"${codeA}"}\n{"time":${at(12)},"short":"${codeA}"}\n{"time":${at(13)},"short":"${codeB}","long":"${codeA}"}\n`;
    expect(
      (await one("log.jsonl", lines, { columns: { ...none, time: "time", epc: ["short", "long"] } })).heard,
    ).toEqual(outcome.heard);
  });

  test("is the strongest of the levels in a list", async () => {
    const lines = ["[-70, -61.5, null]", '["-61.5"]', "[]"].map(
      (rssi, i) => `{"time":${at(11 + i)},"epc":"${codeA}","antenna":"${i}","rssi":${rssi}}`,
    );
    const levels = [
      `0 ${codeA} 0 1 -6150 11 11`,
      `0 ${codeA} 1 1 -6150 12 12`,
      `0 ${codeA} 2 1 -2147483648 13 13`,
    ];
    expect(
      (await one("log.jsonl", lines.join("\n"), { columns: { ...columns, count: null } })).heard,
    ).toEqual(levels);
    const table = [
      header,
      row(11, codeA, "0", "-70|-61.5"),
      row(12, codeA, "1", "-61.5; -80"),
      row(13, codeA, "2", ""),
    ];
    expect((await one("log.csv", table.join("\n"))).heard).toEqual(levels);
    const odd = [...lines, `{"time":${at(14)},"epc":"${codeB}","antenna":"1","rssi":[-60,"loud"]}`];
    expect((await one("log.jsonl", odd.join("\n"), { columns: { ...columns, count: null } })).told).toContain(
      "warning reader-log-line-refused 4",
    );
  });

  test("is a time whose day stands in another column", async () => {
    const table = `day;clock;epc\n21.05.2026;08:00:11,000;${codeA}\n21.05.2026;08:00:12,000;${codeA}\n21.05.2026;08:00:13,000;${codeB}\n;08:00:14,000;${codeA}\n`;
    const outcome = await one("log.csv", table, {
      delimiter: ";",
      decimal: ",",
      columns: { ...none, date: "day", time: "clock", epc: ["epc"] },
      time: { unit: "iso", format: "%d.%m.%Y %H:%M:%S,%f", zone: "UTC" },
    });
    expect(outcome.heard).toEqual([`0 ${codeA} - 2 -2147483648 11 12`, `0 ${codeB} - 1 -2147483648 13 13`]);
    expect(outcome.told[0]).toBe("warning reader-log-line-refused 5");
  });
});

describe("lines of key=value", () => {
  test("are read with values in quotes, with blanks or with marks between", async () => {
    const lines = [
      `time=${at(11)} epc=${codeA} antenna=1 rssi=-61.5 count=1`,
      `time=${at(12)}, epc="${codeA}", antenna=1, rssi=-61.5, note=at the door, count=1`,
      "# a comment",
      `gate  time=${at(13)};epc=${codeB};antenna=1;rssi=-61.5;count=1;`,
    ];
    expect(await one("log.log", lines.join("\r\n"))).toEqual(whole);
  });

  test("may begin with the time, which goes by the name text", async () => {
    const lines = ["11", "12", "13"].map(
      (second, i) => `2026-05-21 08:00:${second}.000 epc=${i < 2 ? codeA : codeB} ant=1`,
    );
    const outcome = await one("log.txt", lines.join("\n"), {
      columns: { ...none, time: "text", epc: ["epc"] },
      time: { unit: "iso", zone: "UTC", format: null },
    });
    expect(outcome.heard).toEqual([`0 ${codeA} - 2 -2147483648 11 12`, `0 ${codeB} - 1 -2147483648 13 13`]);
  });
});

describe("XML reports", () => {
  const rows = ["RO_ACCESS_REPORT", "TagReportData"];
  const xmlColumns = {
    ...none,
    time: "FirstSeenTimestampUTC.Microseconds",
    epc: ["EPC_96", "EPCData"],
    antenna: "AntennaID",
    rssi: "PeakRSSI",
    count: "TagSeenCount.TagCount",
  };
  const tag = ({ time, epc, antenna, rssi }: ReturnType<typeof read>, code = "EPC_96") =>
    `<l:TagReportData><l:${code}><l:EPC Count="96">${epc}</l:EPC></l:${code}>\n<l:AntennaID><l:AntennaID>${antenna}</l:AntennaID></l:AntennaID><l:PeakRSSI><l:PeakRSSI>${rssi}</l:PeakRSSI></l:PeakRSSI><l:FirstSeenTimestampUTC><l:Microseconds>${time}</l:Microseconds></l:FirstSeenTimestampUTC><l:TagSeenCount><l:TagCount>1</l:TagCount></l:TagSeenCount></l:TagReportData>`;
  const report = (...tags: string[]) =>
    `<?xml version="1.0"?>\n<l:RO_ACCESS_REPORT xmlns:l="urn:l" MessageID="7">${tags.join("\n")}</l:RO_ACCESS_REPORT>\n`;

  test("are read element by element, one report in a file or several behind each other", async () => {
    const tags = [tag(reads[0]!), tag(reads[1]!), tag(reads[2]!, "EPCData")];
    const change = { rows, columns: xmlColumns };
    expect(await one("log.xml", report(...tags), change)).toEqual(whole);
    expect(await one("log.xml.gz", gzipSync(tags.map((each) => report(each)).join("")), change)).toEqual(
      whole,
    );
    expect(
      await one("log.txt", `<log>${report(...tags).replace(/<.*?>\n/, "")}</log>`, {
        ...change,
        rows: ["log", ...rows],
      }),
    ).toEqual(whole);
  });

  test("with a document type, an unknown entity, an element that does not end, or one too many ends are errors with their line", async () => {
    const fault = async (text: string) => {
      const { problems } = await readFiles(
        { "log.xml": text },
        only("log.xml", { rows, columns: xmlColumns }),
      );
      return `${problems[0]!.severity} ${problems[0]!.code} ${problems[0]!.found}`;
    };
    const sound = report(tag(reads[0]!));
    const bomb = '<!DOCTYPE r [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;">]>\n';
    expect(await fault(bomb + sound.replace(/<.*?>\n/, ""))).toMatch(
      /^error reader-log-unreadable .*a document type/,
    );
    expect(await fault(sound.replace(codeA, "&b;"))).toMatch(/undefined entity.*line 2/);
    expect(await fault(sound.slice(0, -10))).toMatch(
      /an element RO_ACCESS_REPORT that does not end, in line 3/,
    );
    expect(await fault(`${sound}</l:more>`)).toMatch(/^error reader-log-unreadable/);
  });
});
