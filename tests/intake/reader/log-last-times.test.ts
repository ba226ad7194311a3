import { describe, expect, test } from "vitest";
import type { PassWindow } from "../../../src/intake/reader-log/reader-log.ts";
import { noHundredths } from "../../../src/intake/reader-log/reader-log.ts";
import { codeA, codeB, columns, parquet, readFiles, spec, startUs, window } from "./log-folder.ts";

const header = "time,last,epc,antenna,rssi,count";
const at = (second: number) => startUs + Math.round(second * 1e6);
const row = (first: number, last: number, epc = codeA, count = 7, rssi = -60) =>
  `${at(first)},${at(last)},${epc},1,${rssi},${count}`;
const second: PassWindow = { ...window, pass: 1, fromUs: at(30), toUs: at(40) };

const lasting = spec({ columns: { ...columns, lastTime: "last" } });
const readRows = (rows: string[], options = {}) =>
  readFiles({ "log.csv": [header, ...rows, ""].join("\n") }, [lasting], [window, second], options);

/** By row of what was heard: pass, code, reads, level, first and last second. */
async function heard(rows: string[]) {
  const { logs } = await readRows(rows);
  const { heard: h } = logs;
  return Array.from({ length: h.length }, (_, i) => [
    h.pass[i],
    h.codes[h.code[i]!],
    h.reads[i],
    h.rssi[i],
    (h.firstUs[i]! - startUs) / 1e6,
    (h.lastUs[i]! - startUs) / 1e6,
  ]);
}

describe("a row with a first and a last time", () => {
  test("within one pass gives that pass its count and its level", async () => {
    expect(await heard([row(11, 19)])).toEqual([[0, codeA, 7, -6000, 11, 19]]);
  });

  test("reports its tag in each pass that holds one of the two, as one read without a level", async () => {
    expect(await heard([row(19, 31)])).toEqual([
      [0, codeA, 1, noHundredths, 19, 19],
      [1, codeA, 1, noHundredths, 31, 31],
    ]);
  });

  test("that ends as it begins, or states no last time, is one instant", async () => {
    const blank = `${at(32)},,${codeB},1,-60,3`;
    expect(await heard([row(12, 12), blank])).toEqual([
      [0, codeA, 7, -6000, 12, 12],
      [1, codeB, 3, -6000, 32, 32],
    ]);
  });

  test("that spans a pass leaves its tag unknown there", async () => {
    const { logs } = await readRows([row(5, 25), row(12, 12, codeB)]);
    expect(logs.unknown).toEqual([{ pass: 0, code: codeA }]);
    expect(Array.from(logs.heard.pass.subarray(0, logs.heard.length))).toEqual([0]);
  });

  test("leaves nothing unknown where another row of the tag has an instant in the pass", async () => {
    const { logs } = await readRows([row(5, 25), row(12, 12)]);
    expect(logs.unknown).toEqual([]);
  });

  test("that repeats another is counted once", async () => {
    const { logs } = await readRows([row(11, 19), row(11, 19), row(11, 18)]);
    expect(logs.files[0]).toMatchObject({ rows: 3, used: 2, repeated: 1 });
    expect(logs.heard.reads[0]).toBe(14);
  });

  test("was heard between the passes in every minute of its span", async () => {
    const { logs } = await readRows([row(50, 200)]);
    const first = startUs / 60e6;
    expect(logs.idle.map(({ minute, reads, tags }) => [minute - first, reads, tags])).toEqual([
      [0, 1, 1],
      [1, 1, 1],
      [2, 1, 1],
      [3, 1, 1],
    ]);
  });

  test("is refused where the last time is before the first, or is none", async () => {
    const { logs, problems } = await readRows([
      ...Array.from({ length: 20 }, (_, i) => row(11 + i / 10, 19)),
      row(12, 11),
      `${at(13)},soon,${codeA},1,-60,1`,
    ]);
    expect(logs.files[0]).toMatchObject({ rows: 22, refused: 2 });
    expect(problems.map(({ found }) => found).join("\n")).toMatch(
      /a last time before the first[\s\S]*a last time that cannot be read/,
    );
  });

  test("is read alike in a small log, in a large one, in JSON lines and in Parquet", async () => {
    const rows = [row(11, 19), row(19, 31), row(5, 25, codeB), `${at(32)},,${codeB},1,-60,3`];
    const objects = rows.map((each) => {
      const [time, last, epc, antenna, rssi, count] = each.split(",");
      return JSON.stringify({ time, last, epc, antenna, rssi, count });
    });
    const select = rows.map((each) => {
      const [time, last, epc, antenna, rssi, count] = each.split(",");
      return `(${time}, ${last === "" ? "NULL" : last}, '${epc}', ${antenna}, ${rssi}, ${count})`;
    });
    const files: Record<string, string | Buffer> = {
      "log.csv": [header, ...rows, ""].join("\n"),
      "log.jsonl": objects.join("\n"),
      "log.parquet": await parquet(
        `SELECT * FROM (VALUES ${select.join(", ")}) AS r(time, last, epc, antenna, rssi, count)`,
      ),
    };
    const outcomes: unknown[] = [];
    for (const [name, bytes] of Object.entries(files)) {
      for (const largeBytes of [0, 1 << 20]) {
        const entry = { ...lasting, files: [name] };
        const { logs } = await readFiles({ [name]: bytes }, [entry], [window, second], { largeBytes });
        const { codes, pass, code, reads, rssi, firstUs, lastUs } = logs.heard;
        outcomes.push({
          codes,
          pass,
          code,
          reads,
          rssi,
          firstUs,
          lastUs,
          unknown: logs.unknown,
          idle: logs.idle,
        });
      }
    }
    for (const outcome of outcomes) expect(outcome).toEqual(outcomes[0]);
    expect(outcomes[0]).toMatchObject({ unknown: [{ pass: 0, code: codeB }] });
  });

  test("in words is refused in a large log as in a small one where it cannot be read, and is one instant where it is blank", async () => {
    const iso = (second: number) => new Date(at(second) / 1000).toISOString();
    const rows = Array.from({ length: 30 }, (_, i) => `${iso(11 + i / 10)},${iso(19)},${codeA},1,-60,1`);
    const odd = [
      `${iso(12)},,${codeB},1,-60,1`,
      `${iso(13)},soon,${codeB},1,-60,1`,
      `${iso(14)},${iso(11)},${codeB},1,-60,1`,
    ];
    const entry = spec({ ...lasting, time: { unit: "iso", zone: null, format: null } });
    for (const largeBytes of [0, 1 << 20]) {
      const log = [header, ...rows, ...odd, ""].join("\n");
      const { logs } = await readFiles({ "log.csv": log }, [entry], [window], { largeBytes });
      expect(logs.files[0]).toMatchObject({ rows: 33, used: 31, refused: 2 });
    }
  });
});

describe("a count", () => {
  test("that is no whole number is refused with its line, in every kind of log, and never rounded", async () => {
    const rows = Array.from({ length: 20 }, (_, i) => row(11 + i / 10, 19));
    const half = row(12, 19).replace(",7", ",1.5");
    const whole = row(12, 18).replace(",7", ",2.0");
    for (const largeBytes of [0, 1 << 20]) {
      const log = [header, ...rows, half, whole, ""].join("\n");
      const { logs, problems } = await readFiles({ "log.csv": log }, [lasting], [window], { largeBytes });
      expect(logs.files[0]).toMatchObject({ rows: 22, used: 21, refused: 1 });
      expect(logs.heard.reads[0]).toBe(20 * 7 + 2);
      const [line] = problems.filter(({ code }) => code === "reader-log-line-refused");
      expect(line).toMatchObject({ line: 22 });
      expect(line!.found).toContain("a count that is not a whole number");
    }
  });
});
