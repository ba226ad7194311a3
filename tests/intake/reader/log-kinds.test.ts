import { tmpdir } from "node:os";
import { gzipSync } from "node:zlib";
import { describe, expect, test } from "vitest";
import {
  codeA,
  codeB,
  columns,
  counts,
  header,
  heard,
  parquet,
  readFiles,
  row,
  spec,
  startUs,
  told,
} from "./log-folder.ts";

const plain = `${[header, row(11), row(12), row(13, codeB)].join("\n")}\n`;
const two = [`0 ${codeA} 1 2 -6150 11 12`, `0 ${codeB} 1 1 -6150 13 13`];

/** A read as a line of JSON, and where its fields stand. */
const event = (second: number, epc: string, rssi: number) =>
  JSON.stringify({ time: startUs + second * 1e6, tag: { epc, antenna: 1, rssi, count: 1 } });
const eventColumns = {
  time: "time",
  date: null,
  lastTime: null,
  epc: ["tag.epc"],
  antenna: "tag.antenna",
  rssi: "tag.rssi",
  count: "tag.count",
};

describe("a log of one kind reads as that of another:", () => {
  test("compressed text", async () => {
    const outcome = await readFiles({ "log.csv.gz": gzipSync(plain) }, [spec({ files: ["log.csv.gz"] })]);
    expect(heard(outcome)).toEqual(two);
    const cut = await readFiles({ "log.csv.gz": gzipSync(`${plain}${row(14)}\n${row(15)}\nx,y`) }, [
      spec({ files: ["log.csv.gz"] }),
    ]);
    expect(told(cut)).toEqual(["warning reader-log-line-refused 7", "error reader-log-mostly-refused"]);
  });

  test("JSON lines, with codes in quotes, keys on two levels and a line cut off", async () => {
    const log = [
      event(11, codeA, -61.5),
      "",
      event(12, codeA, -62),
      event(13, "0012", -61.5),
      `{"time":${startUs},"tag":{"epc":30340789000012345678901234}}`,
      event(14, codeA, -70).slice(0, 30),
    ].join("\n");
    const outcome = await readFiles({ "log.jsonl": log }, [
      spec({ files: ["log.jsonl"], columns: eventColumns }),
    ]);
    expect(heard(outcome)).toEqual(["0 0012 1 1 -6150 13 13", `0 ${codeA} 1 2 -6150 11 12`]);
    expect(counts(outcome)).toEqual(["5 = 3 + 0 + 0 + 2"]);
    expect(told(outcome).slice(0, 2)).toEqual([
      "warning reader-log-line-refused 5",
      "warning reader-log-line-refused 6",
    ]);
  });

  test("JSON lines whose codes stand between blanks and tabs, in small logs and in large ones", async () => {
    const log = [
      event(11, `${codeA}\t`, -61.5),
      event(12, ` ${codeA} `, -61.5),
      event(13, `${codeA.slice(1)}\t`, -61.5),
    ].join("\n");
    for (const largeBytes of [0, 1 << 20]) {
      const outcome = await readFiles(
        { "log.jsonl": log },
        [spec({ files: ["log.jsonl"], columns: eventColumns })],
        undefined,
        {
          largeBytes,
        },
      );
      expect(heard(outcome)).toEqual([`0 ${codeA} 1 2 -6150 11 12`]);
      expect(counts(outcome)).toEqual(["3 = 2 + 0 + 0 + 1"]);
    }
  });

  test("JSON lines without a key that is asked for", async () => {
    const outcome = await readFiles({ "log.jsonl": '{"time":1,"epcc":"A"}\n' }, [
      spec({
        files: ["log.jsonl"],
        columns: {
          time: "time",
          date: null,
          lastTime: null,
          epc: ["epc"],
          antenna: null,
          rssi: null,
          count: null,
        },
      }),
    ]);
    expect(told(outcome)).toEqual(["error reader-log-column-missing"]);
  });

  test("Parquet with texts, with numbers, with bytes and moments", async () => {
    const rows = `(VALUES (11, '${codeA}'), (12, '${codeA}'), (13, '${codeB}')) AS r(s, epc)`;
    const us = `${startUs} + s * 1000000`;
    const selects = {
      texts: `SELECT (${us})::VARCHAR AS time, epc, '1' AS antenna, '-61.5' AS rssi, '1' AS count FROM ${rows}`,
      numbers: `SELECT ${us} AS time, epc, 1 AS antenna, -61.5::FLOAT AS rssi, 1::UTINYINT AS count FROM ${rows}`,
    };
    for (const select of Object.values(selects)) {
      const outcome = await readFiles({ "log.parquet": await parquet(select) }, [
        spec({ files: ["*.parquet"] }),
      ]);
      expect(told(outcome)).toEqual([]);
      expect(heard(outcome)).toEqual(two);
    }
    const moments = `SELECT make_timestamptz(${us}) AS time, unhex(epc) AS epc, 1 AS antenna, -61.5 AS rssi FROM ${rows}`;
    const outcome = await readFiles({ "log.parquet": await parquet(moments) }, [
      spec({
        files: ["*.parquet"],
        columns: { ...columns, count: null },
        time: { unit: "iso", zone: null, format: null },
      }),
    ]);
    expect(told(outcome)).toEqual([]);
    expect(heard(outcome)).toEqual(two);
  });

  test.each(["make_timestamp", "make_timestamptz"])(
    "Parquet with moments where a count is declared is an error that says what to write, %s",
    async (moment) => {
      const select = `SELECT ${moment}(${startUs + 11_000_000}) AS time, '${codeA}' AS epc`;
      const only = { ...columns, antenna: null, rssi: null, count: null };
      const counted = await readFiles({ "log.parquet": await parquet(select) }, [
        spec({ files: ["*.parquet"], columns: only }),
      ]);
      expect(told(counted)).toEqual(["error reader-log-time-type"]);
      expect(counted.problems[0]!.advice).toContain("time: { unit: iso }");
      const stated = await readFiles({ "log.parquet": await parquet(select) }, [
        spec({ files: ["*.parquet"], columns: only, time: { unit: "iso", zone: "UTC", format: null } }),
      ]);
      expect(stated.logs.spans).toEqual([
        { readPoint: "dock-1", fromUs: startUs + 11_000_000, toUs: startUs + 11_000_000 },
      ]);
    },
  );

  test("text that is no Parquet is an error without a machine's path in it", async () => {
    const outcome = await readFiles({ "log.parquet": plain }, [spec({ files: ["*.parquet"] })]);
    expect(told(outcome)).toEqual(["error reader-log-kind"]);
    expect(outcome.problems[0]!.found).not.toContain(tmpdir());
  });

  test("codes with the PC word and the CRC around them, and in base64", async () => {
    const base64 = Buffer.from(codeA, "hex").toString("base64");
    const written = { "pc-epc": `3000${codeA}`, base64 } as const;
    for (const [epcForm, code] of Object.entries(written)) {
      const outcome = await readFiles({ "log.csv": `${header}\n${row(11, code)}\n` }, [
        spec({ epcForm: epcForm as keyof typeof written }),
      ]);
      expect(outcome.logs.heard.codes).toEqual([codeA]);
    }
  });

  test("two dialects of two readers at two read points", async () => {
    const outcome = await readFiles({ "a.csv": plain, "b.tsv": plain.replaceAll(",", "\t") }, [
      spec({ files: ["a.csv"] }),
      spec({ files: ["b.tsv"], readPoint: { kind: "fixed", readPoint: "dock-2" } }),
    ]);
    expect(heard(outcome)).toEqual(two);
    expect(counts(outcome)).toEqual(["3 = 3 + 0 + 0 + 0", "3 = 3 + 0 + 0 + 0"]);
    expect(outcome.logs.idle).toEqual([{ session: 1, minute: startUs / 6e7, reads: 3, tags: 2 }]);
  });
});
