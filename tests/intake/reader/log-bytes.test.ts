import { gzipSync } from "node:zlib";
import { describe, expect, test } from "vitest";
import { codeA, counts, header, readFiles, row, spec, told } from "./log-folder.ts";

const text = `${[header, ...Array.from({ length: 500 }, (_, i) => row(10 + i / 100, codeA, "1", String(-50 - (i % 20))))].join("\n")}\n`;
const zipped = gzipSync(text);

describe("a file whose bytes speak against its name", () => {
  test.each([
    ["text called .gz", "log.csv.gz", text, "reader-log-kind"],
    ["text called .parquet", "log.parquet", text, "reader-log-kind"],
    ["a gzip file called .csv", "log.csv", zipped, "reader-log-kind"],
    [
      "a gzip file that is cut short",
      "log.csv.gz",
      zipped.subarray(0, zipped.length / 2),
      "reader-log-cut-short",
    ],
    ["a gzip file without its last bytes", "log.csv.gz", zipped.subarray(0, -4), "reader-log-cut-short"],
    ["a parquet file that is cut short", "log.parquet", "PAR1 and no more", "reader-log-cut-short"],
  ])("is refused whole, and no part of it is taken: %s", async (_, name, bytes, code) => {
    const outcome = await readFiles({ [name]: bytes }, [spec({ files: [name] })]);
    expect(told(outcome)).toEqual([`error ${code}`]);
    expect(outcome.logs.heard).toHaveLength(0);
    for (const { found } of outcome.problems) expect(found).not.toMatch(/Error|magic|zlib/i);
  });

  test("is not every compressed one: a whole gzip file is read whole", async () => {
    const outcome = await readFiles({ "log.csv.gz": zipped }, [spec({ files: ["log.csv.gz"] })]);
    expect(told(outcome)).toEqual([]);
    expect(counts(outcome)).toEqual(["500 = 500 + 0 + 0 + 0"]);
  });
});

test("a file of no bytes is named, beside one that holds reads", async () => {
  const files = ["empty.csv", "log.csv"];
  const outcome = await readFiles({ "empty.csv": "", "log.csv": text }, [spec({ files })]);
  expect(told(outcome)).toEqual(["warning reader-log-empty"]);
  expect(outcome.problems[0]!.file).toContain("empty.csv");
});

test("codes that a spreadsheet spoilt are met with one advice", async () => {
  const spoilt = `${[header, ...Array.from({ length: 30 }, (_, i) => row(11 + i / 10, "3.03408E+23"))].join("\n")}\n`;
  const { problems } = await readFiles({ "log.csv": spoilt });
  expect(problems.length).toBeGreaterThan(1);
  expect(new Set(problems.map(({ advice }) => advice)).size).toBe(1);
  expect(problems[0]!.advice).toMatch(/as text/);
});
