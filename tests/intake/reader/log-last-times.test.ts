import { describe, expect, test } from "vitest";
import type { PassWindow } from "../../../src/intake/reader-log/reader-log.ts";
import { noHundredths } from "../../../src/intake/reader-log/reader-log.ts";
import { codeA, codeB, columns, readFiles, spec, startUs, window } from "./log-folder.ts";

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
});
