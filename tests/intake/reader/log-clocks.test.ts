import { describe, expect, test } from "vitest";
import {
  codeA,
  codeB,
  columns,
  counts,
  header,
  heard,
  lines,
  readFiles,
  row,
  spec,
  startUs,
  told,
  window,
} from "./log-folder.ts";

const windows = [window, { ...window, pass: 1, readPoint: "dock-2" }];
const atDock2 = { kind: "fixed" as const, readPoint: "dock-2" };
const both = [`0 ${codeA} 1 1 -6150 11 11`, `1 ${codeB} 1 1 -6150 12 12`];

describe("a reader log", () => {
  test("reads the same with a channel's number in a column called frequency", async () => {
    const plain = [row(11), row(12), row(13, codeB)];
    const channels = ["17", "3", "865.7"];
    const without = await readFiles({ "log.csv": lines(header, ...plain) });
    const withChannel = await readFiles({
      "log.csv": lines(`${header},frequency`, ...plain.map((each, index) => `${each},${channels[index]}`)),
    });
    expect(heard(withChannel)).toEqual(heard(without));
    expect(counts(withChannel)).toEqual(counts(without));
    expect(told(withChannel)).toEqual([]);
  });

  test("of a reader whose clock is off goes by its own entry's offset, not by another's", async () => {
    const files = { "a.csv": lines(header, row(11)), "b.csv": lines(header, row(12 + 40, codeB)) };
    const outcome = await readFiles(
      files,
      [spec({ files: ["a.csv"] }), spec({ files: ["b.csv"], readPoint: atDock2, clockOffsetS: -40 })],
      windows,
    );
    expect(heard(outcome)).toEqual(both);
    expect(outcome.logs.idle).toEqual([]);
  });

  test("of two readers with two clocks shows whose reads miss the passes", async () => {
    const log = lines(`${header},reader`, `${row(11)},R-1`, `${row(12 + 40, codeB)},R-2`);
    const readPoint = {
      kind: "column" as const,
      column: "reader",
      values: { "R-1": "dock-1", "R-2": "dock-2" },
    };
    const outcome = await readFiles({ "log.csv": log }, [spec({ readPoint })], windows);
    expect(heard(outcome)).toEqual([both[0]]);
    expect(outcome.logs.doubtfulSeconds).toEqual([
      { readPoint: "dock-2", second: startUs / 1e6 + 52, reads: 1 },
    ]);
  });

  test("with the reader's time and the middleware's goes by the one that columns.time names", async () => {
    const log = lines(
      `${header},received`,
      `${row(11)},${startUs + 51e6}`,
      `${row(12)},${startUs + 52e6}`,
      // Sent twice by the middleware: two rows, since they differ.
      `${row(12)},${startUs + 53e6}`,
    );
    const byReader = await readFiles({ "log.csv": log });
    expect(heard(byReader)).toEqual([`0 ${codeA} 1 3 -6150 11 12`]);
    const byMiddleware = await readFiles({ "log.csv": log }, [
      spec({ columns: { ...columns, time: "received" } }),
    ]);
    expect(heard(byMiddleware)).toEqual([]);
    expect(byMiddleware.logs.spans).toEqual([
      { readPoint: "dock-1", fromUs: startUs + 51e6, toUs: startUs + 53e6 },
    ]);
  });

  test("with a clock that was never set loses those rows, with their lines and the reason", async () => {
    const sound = Array.from({ length: 40 }, (_, index) => row(11 + index / 10));
    const unset = [`0,${codeA},1,-61.5,1`, `${17 * 1e6},${codeA},1,-61.5,1`];
    const outcome = await readFiles({ "log.csv": lines(header, ...sound, ...unset) });
    expect(counts(outcome)).toEqual(["42 = 40 + 0 + 0 + 2"]);
    expect(outcome.problems.map(({ line, found }) => `${line} ${found.split(":")[0]}`)).toEqual([
      "42 a time outside 1990 to 2100",
      "43 a time outside 1990 to 2100",
      "null 2 of 42 lines cannot be used",
    ]);
  });
});
